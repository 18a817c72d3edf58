import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { ADMIN, PASSWORD, REVIEWER } from './site.ts';
import { barriers, desk, errorsOf, launch, phone, shot, signIn } from './support.ts';

const EDITION = 'Demonstration limits of the test quarry';

/** A lead's own edition of a table: drafted, looked through, previewed, approved by a second person, put in force. */
export function tablesJob(): void {
  let browser: Browser;
  let lead: Page;
  let second: Page;
  let folder = '';
  let errors: readonly string[][] = [];
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'rimbook-tables-'));
    browser = await launch();
    lead = await (await desk(browser)).newPage();
    second = await (await phone(browser)).newPage();
    errors = [errorsOf(lead), errorsOf(second)];
    await signIn(lead, ADMIN, PASSWORD);
    await signIn(second, REVIEWER, PASSWORD);
  });
  afterAll(async () => {
    await browser.close();
    rmSync(folder, { recursive: true });
  });

  /** The open row of the editor. */
  const row = (name: string) =>
    lead
      .locator('section section')
      .filter({ has: lead.getByRole('button', { name: new RegExp(`^${name}`) }) });

  test('a file with errors brings nothing in and tells all of them, by line and column', async () => {
    await lead.goto('/tables');
    const path = join(folder, 'limits.csv');
    writeFileSync(
      path,
      'type,name,title,edition,issued by,effective from,decision rule,characteristic,unit,keep min,methods,source title,source kind\n' +
        'table,own,Own,1,Test quarry,2026-01-01,guarded,,,,,,\n' +
        'limit,depth,,,,,,gutter depth,mm,ten,gauge,Test,demonstration\n' +
        'limit,other,,,,,,gutter depth,mm,10,gauge,Test,guess\n',
    );
    await lead.locator('input[type=file]').setInputFiles(path);
    await lead.getByText('Nothing was brought in.').waitFor();
    await lead.getByText('limits.csv: line 3, keep min').waitFor();
    await lead.getByText('limits.csv: line 4, source kind').waitFor();
    await lead.getByText('Drafts (0)').waitFor();
  });

  test('a new edition is changed, with faults marked as they are typed and the drawing beside it', async () => {
    await lead.getByRole('button', { name: /^Demonstration limits for rims/ }).click();
    await lead.getByRole('button', { name: 'New edition from this' }).click();
    await lead.getByLabel('Edition', { exact: true }).waitFor();
    await lead.getByText('1 field still to be put right').waitFor();
    await lead.getByLabel('Title').first().fill(EDITION);
    await lead.getByLabel('Name').first().fill('test-quarry');
    await lead.getByRole('button', { name: /^gutter depth/ }).click();
    const keep = row('gutter depth').getByLabel('Keep: at least');
    await keep.fill('8');
    await lead.getByText('The keep bound lies beyond the repair bound').waitFor();
    await keep.fill('1 3/16 in');
    await lead.getByText('The cell is in in, the line in mm').waitFor();
    await keep.fill('30,5');
    await row('gutter depth')
      .getByRole('img', { name: /above 30.50 mm keep/ })
      .waitFor();
    await shot(lead, 'desk-table-editor');
    expect(await barriers(lead)).toEqual([]);
  });

  test('what was typed is there again after a reload, and enters the record as a whole', async () => {
    await lead.reload();
    await lead.getByLabel('Edition', { exact: true }).fill('1');
    await lead.getByText('rows can be read').waitFor();
    await lead.getByLabel('What was changed and why').fill('More depth is asked for');
    await lead.getByRole('button', { name: 'Enter the draft' }).click();
    await lead.getByText('draft, waiting for a second person').waitFor();
    await lead.getByText('All sent').waitFor();
    await lead.getByRole('button', { name: 'Preview of consequences' }).click();
    await lead.getByText('You wrote this draft').waitFor();
    expect(await lead.getByRole('button', { name: 'Approve this edition' }).count()).toBe(0);
  });

  test('the second person sees the consequences on a phone, then approves', async () => {
    await second.goto('/tables');
    await second.getByRole('button', { name: new RegExp(`^${EDITION}`) }).click();
    await second.getByText('More depth is asked for').waitFor();
    await shot(second, 'phone-table');
    expect(await barriers(second)).toEqual([]);
    await second.getByRole('button', { name: 'Preview of consequences' }).click();
    await second.getByText(/of 3 parts on 1 wheel would change/).waitFor();
    await shot(second, 'phone-consequences');
    expect(await barriers(second)).toEqual([]);
    await second.getByRole('button', { name: 'Approve this edition' }).click();
    await second.getByText('approved').first().waitFor();
    await second.getByText('All sent').waitFor();
  });

  test('once named among the limits in force, it decides', async () => {
    await lead.goto('/site');
    await lead.getByLabel(new RegExp(`^${EDITION}`)).check();
    await lead.getByText('Changed here, not in force yet.').waitFor();
    await lead.getByRole('button', { name: 'Put in force' }).click();
    await lead.getByText('This is in force.').waitFor();
    await lead.getByText('All sent').waitFor();
    await lead.goto('/tables');
    await lead.getByText('approved, in force').waitFor();
    await shot(lead, 'desk-tables');
    expect(await barriers(lead)).toEqual([]);
    expect(errors).toEqual([[], []]);
  });
}

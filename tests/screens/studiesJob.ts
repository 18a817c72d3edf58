import { readFileSync } from 'node:fs';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { ADMIN, INSPECTOR, PASSWORD, REVIEWER } from './site.ts';
import { barriers, desk, errorsOf, launch, phone, shot, signIn } from './support.ts';

const STUDY = 'Depth gauge 1 on two gutters';
/** What is read of each part, by person: first and second trial. */
const VALUES: Readonly<Record<string, Readonly<Record<string, readonly [string, string]>>>> = {
  inspector: { A: ['10.15', '10.20'], B: ['12.40', '12.45'] },
  reviewer: { A: ['10.25', '10.30'], B: ['12.55', '12.50'] },
};

/** A gauge study: opened by a lead, read blind by two people, one of them without a network, closed and looked at. */
export function studiesJob(): void {
  let browser: Browser;
  let hand: BrowserContext;
  let lead: Page;
  let inspector: Page;
  let reviewer: Page;
  let errors: readonly string[][] = [];
  beforeAll(async () => {
    browser = await launch();
    hand = await phone(browser);
    lead = await (await desk(browser)).newPage();
    inspector = await hand.newPage();
    reviewer = await (await phone(browser)).newPage();
    errors = [lead, inspector, reviewer].map(errorsOf);
    await signIn(lead, ADMIN, PASSWORD);
    await signIn(inspector, INSPECTOR, PASSWORD);
    await signIn(reviewer, REVIEWER, PASSWORD);
  });
  afterAll(async () => {
    await browser.close();
  });

  const open = async (page: Page) => {
    await page.goto('/studies');
    await page.getByRole('button', { name: new RegExp(`^${STUDY}`) }).click();
    await page.getByRole('heading', { name: STUDY }).waitFor();
  };
  /** Enters the reading that the screen asks for; which part in which trial that was. */
  const enterNext = async (page: Page, values: (typeof VALUES)[string], left: number): Promise<string> => {
    const asked = (await page.getByText(/^Take part/).textContent()) ?? '';
    const [, part = '', trial = '1'] = /Take part (\w)trial (\d)/.exec(asked) ?? [];
    await page.getByLabel(`Gutter depth of part ${part}`).fill(values[part]?.[Number(trial) - 1] ?? '');
    await page.getByRole('button', { name: 'Enter', exact: true }).click();
    await page
      .getByText(`${4 - left + 1} of 4`)
      .first()
      .waitFor();
    return `${part}${trial}`;
  };

  test('a lead lays it out: what, with what, on which parts, by whom', async () => {
    await lead.goto('/studies');
    await lead.getByText('No study yet.').waitFor();
    await lead.getByRole('button', { name: 'Open a new study' }).click();
    await lead.getByLabel('Name of the study').fill(STUDY);
    await lead.getByLabel('Instrument').selectOption({ label: 'Depth gauge 1' });
    await lead.getByLabel('Parts, by the labels written on them').fill('A, A');
    await lead.getByRole('checkbox', { name: 'Test inspector', exact: true }).check();
    await lead.getByRole('checkbox', { name: 'Test reviewer', exact: true }).check();
    await lead.getByRole('button', { name: '2', exact: true }).click();
    await lead.getByLabel('Width of the tolerance').fill('3 mm');
    await lead.getByRole('button', { name: 'Open the study' }).click();
    await lead.getByText('Every part needs a label of its own').waitFor();
    await shot(lead, 'desk-study-form');
    await lead.getByLabel('Parts, by the labels written on them').fill('A, B');
    await lead.getByRole('button', { name: 'Open the study' }).click();
    await lead.getByText('Nothing is computed while readings are missing: 8 readings of 8.').waitFor();
    await lead.getByText('All sent').waitFor();
    expect(await barriers(lead)).toEqual([]);
  });

  test('the inspector reads one part after the other without a network, and sees no value again', async () => {
    await open(inspector);
    await inspector.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await hand.setOffline(true);
    await inspector.reload();
    await inspector.getByText(/^Take part/).waitFor();
    await shot(inspector, 'phone-study-entry');
    const turns: string[] = [];
    for (let left = 4; left > 0; left -= 1) {
      turns.push(await enterNext(inspector, VALUES.inspector ?? {}, left));
      for (const typed of Object.values(VALUES.inspector ?? {}).flat())
        expect(await inspector.getByText(typed).count()).toBe(0);
    }
    expect(turns.slice(0, 2).sort()).toEqual(['A1', 'B1']);
    expect(turns.slice(2).sort()).toEqual(['A2', 'B2']);
    await inspector.getByText('You have read everything.').waitFor();
    expect(await barriers(inspector)).toEqual([]);
    await inspector.goto('/outbox');
    await hand.setOffline(false);
    await inspector.getByRole('button', { name: 'Send now' }).click();
    await inspector.getByText('All sent').waitFor();
  });

  test('a reading that went wrong is taken back with a reason and entered again', async () => {
    await open(reviewer);
    await reviewer.getByLabel(/^Gutter depth of part/).fill('99');
    await reviewer.getByRole('button', { name: 'Enter', exact: true }).click();
    await reviewer.getByText('Is 99.0 mm right?').waitFor();
    await reviewer.getByRole('button', { name: 'It is right' }).click();
    await reviewer.getByText('Entered so far (1)').click();
    await reviewer.getByRole('button', { name: /^Withdraw the reading of part/ }).click();
    await reviewer.getByLabel(/^Why the reading/).fill('slip of the finger');
    await reviewer.getByRole('button', { name: 'Withdraw it' }).click();
    await reviewer.getByText('0 of 4').first().waitFor();
    for (let left = 4; left > 0; left -= 1) await enterNext(reviewer, VALUES.reviewer ?? {}, left);
    await reviewer.getByText('All sent').waitFor();
  });

  test('the lead sees figures once it is complete, those who measured once it is closed', async () => {
    await open(lead);
    await lead.getByText('Share of the study’s variation that comes from measuring').waitFor();
    expect(await reviewer.getByText('Share of the study’s variation').count()).toBe(0);
    await lead.getByRole('button', { name: 'Close it …' }).click();
    await lead.getByRole('button', { name: 'Close the study' }).click();
    await lead.getByText('Closed: All readings are taken').waitFor();
    await lead.getByText('All sent').waitFor();
    await lead.locator('figure svg').first().waitFor();
    const saving = lead.waitForEvent('download');
    const readings = lead.locator('figure').filter({ hasText: 'Readings by part and person' });
    await readings.getByRole('button', { name: 'Save as CSV' }).click();
    const text = readFileSync(await (await saving).path(), 'utf8');
    expect(text.split('\r\n')).toHaveLength(9);
    expect(text).toContain('A,Test inspector,1,10.15');
    await shot(lead, 'desk-study-result');
    expect(await barriers(lead)).toEqual([]);
    await open(reviewer);
    await reviewer.getByText('Share of the study’s variation that comes from measuring').waitFor();
    await reviewer.locator('figure svg').first().waitFor();
    await shot(reviewer, 'phone-study-result');
    expect(await barriers(reviewer)).toEqual([]);
  });

  test('the page on agreement says what it has and what not', async () => {
    await lead.goto('/agreement');
    await lead.getByText('No suggestions are on record').waitFor();
    await shot(lead, 'desk-agreement');
    expect(await barriers(lead)).toEqual([]);
    expect(errors.flat()).toEqual([]);
  });
}

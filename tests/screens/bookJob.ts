import { readFile } from 'node:fs/promises';
import type { Browser, Download, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { ADMIN, PASSWORD } from './site.ts';
import { barriers, desk, errorsOf, launch, phone, shot, signIn } from './support.ts';

const card = (page: Page, title: string | RegExp) =>
  page.locator('section').filter({ has: page.getByRole('heading', { name: title, exact: true }) });

async function saved(page: Page, words: string | RegExp): Promise<{ name: string; bytes: Buffer }> {
  const coming: Promise<Download> = page.waitForEvent('download', { timeout: 120_000 });
  await page.getByRole('button', { name: words }).click();
  const download = await coming;
  return { name: download.suggestedFilename(), bytes: await readFile(await download.path()) };
}

/** The lead looks after the parts, goes back in the wheel's book and takes reports out. */
export function bookJob(): void {
  let browser: Browser;
  let page: Page;
  let errors: string[];

  beforeAll(async () => {
    browser = await launch();
    page = await (await desk(browser)).newPage();
    errors = errorsOf(page);
    await signIn(page, ADMIN, PASSWORD);
  });
  afterAll(async () => {
    await browser.close();
  });

  test('a repair is recorded with its caution and closes nothing', async () => {
    await page.goto('/parts');
    await page
      .getByRole('button', { name: /rim base/ })
      .first()
      .click();
    const repairs = card(page, 'Repairs');
    await repairs.getByText('No repair of this part is on record.').waitFor();
    await repairs.getByRole('button', { name: 'Record a repair' }).click();
    await repairs.getByText('closes no finding').waitFor();
    await repairs.getByLabel('What was done').fill('groove machined');
    await repairs.getByLabel('Facility, or person with grade').fill('an invented shop');
    await repairs.getByRole('button', { name: 'Record the repair' }).click();
    await repairs.getByText('No zone is chosen').waitFor();
    await repairs.getByLabel('gutter groove').check();
    await repairs.getByRole('button', { name: 'Record the repair' }).click();
    await repairs.getByText('groove machined').waitFor();
    await card(page, 'Its pages').getByRole('link').first().waitFor();
    expect(await barriers(page)).toEqual([]);
    await shot(page, 'desk-part');
  });

  test('the slider goes through the life of the wheel, back to its first day', async () => {
    await page.goto('/wheel?tag=4K7-P3F');
    const slider = page.getByRole('slider', { name: 'Moment in the life of the wheel' });
    await slider.waitFor();
    await page.getByText('As the inspection of').waitFor();
    const last = Number(await slider.getAttribute('max'));
    const seen: string[] = [];
    for (let step = last; step > 0; step -= 1) {
      seen.push((await slider.getAttribute('aria-valuetext')) ?? '');
      await page.getByRole('button', { name: 'Earlier', exact: true }).click();
    }
    expect(await slider.inputValue()).toBe('0');
    expect(await slider.getAttribute('aria-valuetext')).toContain('Put on Loader 3');
    await page.getByText('No inspection had been begun then.').waitFor();
    for (const what of ['Inspection begun', 'Submitted', 'Repaired: rim base: groove machined'])
      expect(
        seen.some((one) => one.includes(what)),
        what,
      ).toBe(true);
    await slider.press('End');
    await page.getByText('As the inspection of').waitFor();
    expect(await barriers(page)).toEqual([]);
    await shot(page, 'desk-book');
  });

  test('photos stand by zone and open on their page', async () => {
    const photos = card(page, /^Photos by zone/);
    await photos.getByRole('listitem').first().scrollIntoViewIfNeeded();
    await photos.getByRole('img').first().waitFor();
    await photos.getByRole('listitem').first().getByRole('button').click();
    await page.locator('[data-photo-canvas]').waitFor();
  });

  test('an inspection and the whole book come out as PDF', async () => {
    await page.goto('/wheel?tag=4K7-P3F');
    await card(page, /^Inspections/)
      .getByRole('button')
      .last()
      .click();
    await page.getByRole('link', { name: 'Report and tags (PDF)' }).click();
    await page.getByText('Save the report').waitFor();
    expect(await barriers(page)).toEqual([]);
    const [report, book] = [await saved(page, /Save the report/), await saved(page, /Save the book/)];
    for (const { name, bytes } of [report, book]) {
      expect(name).toMatch(/\.pdf$/);
      expect(bytes.subarray(0, 5).toString()).toBe('%PDF-');
      // Photos and fonts are in it; words alone would be a tenth of this.
      expect(bytes.length, name).toBeGreaterThan(100_000);
    }
  });

  test('wear and where it happens say so where there is little to say', async () => {
    for (const path of ['/wear', '/where']) {
      await page.goto(path);
      await page.getByRole('heading', { level: 2 }).first().waitFor();
      expect(await barriers(page), path).toEqual([]);
    }
    expect(errors).toEqual([]);
  });

  test('on a phone the book fits the width', async () => {
    const small = await (await phone(browser)).newPage();
    await signIn(small, ADMIN, PASSWORD);
    for (const path of ['/wheel?tag=4K7-P3F', '/parts', '/wear', '/where']) {
      await small.goto(path);
      await small.getByRole('heading', { level: 2 }).first().waitFor();
      expect(await small.evaluate(() => document.documentElement.scrollWidth), path).toBe(390);
    }
    await shot(small, 'phone-where');
  });
}

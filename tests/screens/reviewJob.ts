import type { Browser, BrowserContext, Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { queueByKeys } from './queueJob.ts';
import { PASSWORD, REVIEWER, REVIEWER_2, type TestSite } from './site.ts';
import { barriers, cardPhoto, desk, errorsOf, shot, signIn } from './support.ts';

/** What the reviews begin with: an inspection that was submitted, and the phone it was taken with. */
export interface Submitted {
  readonly browser: Browser;
  readonly inspector: Page;
  readonly atWheel: BrowserContext;
  readonly site: TestSite;
  readonly errors: readonly string[];
}

/** What only the inspector's figures hold: a reading as typed, the words of a kind of mark, of a verdict and of a call. */
const FIGURES = ['11,9', '"trace"', '"verdict"', '"call made"', '"scrap"'];
/** What only the first reviewer's figures hold. */
const SECOND = '11.37';

/** Everything a page was sent, as text; pictures left out. */
function wireOf(page: Page): { text(): Promise<string> } {
  const bodies: Promise<string>[] = [];
  page.on('response', (response) => {
    const type = response.headers()['content-type'] ?? '';
    if (type.includes('json')) bodies.push(response.text().catch(() => ''));
  });
  return { text: async () => (await Promise.all(bodies)).join('\n') };
}

const found = (text: string | null, words: readonly string[]) =>
  words.filter((word) => (text ?? '').includes(word));
const allSent = (page: Page) => page.getByText('All sent').waitFor();
const conclusion = (page: Page) => page.getByRole('heading', { name: 'Your conclusion' });

/** Shows the readings of the first part that only one of the two has. */
const unfold = (page: Page) =>
  page.locator('summary').filter({ hasText: 'that only one of them has' }).first().click();

async function openFromQueue(page: Page): Promise<void> {
  await page.goto('/queue');
  await page.getByText('4K7-P3F').first().click();
  await page.getByRole('heading', { name: /^Your measurement of/ }).waitFor();
}

/** Calls the three parts with the keys: 1 keep, 2 repair, 3 scrap, 4 hold. */
async function callWithKeys(page: Page, keys: readonly string[]): Promise<void> {
  for (const [i, key] of keys.entries()) {
    if (i > 0) await page.keyboard.press('n');
    const part = page.locator('nav[aria-label="Parts"] [aria-current="step"]');
    await page.keyboard.press(key);
    await part.getByText('your call').waitFor();
  }
}

async function sign(page: Page, words: string): Promise<void> {
  await page.getByLabel('Your password, to sign').last().fill(PASSWORD);
  await page.getByRole('button', { name: words }).click();
}

/** The reviews of the inspection that the main job submitted. */
export function reviewJob(given: () => Submitted): void {
  let reviewer: Page;
  let other: Page;
  let atOther: BrowserContext;
  let errors: readonly string[][] = [];
  let wire: ReturnType<typeof wireOf>;
  let otherWire: ReturnType<typeof wireOf>;

  test('before measuring nothing that the inspector measured is on the wire or on the page', async () => {
    const { browser } = given();
    reviewer = await (await desk(browser)).newPage();
    errors = [errorsOf(reviewer)];
    wire = wireOf(reviewer);
    await signIn(reviewer, REVIEWER, PASSWORD);
    await shot(reviewer, 'desk-start');
    await reviewer.getByRole('link', { name: 'Inspections waiting for review' }).click();
    await reviewer.getByText('4K7-P3F').waitFor();
    await shot(reviewer, 'desk-queue');
    expect(await barriers(reviewer)).toEqual([]);
    await reviewer.goto(`/wheel?id=${given().site.wheel}`);
    await reviewer.getByText('kept from you until you have measured').first().waitFor();
    await openFromQueue(reviewer);
    await expect
      .poll(
        () =>
          reviewer
            .locator('img')
            .first()
            .evaluate((img: HTMLImageElement) => img.naturalWidth),
        { timeout: 10_000 },
      )
      .toBeGreaterThan(0);
    await shot(reviewer, 'desk-measure');
    expect(await barriers(reviewer)).toEqual([]);
    expect(found(await wire.text(), FIGURES)).toEqual([]);
    expect(found(await reviewer.locator('main').textContent(), ['11,9', '11.9'])).toEqual([]);
    // The places are there all the same: what was read, where, with what.
    expect(await wire.text()).toContain('gutter depth');
  });

  test('the reviewer measures with the keyboard alone and hands in', async () => {
    await reviewer.keyboard.press('r');
    await reviewer.keyboard.type(SECOND);
    await reviewer.keyboard.press('Enter');
    await reviewer.getByText('entered', { exact: true }).waitFor();
    await reviewer.keyboard.press('Escape');
    await callWithKeys(reviewer, ['2', '4', '4']);
    expect(found(await wire.text(), FIGURES.slice(0, 3))).toEqual([]);
    await reviewer.keyboard.press('h');
    await reviewer.keyboard.press('Enter');
    await conclusion(reviewer).waitFor();
    await unfold(reviewer);
    await reviewer.getByRole('cell', { name: '11.90', exact: true }).waitFor();
    await reviewer.getByRole('cell', { name: SECOND, exact: true }).waitFor();
    await reviewer.getByText('they disagree').first().waitFor();
    await reviewer.getByText('blind: handed in before').waitFor();
    await shot(reviewer, 'desk-compare');
    expect(await barriers(reviewer)).toEqual([]);
    expect(found(await wire.text(), FIGURES)).toEqual(FIGURES);
  });

  test('a second reviewer sees neither measurement, loses the network in the middle and loses nothing', async () => {
    atOther = await desk(given().browser);
    other = await atOther.newPage();
    errors = [...errors, errorsOf(other)];
    otherWire = wireOf(other);
    await signIn(other, REVIEWER_2, PASSWORD);
    await openFromQueue(other);
    expect(found(await otherWire.text(), [...FIGURES, SECOND])).toEqual([]);
    await allSent(other);
    await other.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await atOther.setOffline(true);
    await other.keyboard.press('r');
    await other.keyboard.type('11.85');
    await other.keyboard.press('Enter');
    await other.getByText('entered', { exact: true }).waitFor();
    await other.keyboard.press('Escape');
    await callWithKeys(other, ['3', '4', '4']);
    await other.getByRole('button', { name: 'Hand in my measurement' }).click();
    await other.getByRole('heading', { name: 'Handed in' }).waitFor();
    await shot(other, 'desk-handed-in-offline');
    expect(found(await other.locator('main').textContent(), ['11.90', SECOND])).toEqual([]);
    await other.reload();
    await other.getByRole('heading', { name: 'Handed in' }).waitFor();
    await atOther.setOffline(false);
    await other.getByRole('button', { name: 'Look again' }).click();
    await conclusion(other).waitFor();
    await other.getByRole('cell', { name: '11.85', exact: true }).waitFor();
    await unfold(other);
    await other.getByRole('cell', { name: '11.90', exact: true }).waitFor();
  });

  test('a milder call is refused, a wrong password signs nothing, and what was written stays', async () => {
    await reviewer.getByRole('button', { name: 'Agree', exact: true }).click();
    await sign(reviewer, 'Sign the review');
    await reviewer.getByRole('alert').getByText('only be as severe').waitFor();
    await reviewer.getByRole('button', { name: 'Send back', exact: true }).click();
    await reviewer
      .getByRole('textbox', { name: 'Reason', exact: true })
      .fill('Photograph the ring ends too.');
    await reviewer.getByLabel('Your password, to sign').fill('not my password');
    await reviewer.getByRole('button', { name: 'Sign the review' }).click();
    await reviewer.getByRole('alert').getByText('not your password').waitFor();
    await reviewer.reload();
    await conclusion(reviewer).waitFor();
    expect(await reviewer.getByRole('textbox', { name: 'Reason', exact: true }).inputValue()).toBe(
      'Photograph the ring ends too.',
    );
  });

  test('a question reaches the phone, is answered without a signal, and comes back', async () => {
    const { inspector, atWheel } = given();
    await reviewer.getByRole('button', { name: 'Ask about the rim base' }).click();
    await reviewer.getByLabel('Your question').fill('Was the groove brushed before the photo?');
    await reviewer.getByRole('button', { name: 'Ask', exact: true }).first().click();
    await reviewer.getByText('not answered yet').waitFor();
    await allSent(reviewer);
    await inspector.goto('/');
    await inspector.getByText('a question to you').click();
    await inspector.getByText('Was the groove brushed').waitFor();
    await shot(inspector, 'phone-question');
    expect(await barriers(inspector)).toEqual([]);
    await atWheel.setOffline(true);
    await inspector.getByLabel('Your answer').fill('Brushed and wiped, yes.');
    await inspector.getByRole('button', { name: 'Answer' }).click();
    await inspector.getByText('Was the groove brushed').waitFor({ state: 'detached' });
    await atWheel.setOffline(false);
    await allSent(inspector);
    await reviewer.reload();
    await reviewer.getByText('Brushed and wiped, yes.').waitFor();
  });

  test('sends it back, and the inspector submits again', async () => {
    const { inspector, site } = given();
    await reviewer.getByRole('button', { name: 'Send back', exact: true }).click();
    await sign(reviewer, 'Sign the review');
    await reviewer.getByRole('heading', { name: 'Review: sent back' }).waitFor();
    await allSent(reviewer);
    await inspector.goto('/');
    await inspector.getByText('4K7-P3F').first().waitFor();
    await inspector.goto(`/wheel?id=${site.wheel}`);
    await inspector.getByRole('button', { name: 'Go on with it' }).click();
    await inspector.getByText('Photograph the ring ends too.').waitFor();
    await inspector.getByRole('button', { name: 'lock ring' }).first().click();
    await inspector
      .getByRole('button', { name: /ring ends/ })
      .first()
      .click();
    await inspector
      .getByLabel('Choose files')
      .setInputFiles({ name: 'groove.jpg', mimeType: 'image/jpeg', buffer: await cardPhoto(1200, 900) });
    await inspector.getByRole('img', { name: 'groove.jpg' }).waitFor();
    await inspector.getByRole('button', { name: 'All parts' }).click();
    await inspector.getByRole('button', { name: 'Verdict and submit' }).click();
    await inspector.getByRole('button', { name: 'Sign and submit' }).click();
    await inspector.getByText('The reviewer has it.').waitFor();
    await allSent(inspector);
  });

  test('the queue is gone through by keys alone', async () => {
    await queueByKeys(reviewer);
  });

  test('measures the new submission, overrules by a limit; the book and the record show both', async () => {
    const { inspector, site } = given();
    await openFromQueue(reviewer);
    await reviewer.getByText('not a blind one').waitFor();
    await callWithKeys(reviewer, ['3', '4', '3']);
    await reviewer.getByRole('button', { name: 'Hand in my measurement' }).click();
    await conclusion(reviewer).waitFor();
    await reviewer.getByLabel('Why the lock ring is scrap').fill('Sprung: the ends overlap too little.');
    await reviewer.getByRole('textbox', { name: 'Reason', exact: true }).fill('The ring has sprung.');
    await sign(reviewer, 'Sign the review');
    await reviewer.getByRole('alert').getByText('needs the limit').waitFor();
    await reviewer.getByLabel('Limit that makes the lock ring scrap').fill('maker’s sheet, overlap as new');
    await sign(reviewer, 'Sign the review');
    await reviewer.getByRole('heading', { name: 'Review: overruled' }).waitFor();
    await shot(reviewer, 'desk-concluded');
    await reviewer.getByRole('link', { name: 'Everything that was done' }).click();
    await reviewer.getByText('✓ Whole.').waitFor();
    await reviewer.getByText('submitted → asked').waitFor();
    await reviewer
      .getByRole('cell', { name: /Looked|Second measurement/ })
      .first()
      .waitFor();
    await shot(reviewer, 'desk-audit');
    expect(await barriers(reviewer)).toEqual([]);
    await reviewer.goto(`/wheel?id=${site.wheel}`);
    await reviewer.getByText('reviewed', { exact: true }).first().click();
    await reviewer.getByText('Review: overruled', { exact: true }).waitFor();
    await reviewer.getByText('The ring has sprung').first().waitFor();
    await shot(reviewer, 'desk-book-page');
    expect(await barriers(reviewer)).toEqual([]);
    await inspector.goto(`/wheel?id=${site.wheel}`);
    await inspector.getByText('reviewed', { exact: true }).waitFor();
    await shot(inspector, 'phone-book');
    // The other reviewer comes too late, and is told so instead of losing what they wrote.
    await other.reload();
    await other.getByRole('heading', { name: 'Review: overruled' }).waitFor();
    expect([...given().errors, ...errors.flat()]).toEqual([]);
  });
}

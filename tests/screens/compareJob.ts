import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { commonSpots } from '../../bench/support/correspond.ts';
import { pairs, type Truth, truths } from '../../bench/support/truth.ts';
import { must } from '../../lib/base/index.ts';
import { type Entry, kinds } from '../../lib/record/index.ts';
import { ADMIN, PASSWORD, writer } from './site.ts';
import { BASE_URL, barriers, call, desk, errorsOf, launch, phone, shot, signIn } from './support.ts';

const [EARLIER, LATER] = ['try-weld-1', 'try-weld-2'].map((name) =>
  must(
    truths(pairs).find((one) => one.name === name),
    name,
  ),
) as [Truth, Truth];

const DAY_MS = 86_400_000;

async function sent(context: BrowserContext, site: string, { file }: Truth) {
  const bytes = readFileSync(join(pairs, file));
  const photo = createHash('sha256').update(bytes).digest('hex');
  const answer = await context.request.fetch(`${BASE_URL}/api/v1/photos/${photo}?site=${site}`, {
    method: 'PATCH',
    headers: {
      Origin: BASE_URL,
      'Content-Type': 'application/octet-stream',
      'Upload-Offset': '0',
      'Upload-Length': String(bytes.length),
      'Upload-Name': file,
    },
    data: bytes,
  });
  if (!answer.ok()) throw new Error(await answer.text());
  return { photo, bytes: bytes.length };
}

/** An inspection with one photo of the gutter weld and its crack marked on it, as the truth has it. */
async function inspected(
  context: BrowserContext,
  truth: Truth,
  wheel: string,
  component: string,
  at: string,
): Promise<void> {
  const { site, write } = await writer(context);
  const { photo, bytes } = await sent(context, site, truth);
  const inspection = v7();
  const about = { component, zone: 'gutter weld', clock: 6 } as const;
  const size = { widthPx: truth.widthPx, heightPx: truth.heightPx };
  await write(kinds.inspectionOpened, inspection, { wheel, reason: 'look again at the weld' }, at);
  await write(kinds.photoAttached, inspection, { photo, name: truth.file, bytes, ...size, ...about }, at);
  const line = must(truth.defects[0]?.branches?.[0], 'crack').px.map(([x, y]): [number, number] => [x, y]);
  await write(
    kinds.markDrawn,
    inspection,
    {
      mark: v7(),
      photo,
      shape: { form: 'trace', branches: [line] },
      defect: 'crack',
      method: 'visual',
      note: '',
      ...about,
    },
    at,
  );
}

/** The lead puts this year’s photo of a weld on last year’s. */
export function compareJob(): void {
  let browser: Browser;
  let context: BrowserContext;
  let page: Page;
  let errors: string[];

  beforeAll(async () => {
    browser = await launch();
    context = await desk(browser);
    page = await context.newPage();
    errors = errorsOf(page);
    await signIn(page, ADMIN, PASSWORD);
    const { site } = await writer(context);
    const { json } = await call<{ entries: Entry[] }>(
      context,
      'GET',
      `/api/v1/entries?site=${site}&subjects=component,wheel`,
    );
    const wheel = must(
      json.entries.find(({ kind }) => kind === 'wheel described'),
      'wheel',
    ).subject.id;
    const rim = must(
      json.entries.find(
        ({ kind, body }) =>
          kind === 'component described' && (body as { componentKind: string }).componentKind === 'rim base',
      ),
      'rim base',
    ).subject.id;
    const now = Date.now();
    await inspected(context, EARLIER, wheel, rim, new Date(now - 400 * DAY_MS).toISOString());
    await inspected(context, LATER, wheel, rim, new Date(now).toISOString());
  });
  afterAll(async () => {
    await browser.close();
  });

  test('two photos of a weld are laid over each other without a card, with the error told', async () => {
    await page.goto('/wheel?tag=4K7-P3F');
    const link = page.getByRole('link', { name: /What changed/ });
    await link.waitFor();
    await link.click();
    await page.getByText(/Laid by \d+ places that both photos show/).waitFor({ timeout: 60_000 });
    await page.getByText(/Places that were left out are missed by \d/).waitFor();
    await page.getByText(/is found again in the later one/).waitFor();
    await page.getByRole('heading', { name: 'What grew' }).waitFor();
    const row = page.getByRole('row').filter({ hasText: 'crack' });
    expect(await row.count()).toBe(1);
    expect(await row.textContent()).toMatch(/^A crack/i);
    expect(await barriers(page)).toEqual([]);
    await shot(page, 'desk-compare');
  }, 90_000);

  test('swipe, blink, side by side and difference are there for hand and keys', async () => {
    const slider = page.getByRole('slider', { name: /Left .* right/ });
    const before = Number(await slider.inputValue());
    await slider.press('ArrowRight');
    expect(Number(await slider.inputValue())).toBe(before + 1);
    await page.keyboard.press('b');
    const shown = page.getByText(/^Shown: /);
    const first = await shown.textContent();
    await page.keyboard.press('b');
    await expect.poll(() => shown.textContent()).not.toBe(first);
    await page
      .getByRole('radio', { name: 'difference' })
      .or(page.getByRole('button', { name: 'difference' }))
      .click();
    await page.getByText('Grey is unchanged.').waitFor();
    await page
      .getByRole('radio', { name: 'side by side' })
      .or(page.getByRole('button', { name: 'side by side' }))
      .click();
    expect(await page.locator('figure canvas').count()).toBe(2);
    expect(await barriers(page)).toEqual([]);
  });

  test('points picked by hand lay them as well, refuse what cannot be, and are kept', async () => {
    await page.getByRole('button', { name: 'Pick points by hand' }).click();
    const canvases = [0, 1].map((n) => page.getByRole('application').nth(n));
    await must(canvases[0], 'canvas').waitFor();
    const spots = commonSpots(EARLIER, LATER);
    const inMiddle = ([x, y]: readonly [number, number]) => x > 100 && x < 1500 && y > 100 && y < 1100;
    const kept = spots.filter(({ from, to }) => inMiddle(from) && inMiddle(to));
    const far = (of: (spot: (typeof kept)[number]) => number) =>
      must([...kept].sort((a, b) => of(a) - of(b))[0], 'spot');
    const chosen = [
      far(({ from: [x, y] }) => x + y),
      far(({ from: [x, y] }) => x - y),
      far(({ from: [x, y] }) => y - x),
      far(({ from: [x, y] }) => -x - y),
      far(({ from: [x, y] }) => Math.hypot(x - 800, y - 600)),
    ];
    const pick = async (side: 0 | 1, [x, y]: readonly [number, number]) => {
      const canvas = must(canvases[side], 'canvas');
      const box = must(await canvas.boundingBox(), 'box');
      await canvas.click({ position: { x: (x / 1600) * box.width, y: (y / 1200) * box.height } });
    };
    // The same spot three times is no map.
    for (const side of [0, 1] as const) for (let n = 0; n < 3; n += 1) await pick(side, [400, 400]);
    await page.getByText('3 pairs picked.').waitFor();
    await page.getByRole('button', { name: 'Lay them over each other' }).click();
    await page.getByText('The three points lie on one line').waitFor();
    await page.getByRole('button', { name: 'Start over' }).click();
    for (const { from, to } of chosen) {
      await pick(0, from);
      await pick(1, to);
    }
    await page.getByText('5 pairs picked.').waitFor();
    await page.getByRole('button', { name: 'Lay them over each other' }).click();
    await page.getByText('Laid by 5 pairs of points picked by hand.').waitFor();
    await page.getByText(/left out are missed by \d{1,2}\.\d px/).waitFor();
    await page.getByText('It follows one plane').waitFor();
    await page.getByRole('button', { name: 'Keep it in the record of the part' }).click();
    await page.getByText(/^Kept by /).waitFor();
    await page.reload();
    await page.getByText(/^Kept by /).waitFor({ timeout: 60_000 });
    await page.getByText('Laid by 5 pairs of points picked by hand.').waitFor();
    expect(await barriers(page)).toEqual([]);
    expect(errors).toEqual([]);
  }, 90_000);

  test('on a phone the comparison fits the width', async () => {
    const url = page.url();
    const small = await (await phone(browser)).newPage();
    await signIn(small, ADMIN, PASSWORD);
    await small.goto(url);
    await small.getByText(/^Kept by /).waitFor({ timeout: 60_000 });
    expect(await small.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
    await shot(small, 'phone-compare');
  }, 90_000);
}

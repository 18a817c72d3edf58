import type { Page } from 'playwright-core';
import { must } from '../lib/base/index.ts';
import setup from '../tests/screens/server.ts';
import { BASE_URL, desk, launch, signIn } from '../tests/screens/support.ts';
import { loadDemo } from '../tools/demo/loading.ts';
import { demoPeople } from '../tools/demo/people.ts';

/**
 * A reviewer at a desk goes through the waiting inspection of a five-piece wheel with the keyboard: every photo is looked
 * at, every gauge on a photo is read, every part is called, then handed in, compared, agreed and signed. Counts what the
 * hand does and how long the program lets it wait, and adds what the head takes: the keystroke-level model of Card, Moran
 * and Newell (1980; from memory) and a look at every photo (own choice), so that the whole is an estimate, not a measurement.
 */
const KEY_S = 0.28;
const DECISION_S = 1.35;
/** A look at one photo, and a gauge read on one. */
const LOOK_S = 8;
const READ_S = 4;
const PARTS = 5;
/** Waiting for the program in the whole review, asked of it here: own choice. */
const WAIT_S_MAX = 20;

interface Counted {
  keys: number;
  acts: number;
  decisions: number;
  waitedMs: number;
}

/** One act of the hand: keys pressed one after the other, then a wait until the program is ready for the next. */
async function act(page: Page, counted: Counted, keys: readonly string[], ready: () => Promise<unknown>) {
  counted.acts += 1;
  counted.keys += keys.reduce(
    (sum, key) => sum + (key.length > 1 && !/^[A-Z][a-z]+$/.test(key) ? key.length : 1),
    0,
  );
  for (const key of keys) {
    if (/^[A-Z][a-z]+$/.test(key) || key.length === 1) await page.keyboard.press(key);
    else await page.keyboard.type(key);
  }
  const begun = performance.now();
  await ready();
  counted.waitedMs += performance.now() - begun;
}

/** The address of the waiting inspection with five parts to call, as this reviewer is told of it. */
async function fivePiece(page: Page): Promise<string> {
  return page.evaluate(async (wanted) => {
    const me = await (await fetch('/api/v1/me')).json();
    const site = me.sites[0].id;
    const { inspections } = await (await fetch(`/api/v1/queue?site=${site}&status=submitted`)).json();
    for (const { id } of inspections) {
      const { withheld } = await (
        await fetch(`/api/v1/subjects/inspection/${id}/entries?site=${site}`)
      ).json();
      const parts = withheld?.parts.filter((part: { component: string | null }) => part.component !== null);
      if (parts?.length === wanted) return `/review?id=${id}`;
    }
    throw new Error(`no waiting inspection with ${wanted} parts`);
  }, PARTS);
}

async function review(page: Page, password: string) {
  const counted: Counted = { keys: 0, acts: 0, decisions: 0, waitedMs: 0 };
  const address = await fivePiece(page);
  await page.goto('/queue');
  const row = page.locator(`a[href="${address}"]`);
  await row.waitFor();
  await row.focus();
  await act(page, counted, ['Enter'], () =>
    page.getByRole('heading', { name: /^Your measurement of/ }).waitFor(),
  );
  const picture = () => page.locator('[data-photo-canvas]').waitFor();
  let photos = 0;
  let gauges = 0;
  for (let n = 0; n < PARTS; n += 1) {
    const strip = page.getByRole('button', { pressed: false }).filter({ has: page.locator('img') });
    const count = 1 + (await strip.count());
    photos += count;
    for (let i = 1; i < count; i += 1) await act(page, counted, [']'], picture);
    const fields = page.locator('[data-again]');
    const shown = await page
      .locator('button:has(img)')
      .filter({ hasText: /gutter groove, \d/ })
      .count();
    if (shown > 0 && (await fields.count()) >= 4) {
      await act(page, counted, ['r'], picture);
      for (let i = 0; i < 4; i += 1) {
        await act(page, counted, ['11.50', 'Enter'], picture);
        gauges += 1;
      }
      await act(page, counted, ['Escape'], picture);
    }
    await act(page, counted, ['4'], () =>
      page.locator('nav[aria-label="Parts"] [aria-current="step"]').getByText('your call').waitFor(),
    );
    counted.decisions += 1;
    if (n < PARTS - 1) await act(page, counted, ['n'], picture);
  }
  await act(page, counted, ['h', 'Enter'], () =>
    page.getByRole('heading', { name: 'Your conclusion' }).waitFor(),
  );
  counted.decisions += 1;
  await page.getByText('they agree').or(page.getByText('they disagree')).first().waitFor();
  counted.decisions += PARTS;
  await page.getByRole('button', { name: 'Send back', exact: true }).focus();
  await act(page, counted, ['Enter'], () =>
    page.getByRole('textbox', { name: 'Reason', exact: true }).waitFor(),
  );
  await act(page, counted, ['Tab', 'Read the gutter again.'], async () => undefined);
  await act(page, counted, ['Escape', 's', password, 'Enter'], () =>
    page.getByRole('heading', { name: /^Review:/ }).waitFor(),
  );
  counted.decisions += 1;
  return { ...counted, photos, gauges };
}

const stop = await setup();
const browser = await launch();
try {
  await loadDemo(BASE_URL, new Date().toISOString().slice(0, 10));
  const reviewer = must(
    demoPeople.find(({ part }) => part === 'reviewer 1'),
    'reviewer 1',
  );
  const page = await (await desk(browser)).newPage();
  await signIn(page, reviewer.email, reviewer.password);
  await page.waitForTimeout(5000);
  const begun = performance.now();
  const { keys, acts, decisions, waitedMs, photos, gauges } = await review(page, reviewer.password);
  const scriptedS = (performance.now() - begun) / 1000;
  const waitedS = waitedMs / 1000;
  const estimateS = keys * KEY_S + decisions * DECISION_S + photos * LOOK_S + gauges * READ_S + waitedS;
  console.log(
    JSON.stringify({
      bench: 'review of a five-piece wheel',
      parts: PARTS,
      photos,
      gauges,
      acts,
      keys,
      waitedS: Number(waitedS.toFixed(1)),
      scriptedS: Number(scriptedS.toFixed(1)),
      estimateMin: Number((estimateS / 60).toFixed(1)),
      // What the program takes of the estimate: 0 would be a program that is never waited for.
      shareWaited: Number((waitedS / estimateS).toFixed(3)),
    }),
  );
  if (waitedS > WAIT_S_MAX) process.exitCode = 1;
} finally {
  await browser.close();
  await stop();
}

import { createHash } from 'node:crypto';
import type { Page } from 'playwright-core';
import sharp from 'sharp';
import { v7 } from 'uuid';
import { z } from 'zod';
import { type Entry, type Kind, kinds, makeEntry } from '../lib/record/index.ts';
import setup from '../tests/screens/server.ts';
import { ADMIN, PASSWORD } from '../tests/screens/site.ts';
import { BASE_URL, desk, launch, signIn } from '../tests/screens/support.ts';
import { Visitor } from '../tools/demo/api.ts';
import { newSite } from './support/inspection.ts';

/**
 * Opening the book of a wheel of ten years in Chromium: 100 inspections (not submitted), 400 photos, 6 000 readings,
 * served by the built application. From asking for the page until the slider stands over all moments: on a device that
 * never had the book, and on one that has it. Then the 400 small pictures by zone are scrolled through, and tasks of
 * the page longer than 50 ms are listed. The floor is an empty wheel's book in the same browser.
 */
const INSPECTIONS = 100;
const PHOTOS = 4;
const READINGS = 60;
const DAY_MS = 86_400_000;
const BATCH = 400;
const SCROLL_PX = 300;
/** Own choices: a wheel of ten years on a device that has it, ms; the longest task while pictures are scrolled, ms. */
const GOAL_KEPT_MS = 3000;
const GOAL_TASK_MS = 50;

const Results = z.object({ results: z.array(z.object({ status: z.string() })) });

/** A small picture that differs from all others. */
async function picture(n: number) {
  const background = { r: (n * 53) % 256, g: (n * 97) % 256, b: (n * 31) % 256 };
  const content = await sharp({ create: { width: 640, height: 480, channels: 3, background } })
    .composite([
      {
        input: Buffer.from(
          `<svg width="640" height="480"><text x="40" y="240" font-size="90">${n}</text></svg>`,
        ),
      },
    ])
    .jpeg()
    .toBuffer();
  return { sha256: createHash('sha256').update(content).digest('hex'), name: `${n}.jpg`, content };
}

async function fill(
  visitor: Visitor,
  {
    person: author,
    site,
    wheel,
    component,
  }: { person: string; site: string; wheel: string; component: string },
): Promise<void> {
  const entries: Entry[] = [];
  const begin = Date.now() - 3650 * DAY_MS;
  let at = begin;
  const add = <B extends z.ZodType>(kind: Kind<B>, subject: string, body: z.input<B>) => {
    at += 1000;
    const about = { id: v7({ msecs: at }), site, at: new Date(at).toISOString(), author, device: 'bench' };
    entries.push(makeEntry(kind, subject, body, about));
  };
  for (let nth = 0; nth < INSPECTIONS; nth += 1) {
    at = begin + nth * 36 * DAY_MS;
    const subject = v7({ msecs: at });
    add(kinds.inspectionOpened, subject, { wheel, reason: 'Yearly' });
    for (let n = 0; n < PHOTOS; n += 1) {
      const photo = await picture(nth * PHOTOS + n);
      await visitor.sendPhoto(site, photo);
      add(kinds.photoAttached, subject, {
        photo: photo.sha256,
        name: photo.name,
        bytes: photo.content.length,
        widthPx: 640,
        heightPx: 480,
        component,
        zone: n % 2 === 0 ? 'gutter groove' : 'gutter weld',
        clock: 3 * n || 12,
      });
    }
    for (let n = 0; n < READINGS; n += 1) {
      add(kinds.readingEntered, subject, {
        reading: v7({ msecs: at }),
        component,
        characteristic: 'gutter depth',
        zone: 'gutter groove',
        clock: (n % 12) + 1,
        state: null,
        typed: '11.5',
        defaultUnit: 'mm',
        valueMm: 11.5,
        instrument: null,
        repeat: Math.floor(n / 12) + 1,
        confirmed: false,
        overlap: false,
      });
    }
  }
  for (let i = 0; i < entries.length; i += BATCH) {
    const { results } = await visitor.write(
      'POST',
      '/api/v1/entries',
      { entries: entries.slice(i, i + BATCH) },
      Results,
    );
    const bad = results.find(({ status }) => status !== 'stored');
    if (bad !== undefined) throw new Error(JSON.stringify(bad));
  }
}

/** Time until the slider has all moments, ms. */
async function open(page: Page, wheel: string, moments: number): Promise<number> {
  const began = performance.now();
  await page.goto(`/wheel?id=${wheel}`);
  await page.waitForFunction(
    (least) => Number(document.querySelector<HTMLInputElement>('input[type=range]')?.max ?? -1) >= least,
    moments,
    { timeout: 120_000 },
  );
  return performance.now() - began;
}

/** Longest tasks of the page while all photos are scrolled past, ms, and how many pictures were shown. */
async function scrollThrough(page: Page): Promise<{ tasks: number[]; shown: number }> {
  await page.waitForTimeout(3000);
  return page.evaluate(async (step) => {
    const tasks: number[] = [];
    new PerformanceObserver((list) => {
      for (const { duration } of list.getEntries()) tasks.push(Math.round(duration));
    }).observe({ type: 'longtask' });
    const frame = () => new Promise((done) => requestAnimationFrame(done));
    for (const row of document.querySelectorAll('ol')) {
      row.scrollIntoView();
      for (let x = 0; x < row.scrollWidth; x += step) {
        row.scrollLeft = x;
        await frame();
        await frame();
      }
    }
    await new Promise((done) => setTimeout(done, 500));
    return { tasks, shown: document.querySelectorAll('ol img').length };
  }, SCROLL_PX);
}

const stop = await setup();
const browser = await launch();
try {
  const { page, person, site, wheel, component } = await newSite(browser);
  page.setDefaultTimeout(60_000);
  const visitor = new Visitor(BASE_URL);
  await visitor.signIn(ADMIN, PASSWORD);
  const empty = await open(page, wheel, 1);
  const filling = performance.now();
  await fill(visitor, { person, site, wheel, component });
  const fillS = (performance.now() - filling) / 1000;
  const fresh = await (await desk(browser)).newPage();
  fresh.setDefaultTimeout(60_000);
  await signIn(fresh, ADMIN, PASSWORD);
  const first = await open(fresh, wheel, INSPECTIONS);
  await fresh.waitForTimeout(5000);
  const kept = await open(fresh, wheel, INSPECTIONS);
  const { tasks, shown } = await scrollThrough(fresh);
  const longest = Math.max(0, ...tasks);
  console.log(
    JSON.stringify({
      bench: 'book of ten years',
      inspections: INSPECTIONS,
      photos: INSPECTIONS * PHOTOS,
      readings: INSPECTIONS * READINGS,
      fillS: Math.round(fillS),
      emptyMs: Math.round(empty),
      firstMs: Math.round(first),
      keptMs: Math.round(kept),
      keptToEmpty: Number((kept / empty).toFixed(2)),
      picturesShown: shown,
      longTasks: tasks.length,
      longestTaskMs: longest,
    }),
  );
  if (kept > GOAL_KEPT_MS || longest > GOAL_TASK_MS) process.exitCode = 1;
} finally {
  await browser.close();
  await stop();
}

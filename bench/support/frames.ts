import type { Page } from 'playwright-core';

/** Times between frames while the photo moved, ms. */
export interface FrameTimes {
  readonly medianMs: number;
  /** The time that only one frame in a hundred exceeds. */
  readonly worstOnePercentMs: number;
  readonly frames: number;
}

const CANVAS = '[data-photo-canvas="open"]';
const PAN_STEPS = 60;
const ZOOM_STEPS = 40;
const STEP_MS = 16;

/** Starts to note the time of each frame in the page; the returned text of numbers is read by `stopFrames`. */
async function startFrames(page: Page): Promise<void> {
  await page.evaluate(() => {
    const times: number[] = [];
    const note = (time: number): void => {
      times.push(time);
      if (document.documentElement.dataset.frameTimes !== 'stop') requestAnimationFrame(note);
      else document.documentElement.dataset.frameTimes = JSON.stringify(times);
    };
    delete document.documentElement.dataset.frameTimes;
    requestAnimationFrame(note);
  });
}

async function stopFrames(page: Page): Promise<number[]> {
  await page.evaluate(() => {
    document.documentElement.dataset.frameTimes = 'stop';
  });
  await page.waitForFunction(() => document.documentElement.dataset.frameTimes?.startsWith('[') === true);
  const text = await page.evaluate(() => document.documentElement.dataset.frameTimes ?? '[]');
  const times: unknown = JSON.parse(text);
  if (!Array.isArray(times)) throw new Error(`Broken invariant: frame times are not a list: ${text}`);
  return times.map(Number);
}

/** Median and 99th percentile of the differences of rising times, ms. Throws on fewer than 20 frames: no basis. */
export function frameTimesOf(timesMs: readonly number[]): FrameTimes {
  const deltas = timesMs
    .slice(1)
    .map((time, index) => time - (timesMs[index] ?? time))
    .sort((a, b) => a - b);
  if (deltas.length < 20) throw new Error(`Broken invariant: ${deltas.length} frames are too few to judge`);
  const at = (share: number): number =>
    deltas[Math.min(deltas.length - 1, Math.floor(share * deltas.length))] ?? 0;
  return { medianMs: at(0.5), worstOnePercentMs: at(0.99), frames: deltas.length };
}

/**
 * Pans and zooms the photo canvas of a page by script (wheel in, drag with the middle button round, wheel out)
 * and measures the times between frames meanwhile. The page must show an opened photo in a PhotoCanvas.
 */
export async function measureFrames(page: Page): Promise<FrameTimes> {
  const canvas = page.locator(CANVAS);
  await canvas.waitFor();
  const box = await canvas.boundingBox();
  if (!box) throw new Error('Broken invariant: the photo canvas has no box');
  const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  await page.mouse.move(middle.x, middle.y);
  await startFrames(page);
  const wheel = async (deltaY: number): Promise<void> => {
    for (let i = 0; i < ZOOM_STEPS; i += 1) {
      await page.mouse.wheel(0, deltaY);
      await page.waitForTimeout(STEP_MS);
    }
  };
  await wheel(-40);
  await page.mouse.down({ button: 'middle' });
  for (let i = 0; i < PAN_STEPS; i += 1) {
    const turn = (i / PAN_STEPS) * 2 * Math.PI;
    const reach = Math.min(box.width, box.height) * 0.3;
    await page.mouse.move(middle.x + Math.sin(turn) * reach, middle.y + (1 - Math.cos(turn)) * reach * 0.5);
    await page.waitForTimeout(STEP_MS);
  }
  await page.mouse.up({ button: 'middle' });
  await wheel(40);
  return frameTimesOf(await stopFrames(page));
}

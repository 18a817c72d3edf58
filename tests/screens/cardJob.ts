import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type CardShot, cardPicture } from '../../bench/support/cardPictures.ts';
import { Chance } from '../../bench/support/truth.ts';
import { must } from '../../lib/base/index.ts';
import { cardLayout } from '../../lib/photo/index.ts';
import { INSPECTOR, PASSWORD } from './site.ts';
import { barriers, desk, errorsOf, launch, phone, shot, signIn } from './support.ts';

/** Lean, share of the width, turn: cards seen from six directions by one camera of known focal length. */
const SHOTS = [
  [0, 0.7, 0],
  [32, 0.65, 0],
  [-32, 0.65, 8],
  [30, 0.6, 90],
  [-30, 0.6, 92],
  [38, 0.6, 40],
] as const;
const [WIDTH_PX, HEIGHT_PX] = [2000, 1500];
/** Focal length of the camera of `cardPicture`, in terms of 35 mm film. */
const FOCAL_35_MM = (1.05 * WIDTH_PX * Math.hypot(36, 24)) / Math.hypot(WIDTH_PX, HEIGHT_PX);

/** How some photos are stored: turned clockwise by so many degrees, with the EXIF orientation that turns them back. */
const STORED: Readonly<Record<number, readonly [number, number]>> = { 1: [270, 6], 2: [90, 8], 3: [180, 3] };

/** Writes photos of the rim card, some stored on their side, and one of bare metal; their paths. */
async function writePhotos(folder: string): Promise<string[]> {
  const paths: string[] = [];
  for (const [i, [obliquityDegrees, widthShare, turnDegrees]] of SHOTS.entries()) {
    const how: CardShot = {
      obliquityDegrees,
      widthShare,
      turnDegrees,
      blurPx: 0.8,
      light: 'even',
      dirt: false,
      covered: 0,
    };
    const { picture } = cardPicture(cardLayout('rim card'), how, new Chance(7 + i), WIDTH_PX, HEIGHT_PX);
    const path = join(folder, `card-${i + 1}.jpg`);
    const raw = { width: WIDTH_PX, height: HEIGHT_PX, channels: 1 } as const;
    const [turn, orientation] = STORED[i] ?? [0, 1];
    const stored = sharp(picture.values, { raw }).rotate(turn).withMetadata({ orientation });
    writeFileSync(path, await stored.jpeg({ quality: 95 }).toBuffer());
    paths.push(path);
  }
  const bare = join(folder, 'bare-metal.jpg');
  const metal = sharp({ create: { width: 800, height: 600, channels: 3, background: '#6b5a4c' } });
  writeFileSync(bare, await metal.jpeg().toBuffer());
  return [...paths, bare];
}

/** The scale card printed and checked, and the camera of the device fitted from photos of it. */
export function cardJob(): void {
  let browser: Browser;
  let hand: BrowserContext;
  let page: Page;
  let folder = '';
  let photos: string[] = [];
  let errors: readonly string[] = [];
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'rimbook-cards-'));
    photos = await writePhotos(folder);
    browser = await launch();
    hand = await phone(browser);
    page = await hand.newPage();
    errors = errorsOf(page);
    await signIn(page, INSPECTOR, PASSWORD);
  });
  afterAll(async () => {
    await browser.close();
    rmSync(folder, { recursive: true });
  });
  const section = (title: string) =>
    page.locator('section').filter({ has: page.getByRole('heading', { name: title, exact: true }) });

  test('the menu leads to the cards, and the page is saved as a PDF of the paper chosen', async () => {
    await page.getByRole('button', { name: 'Menu' }).click();
    await page.getByRole('link', { name: 'Scale card' }).click();
    await page.getByRole('heading', { name: 'Print it' }).waitFor();
    await shot(page, 'phone-card');
    expect(await barriers(page)).toEqual([]);
    for (const [paper, size] of [
      ['Letter', [215.9, 279.4]],
      ['A4', [210, 297]],
    ] as const) {
      await page.getByRole('button', { name: paper, exact: true }).click();
      const saving = page.waitForEvent('download');
      await page.getByRole('button', { name: 'Save the page as PDF' }).click();
      const saved = await saving;
      expect(saved.suggestedFilename()).toBe(`scale-card-${paper}.pdf`);
      const pdf = readFileSync(await saved.path(), 'latin1');
      const [, width, height] = must(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(pdf), 'page size');
      expect((Number(width) * 25.4) / 72).toBeCloseTo(size[0], 2);
      expect((Number(height) * 25.4) / 72).toBeCloseTo(size[1], 2);
    }
  });

  test('a ruler far off is refused with what to do, one a little off is kept on the device', async () => {
    const ruler = section('Ruler of the rim card');
    await ruler.getByText('Not measured yet').waitFor();
    const field = ruler.getByLabel('From 0 to 80 it measures');
    await field.fill('7,9');
    await ruler.getByRole('button', { name: 'Keep it' }).click();
    await ruler.getByRole('alert').getByText('more than a tenth off').waitFor();
    await ruler.getByRole('alert').getByText('print it again at 100 %').waitFor();
    await shot(page, 'phone-card-ruler-refused', false);
    expect(await field.inputValue()).toBe('7,9');
    await field.fill('3 1/8 in');
    await ruler.getByRole('button', { name: 'Keep it' }).click();
    await ruler.getByText('80 mm measure 79.38 mm').waitFor();
    await page.reload();
    await ruler.getByText('0.8 % too small').waitFor();
    expect(await ruler.getByRole('alert').count()).toBe(0);
    await section('Ruler of the pocket card').getByText('Not measured yet').waitFor();
  });

  test('photos of the card from six directions give the camera that took them', async () => {
    const camera = section('Your camera');
    await camera.getByLabel('Choose photos').setInputFiles(photos.slice(0, 3).concat(photos.slice(-1)));
    await camera.getByText('3 of 4 can be used; 1 more is needed.').waitFor({ timeout: 60_000 });
    await camera.getByText('No card seen in it').waitFor();
    expect(await camera.getByRole('button', { name: 'Work out the camera' }).count()).toBe(0);
    await camera.getByRole('button', { name: 'Leave out bare-metal.jpg' }).click();
    await camera.getByLabel('Choose photos').setInputFiles(photos.slice(3, 6));
    await camera.getByText('6 of 6 can be used.').waitFor({ timeout: 60_000 });
    await camera.getByRole('button', { name: 'Work out the camera' }).click();
    const said = await camera.getByText('in terms of 35 mm film').first().textContent({ timeout: 60_000 });
    const [, focal, percent] = must(
      /Focal length ([\d.]+) mm .*± ([\d.]+) %/.exec(said ?? ''),
      'focal length',
    );
    expect(Number(percent)).toBeLessThan(3);
    expect(Math.abs(Number(focal) / FOCAL_35_MM - 1)).toBeLessThan(Number(percent) / 100);
    await camera.getByRole('button', { name: 'Keep it on this device' }).click();
    await camera.getByRole('alert').getByText('needs a name').waitFor();
    await camera.getByLabel('Name of this camera').fill('Phone 7, main camera');
    expect(await camera.getByRole('alert').count()).toBe(0);
    await camera.getByText('of the way to the corners').waitFor();
    await camera.getByLabel('Name of this camera').scrollIntoViewIfNeeded();
    await shot(page, 'phone-card-camera', false);
    expect(await barriers(page)).toEqual([]);
    await camera.getByRole('button', { name: 'Keep it on this device' }).click();
    await camera.getByText('for pictures of 2000 × 1500 px').waitFor();
  });

  test('all of it is there again without a connection, and the camera can be forgotten', async () => {
    await page.evaluate(() => navigator.serviceWorker.ready);
    await hand.setOffline(true);
    await page.goto('/card');
    const camera = section('Your camera');
    await camera.getByText('Phone 7, main camera').waitFor();
    await section('Ruler of the rim card').getByText('79.38 mm').waitFor();
    const saving = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save the page as PDF' }).click();
    expect(readFileSync(await (await saving).path(), 'latin1')).toMatch(/^%PDF-/);
    await shot(page, 'phone-card-kept');
    await camera.getByRole('button', { name: 'Forget this camera' }).click();
    await section('Ruler of the rim card').getByRole('button', { name: 'Forget it' }).click();
    await page.reload();
    await section('Ruler of the rim card').getByText('Not measured yet').waitFor();
    expect(await camera.getByText('Phone 7').count()).toBe(0);
    await hand.setOffline(false);
    expect(errors).toEqual([]);
  });

  test('the page is read at a desk as well', async () => {
    const wide = await (await desk(browser)).newPage();
    await signIn(wide, INSPECTOR, PASSWORD);
    await wide.goto('/card');
    await wide.getByRole('heading', { name: 'Print it' }).waitFor();
    await wide.getByRole('button', { name: 'Wallet size' }).click();
    await shot(wide, 'desk-card-wallet');
    await wide.getByRole('button', { name: 'A4' }).click();
    await shot(wide, 'desk-card');
    expect(await barriers(wide)).toEqual([]);
  });
}

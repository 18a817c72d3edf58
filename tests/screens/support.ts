import { mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';
import sharp from 'sharp';
import { must } from '../../lib/base/index.ts';
import { chromiumFlags, findChromium } from '../../tools/chromium.mjs';
import { PORT } from './server.ts';

export const BASE_URL = `http://localhost:${PORT}`;
const SHOTS = resolve(import.meta.dirname, 'shots');

/** An installed Chromium, headless. */
export function launch(): Promise<Browser> {
  return chromium.launch({ executablePath: must(findChromium(), 'a Chromium'), args: chromiumFlags });
}

export function phone(browser: Browser): Promise<BrowserContext> {
  return browser.newContext({
    baseURL: BASE_URL,
    viewport: { width: 390, height: 844 },
    deviceScaleFactor: 2,
    hasTouch: true,
    isMobile: true,
    locale: 'en-GB',
  });
}

export function desk(browser: Browser): Promise<BrowserContext> {
  return browser.newContext({ baseURL: BASE_URL, viewport: { width: 1440, height: 900 }, locale: 'en-GB' });
}

/** Keeps a picture of the screen beside the tests, to be looked at. */
export async function shot(page: Page, name: string, fullPage = true): Promise<void> {
  mkdirSync(SHOTS, { recursive: true });
  await page.screenshot({ path: join(SHOTS, `${name}.png`), fullPage });
}

/** Errors of a page that nobody handled; a test ends by expecting none. Waits of this page end after 12 s. */
export function errorsOf(page: Page): string[] {
  const errors: string[] = [];
  page.setDefaultTimeout(12_000);
  page.on('pageerror', (error) => errors.push(error.message));
  return errors;
}

export async function signIn(page: Page, email: string, password: string): Promise<void> {
  await page.goto('/sign-in');
  await page.getByLabel('E-mail', { exact: true }).fill(email);
  await page.getByLabel('Password', { exact: true }).fill(password);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByRole('heading', { name: 'Rimbook' }).waitFor();
  await page.getByLabel('Wheel tag').waitFor();
}

/** A picture with a plain card of A5 proportions and a dark line on it: something to set a scale on and to mark. */
export function cardPhoto(widthPx = 1600, heightPx = 1200): Promise<Buffer> {
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${widthPx}" height="${heightPx}">
    <rect width="100%" height="100%" fill="#8a5a3c"/>
    <rect x="200" y="200" width="420" height="296" fill="#f5f2e8"/>
    <polyline points="800,300 900,420 980,500 1100,620" fill="none" stroke="#181310" stroke-width="4"/>
    <ellipse cx="500" cy="850" rx="200" ry="120" fill="#5c2f16"/>
  </svg>`;
  return sharp(Buffer.from(svg)).jpeg({ quality: 85 }).toBuffer();
}

export interface Reply<T> {
  readonly status: number;
  readonly json: T;
}

/** Calls the API as a page of the application would, with the cookies of its context. */
export async function call<T>(
  context: BrowserContext,
  method: string,
  path: string,
  body?: unknown,
): Promise<Reply<T>> {
  const response = await context.request.fetch(BASE_URL + path, {
    method,
    headers: { Origin: BASE_URL, ...(body === undefined ? {} : { 'Content-Type': 'application/json' }) },
    ...(body === undefined ? {} : { data: JSON.stringify(body) }),
  });
  return { status: response.status(), json: (await response.json()) as T };
}

/** What axe-core finds wrong for people who do not see or point well, as lines; empty when nothing. */
export async function barriers(page: Page): Promise<string[]> {
  await page.addScriptTag({ path: resolve(import.meta.dirname, '../../node_modules/axe-core/axe.min.js') });
  return page.evaluate(async () => {
    const { axe } = window as unknown as {
      axe: {
        run(options: object): Promise<{
          violations: { id: string; nodes: { target: unknown; failureSummary: string }[] }[];
        }>;
      };
    };
    const { violations } = await axe.run({
      // Letters inside drawn signs are part of a picture; the names of the signs end with them.
      rules: { 'label-content-name-mismatch': { enabled: false } },
    });
    return violations.map(
      ({ id, nodes }) =>
        `${id}: ${nodes
          .map((node) => `${node.target} ${node.failureSummary}`)
          .slice(0, 3)
          .join('; ')}`,
    );
  });
}

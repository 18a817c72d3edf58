import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { barriers, shot } from './support.ts';

const SIZES = [
  ['phone', 390, 844],
  ['tablet', 1024, 768],
  ['desk', 1440, 900],
] as const;

/** What has the focus, as its link to an inspection or the name of its element. */
const focused = (page: Page) =>
  page.evaluate(() => document.activeElement?.getAttribute('href') ?? document.activeElement?.tagName ?? '');

/** Goes through the queue of one waiting inspection by keys alone, and looks at it in three sizes. */
export async function queueByKeys(page: Page): Promise<void> {
  await page.goto('/queue');
  const row = page.locator('a[data-inspection]');
  await row.waitFor();
  const address = await row.getAttribute('href');
  await page.keyboard.press('j');
  expect(await focused(page)).toBe(address);
  await page.keyboard.press('j');
  expect(await focused(page)).toBe(address);
  await page.keyboard.press('ArrowUp');
  expect(await focused(page)).toBe(address);
  await page.keyboard.press('?');
  await page.getByText('take its review on').waitFor();
  await page.keyboard.press('Escape');
  await page.getByText('take its review on').waitFor({ state: 'detached' });
  await page.keyboard.press('a');
  await page.getByText('is given to you.').waitFor();
  expect(await focused(page)).toBe(address);
  await page.keyboard.press('/');
  expect(await focused(page)).toBe('SELECT');
  await page.keyboard.press('Tab');
  await page.keyboard.type('me');
  await page.waitForURL(/assigned=me/);
  await row.waitFor();
  await page.getByLabel('Stored energy').selectOption('1');
  await page.getByText('No inspection fits all of these filters.').waitFor();
  await page.getByRole('button', { name: 'Clear filters' }).first().press('Enter');
  await row.waitFor();
  expect(new URL(page.url()).search).toBe('');
  await lookAt(page);
  await page.keyboard.press('Tab');
  await row.focus();
  await page.keyboard.press('Enter');
  await page.waitForURL((url) => url.pathname + url.search === address);
}

/** No barrier, nothing wider than the screen and no small target in any of the sizes. */
async function lookAt(page: Page): Promise<void> {
  for (const [name, width, height] of SIZES) {
    await page.setViewportSize({ width, height });
    expect([name, await barriers(page)]).toEqual([name, []]);
    const found = await page.evaluate(() => ({
      over: document.documentElement.scrollWidth - window.innerWidth,
      small: [...document.querySelectorAll('main button, main select, main a, main summary')].filter(
        (one) => {
          const { height: high } = one.getBoundingClientRect();
          return high > 0 && high < 44;
        },
      ).length,
    }));
    expect([name, found]).toEqual([name, { over: 0, small: 0 }]);
    await shot(page, `${name}-queue`, false);
  }
}

// Finds a Chromium or Chrome for the browser tests. Browsers are not downloaded.
import { existsSync } from 'node:fs';

const PLACES = [
  process.env.CHROMIUM,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/google-chrome-stable',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
];

/** Path of an installed Chromium or Chrome, or undefined. */
export function findChromium() {
  return PLACES.find((path) => path !== undefined && path !== '' && existsSync(path));
}

export const chromiumAdvice =
  'The browser tests need Chromium: install the package "chromium" (Debian: apt-get install chromium), or name one in the variable CHROMIUM.';

export const chromiumFlags = [
  '--no-sandbox',
  '--disable-quic',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

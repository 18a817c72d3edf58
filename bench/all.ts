import { spawnSync } from 'node:child_process';
import { join } from 'node:path';

/** Prints every figure, one line of JSON each; ends with 1 when a goal is missed. */
const failed = [
  'evaluate.ts',
  'tables.ts',
  'ingest.ts',
  'queue.ts',
  'review.ts',
  'trend.ts',
  'book.ts',
  'browser.ts',
  'openings.ts',
].filter(
  (name) =>
    spawnSync(process.execPath, ['--disable-warning=ExperimentalWarning', join(import.meta.dirname, name)], {
      stdio: 'inherit',
    }).status !== 0,
);
if (failed.length > 0) console.error(`Goals missed or runs failed: ${failed.join(', ')}`);
console.error('Time from a clean clone to a page: node bench/start.mjs');
process.exitCode = failed.length === 0 ? 0 : 1;

// Everything that has to hold: lint, types, unit, integration and browser tests. Ends with a line "N passed, N failed".
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromiumAdvice, findChromium } from './chromium.mjs';
import { bin, installMissing, run } from './install.mjs';

installMissing();
if (findChromium() === undefined) {
  console.error(chromiumAdvice);
  process.exit(1);
}
run(bin('biome'), ['check', '--error-on-warnings', '.']);
run(bin('next'), ['typegen']);
run(bin('tsc'), ['-p', 'tsconfig.json']);
run(bin('tsc'), ['-p', 'tsconfig.core.json']);

const folder = mkdtempSync(join(tmpdir(), 'rimbook-test-'));
const report = join(folder, 'report.json');
const status = run(
  bin('vitest'),
  ['run', '--reporter=default', '--reporter=json', `--outputFile.json=${report}`, ...process.argv.slice(2)],
  { mayFail: true },
);
let { numPassedTests: passed = 0, numFailedTests: failed = 0 } = {};
try {
  ({ numPassedTests: passed, numFailedTests: failed } = JSON.parse(readFileSync(report, 'utf8')));
} catch (error) {
  console.error(`The test runner left no report: ${error.message}`);
  failed = Math.max(failed, 1);
}
rmSync(folder, { recursive: true, force: true });
// A suite that cannot be loaded counts no failed test, yet the run has failed.
console.log(`${passed} passed, ${status === 0 ? failed : Math.max(failed, 1)} failed`);
process.exit(status !== 0 || failed > 0 || passed === 0 ? 1 : 0);

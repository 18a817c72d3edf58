// Time from `npm run demo` to the first page, on a clean clone and on the second start:
// node bench/start.mjs [--here]. Prints one line of JSON. The clone, its packages and its data are removed again.
// --here measures only a start of this folder as it is. Runs by hand; the first start needs the package registry.
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const GIVE_UP_MS = 600_000;

function freePort() {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, () => {
      const { port } = probe.address();
      probe.close(() => resolve(port));
    });
  });
}

async function answers(address) {
  try {
    const response = await fetch(address);
    await response.arrayBuffer();
    return response.ok;
  } catch (error) {
    if (error instanceof TypeError) return false;
    throw error;
  }
}

/** Starts the demo in a folder, and gives the seconds to the first page and to the printed sign-ins. */
async function start(folder, data) {
  const port = await freePort();
  const began = performance.now();
  const seconds = () => Math.round((performance.now() - began) / 100) / 10;
  const demo = spawn('npm', ['run', '--silent', 'demo'], {
    cwd: folder,
    env: { ...process.env, PORT: String(port), RIMBOOK_DEMO_DATA: data },
    stdio: ['ignore', 'pipe', 'pipe'],
    detached: true,
  });
  let said = '';
  let loadedS = null;
  demo.stdout.on('data', (piece) => {
    said += piece;
    if (said.includes('Try first:')) loadedS ??= seconds();
  });
  demo.stderr.on('data', (piece) => {
    said += piece;
  });
  const closed = new Promise((resolve) => demo.once('close', resolve));
  let firstPageS = null;
  while (firstPageS === null || loadedS === null) {
    if (demo.exitCode !== null || performance.now() - began > GIVE_UP_MS) {
      throw new Error(`The demo did not start. It said:\n${said}`);
    }
    if (firstPageS === null && (await answers(`http://localhost:${port}/`))) firstPageS = seconds();
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  process.kill(-demo.pid, 'SIGINT');
  await closed;
  return { firstPageS, loadedS };
}

const place = mkdtempSync(join(tmpdir(), 'rimbook-start-'));
try {
  const data = join(place, 'data');
  if (process.argv.includes('--here')) {
    console.log(JSON.stringify({ bench: 'start', here: await start(root, data) }));
  } else {
    const clone = join(place, 'clone');
    const cloned = spawnSync('git', ['clone', '--quiet', root, clone], { stdio: 'inherit' });
    if (cloned.status !== 0) throw new Error('The repository could not be cloned');
    const clean = await start(clone, data);
    const second = await start(clone, data);
    console.log(JSON.stringify({ bench: 'start', clean, second }));
  }
} finally {
  rmSync(place, { recursive: true, force: true });
}

// Builds when needed and serves: node tools/demo/serve.ts [--demo]. Started by tools/start.mjs and tools/demo.mjs,
// which install packages first.

import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { errorText } from '../../lib/base/index.ts';
import { readSettings } from '../../lib/store/server/index.ts';
import { sourcesHash } from './sources.ts';

const root = join(import.meta.dirname, '..', '..');
const stamp = join(root, '.next', 'rimbook-sources');
const READY_MS_MAX = 60_000;
const demo = process.argv.includes('--demo');

function give(up: string): never {
  console.error(up);
  process.exit(1);
}

function portWanted(): number {
  const text = process.env.PORT ?? '3000';
  const port = Number(text);
  if (!/^\d+$/.test(text) || port < 1 || port > 65_535) {
    give(`PORT must be a number from 1 to 65535 (received ${text}).`);
  }
  return port;
}

/** Whether nothing listens on the port yet, on any address of this machine. */
function isFree(port: number): Promise<boolean> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', (error: NodeJS.ErrnoException) => {
      if (error.code === 'EADDRINUSE') resolve(false);
      else reject(error);
    });
    probe.listen(port, () => probe.close(() => resolve(true)));
  });
}

let child: ChildProcess | undefined;
let stopping = false;
for (const signal of ['SIGINT', 'SIGTERM'] as const) {
  process.on(signal, () => {
    stopping = true;
    child?.kill('SIGTERM');
    if (child === undefined) process.exit(0);
  });
}

/** Runs a program to its end and gives its exit status; its output is shown only when `quiet` is false or it fails. */
function ended(
  program: string,
  args: readonly string[],
  env: NodeJS.ProcessEnv,
  quiet: boolean,
): Promise<number> {
  return new Promise((resolve, reject) => {
    const started = spawn(program, args, {
      cwd: root,
      env,
      stdio: ['ignore', quiet ? 'pipe' : 'inherit', quiet ? 'pipe' : 'inherit'],
    });
    child = started;
    const kept: Buffer[] = [];
    started.stdout?.on('data', (piece: Buffer) => kept.push(piece));
    started.stderr?.on('data', (piece: Buffer) => kept.push(piece));
    started.once('error', reject);
    started.once('close', (status) => {
      child = undefined;
      if (stopping) process.exit(0);
      if (status !== 0 && quiet) console.error(Buffer.concat(kept).toString());
      resolve(status ?? 1);
    });
  });
}

async function buildIfNeeded(): Promise<void> {
  const wanted = sourcesHash(root);
  const built = existsSync(join(root, '.next', 'BUILD_ID')) && existsSync(stamp);
  if (built && readFileSync(stamp, 'utf8') === wanted) return;
  console.log('Building, about a minute the first time …');
  const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';
  const env = { ...process.env, NODE_ENV: 'production', NEXT_TELEMETRY_DISABLED: '1' } as const;
  if ((await ended(npm, ['run', '--silent', 'build'], env, true)) !== 0) {
    give('The build failed; what it said stands above.');
  }
  writeFileSync(stamp, wanted);
}

/** Asks the server until it answers. */
async function untilReady(address: string): Promise<void> {
  const giveUpAt = Date.now() + READY_MS_MAX;
  let last = '';
  while (Date.now() < giveUpAt) {
    try {
      const response = await fetch(`${address}/api/v1/installation`);
      if (response.ok) return;
      last = await response.text();
      if (response.status === 500) break;
    } catch (error) {
      last = errorText(error);
    }
    await new Promise((resolve) => setTimeout(resolve, 150));
  }
  child?.kill('SIGTERM');
  give(`The server does not answer. It last said: ${last}`);
}

const port = portWanted();
const address = process.env.RIMBOOK_ORIGIN?.replace(/\/$/, '') ?? `http://localhost:${port}`;
const local = `http://localhost:${port}`;
const env: NodeJS.ProcessEnv = {
  ...process.env,
  NODE_ENV: 'production',
  NEXT_TELEMETRY_DISABLED: '1',
  RIMBOOK_ORIGIN: demo ? local : address,
  ...(demo ? { RIMBOOK_DATA: process.env.RIMBOOK_DEMO_DATA ?? './data/demo' } : {}),
};
const settings = readSettings(env);
if (!settings.ok) give(`Rimbook cannot start:\n${settings.error.map((line) => `  ${line}`).join('\n')}`);
if (!(await isFree(port))) {
  give(
    `Port ${port} is taken. Stop what uses it, or choose another one: PORT=${port + 1} npm ${demo ? 'run demo' : 'start'}`,
  );
}
await buildIfNeeded();

const next = join(root, 'node_modules', 'next', 'dist', 'bin', 'next');
const server = spawn(process.execPath, [next, 'start', '-p', String(port)], {
  cwd: root,
  env,
  stdio: ['ignore', 'ignore', 'inherit'],
});
child = server;
server.once('close', (status) => {
  if (stopping) console.log('Stopped.');
  else console.error(`The server ended by itself (status ${status ?? 'none'}).`);
  process.exit(stopping ? 0 : 1);
});
await untilReady(local);
if (demo) {
  const load = [join(import.meta.dirname, 'load.ts'), local];
  const loading = spawn(process.execPath, ['--disable-warning=ExperimentalWarning', ...load], {
    cwd: root,
    stdio: 'inherit',
  });
  loading.once('close', (status) => {
    if (status !== 0) server.kill('SIGTERM');
  });
} else {
  console.log(`Rimbook: ${address}\nData folder: ${settings.value.dataFolder}\nStop with Ctrl-C.`);
}

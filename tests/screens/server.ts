import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const root = resolve(import.meta.dirname, '../..');
export const PORT = Number(process.env.RIMBOOK_SCREENS_PORT ?? 3199);

/** Builds the application and serves it on a port of its own with an empty data folder; stops it afterwards. */
export default async function setup(): Promise<() => Promise<void>> {
  const next = join(root, 'node_modules/next/dist/bin/next');
  const data = mkdtempSync(join(tmpdir(), 'rimbook-screens-'));
  const env = {
    ...process.env,
    RIMBOOK_DATA: data,
    RIMBOOK_ORIGIN: `http://localhost:${PORT}`,
    NODE_ENV: 'production' as const,
  };
  if (process.env.RIMBOOK_BUILT !== '1')
    await finished(
      spawn(process.execPath, [next, 'build'], { cwd: root, env, stdio: ['ignore', 'ignore', 'inherit'] }),
    );
  const server = spawn(process.execPath, [next, 'start', '-p', String(PORT)], {
    cwd: root,
    env,
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  await answering(`http://localhost:${PORT}/api/v1/installation`);
  return async () => {
    const gone = new Promise((done) => server.once('exit', done));
    server.kill('SIGTERM');
    await gone;
    rmSync(data, { recursive: true, force: true });
  };
}

function finished(child: ReturnType<typeof spawn>): Promise<void> {
  return new Promise((done, failed) => {
    child.once('exit', (code) => (code === 0 ? done() : failed(new Error(`the build ended with ${code}`))));
  });
}

async function answering(url: string): Promise<void> {
  for (let tries = 0; tries < 120; tries += 1) {
    const response = await fetch(url).catch(() => null);
    if (response?.ok === true) return;
    await new Promise((later) => setTimeout(later, 500));
  }
  throw new Error(`the server does not answer at ${url}`);
}

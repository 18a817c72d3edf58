import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readLog, verifyChains } from '../../../lib/store/server/index.ts';
import { SITE, temporaryFolder, temporaryStore } from './support.ts';

const KILLS = 6;

/** Runs the appending child, kills it after some batches, and gives the acknowledged ids. */
function killedInTheMiddle(folder: string, first: number, batches: number): Promise<string[]> {
  return new Promise((resolve, reject) => {
    const child = spawn(
      process.execPath,
      [join(import.meta.dirname, 'kill-child.ts'), folder, String(first)],
      { stdio: ['ignore', 'pipe', 'pipe'] },
    );
    let printed = '';
    let complaints = '';
    child.stderr.on('data', (text: Buffer) => {
      complaints += text.toString();
    });
    child.stdout.on('data', (text: Buffer) => {
      printed += text.toString();
      if (printed.split('\n').length > batches) child.kill('SIGKILL');
    });
    child.on('error', reject);
    child.on('close', (_, signal) => {
      if (signal !== 'SIGKILL') reject(new Error(`the child ended by itself: ${complaints}`));
      // A line without its end was cut by the kill; its batch may or may not have been acknowledged.
      resolve(printed.split('\n').slice(0, -1).join(' ').split(' '));
    });
  });
}

describe('killing the process in the middle of appends', () => {
  it('loses no acknowledged entry and leaves whole batches and whole chains', async () => {
    const folder = temporaryFolder();
    const acknowledged: string[] = [];
    for (let kill = 0; kill < KILLS; kill += 1) {
      acknowledged.push(...(await killedInTheMiddle(folder, kill * 1_000_000, 3 + kill * 4)));
    }
    const store = temporaryStore(folder);
    const kept: string[] = [];
    for (let after = 0, more = true; more; ) {
      const page = readLog(store, { site: SITE, after, limit: 1000 });
      kept.push(...page.entries.map((entry) => entry.id));
      after = page.next;
      more = page.more;
    }
    expect(acknowledged.length).toBeGreaterThan(KILLS * 15);
    expect(acknowledged.filter((id) => !kept.includes(id))).toEqual([]);
    expect(kept.length % 5).toBe(0);
    expect(verifyChains(store).faults).toEqual([]);
  }, 60_000);
});

import { mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import BetterSqlite from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import {
  append,
  openStore,
  openUploads,
  readLog,
  StoreTrouble,
  verifyChains,
} from '../../../lib/store/server/index.ts';
import { MIGRATIONS } from '../../../lib/store/server/migrations.ts';
import { appendAll, makeEntry, options, SITE, temporaryFolder, temporaryStore } from './support.ts';

function troubleAt(folder: string): StoreTrouble {
  try {
    openStore(folder).close();
  } catch (error) {
    if (error instanceof StoreTrouble) return error;
    throw error;
  }
  throw new Error('the store opened');
}

describe('the database', () => {
  it('writes ahead, syncs fully, and checks foreign keys', () => {
    const { sqlite } = temporaryStore();
    expect(sqlite.pragma('journal_mode', { simple: true })).toBe('wal');
    expect(sqlite.pragma('synchronous', { simple: true })).toBe(2);
    expect(sqlite.pragma('foreign_keys', { simple: true })).toBe(1);
    expect(sqlite.pragma('busy_timeout', { simple: true })).toBe(5000);
  });

  it('makes its folder and files for their owner alone', () => {
    const folder = join(temporaryFolder(), 'made', 'data');
    const store = temporaryStore(folder);
    appendAll(store, makeEntry(1));
    const mode = (path: string) => statSync(join(folder, path)).mode & 0o777;
    expect([mode('.'), mode('..')]).toEqual([0o700, 0o700]);
    for (const ending of ['', '-wal', '-shm']) expect(mode(`rimbook.sqlite${ending}`)).toBe(0o600);
  });

  it('keeps begun uploads of an older shape, each for the person who began it', async () => {
    const folder = temporaryFolder();
    const file = join(folder, 'rimbook.sqlite');
    const older = new BetterSqlite(file);
    older.exec(MIGRATIONS[0] ?? '');
    older.pragma('user_version = 1');
    const sha256 = 'a'.repeat(64);
    older.prepare('INSERT INTO upload VALUES (?, ?, ?, ?, ?, ?)').run(SITE, sha256, 'ada', 9, 'n', 't');
    older.close();
    mkdirSync(join(folder, 'uploads', SITE), { recursive: true });
    writeFileSync(join(folder, 'uploads', SITE, `${sha256}.part`), 'begun');
    const uploads = openUploads(temporaryStore(folder));
    const place = { site: SITE, sha256, person: 'ada' };
    expect(await uploads.state(place)).toEqual({ offset: 5, bytes: 9, name: 'n' });
    expect(await uploads.state({ ...place, person: 'sol' })).toBeUndefined();
  });

  it('refuses a file that is no database and says to restore a backup', () => {
    const folder = temporaryFolder();
    writeFileSync(
      join(folder, 'rimbook.sqlite'),
      'not a database at all, but long enough to be looked at'.repeat(40),
    );
    expect(troubleAt(folder)).toMatchObject({
      code: 'store-damaged',
      message: expect.stringContaining('restore'),
    });
  });

  it('refuses a database with overwritten pages', () => {
    const folder = temporaryFolder();
    const store = openStore(folder);
    appendAll(store, ...Array.from({ length: 300 }, (_, n) => makeEntry(n)));
    store.close();
    const file = join(folder, 'rimbook.sqlite');
    const bytes = readFileSync(file);
    bytes.fill(0xa5, Math.floor(bytes.length / 2), Math.floor(bytes.length / 2) + 3 * 4096);
    writeFileSync(file, bytes);
    expect(troubleAt(folder).code).toBe('store-damaged');
  });

  it('refuses a database of a newer program and leaves it as it is', () => {
    const folder = temporaryFolder();
    openStore(folder).close();
    const file = join(folder, 'rimbook.sqlite');
    const newer = new BetterSqlite(file);
    newer.pragma('user_version = 99');
    newer.close();
    const before = readFileSync(file);
    expect(troubleAt(folder)).toMatchObject({
      code: 'store-newer',
      message: expect.stringContaining('newer version'),
    });
    expect(readFileSync(file).equals(before)).toBe(true);
  });

  it('refuses a folder that cannot be written', () => {
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'file'), '');
    expect(troubleAt(join(folder, 'file', 'data'))).toMatchObject({
      code: 'store-unwritable',
      message: expect.stringContaining('RIMBOOK_DATA'),
    });
  });

  it('says that the disk is full and writes nothing of the batch', () => {
    const store = temporaryStore();
    appendAll(store, makeEntry(1));
    const pages = Number(store.sqlite.pragma('page_count', { simple: true }));
    store.sqlite.pragma(`max_page_count = ${pages + 2}`);
    const batch = Array.from({ length: 200 }, (_, n) =>
      makeEntry(n + 10, { body: { text: 'x'.repeat(2000) } }),
    );
    let caught: unknown;
    try {
      append(store, batch, options);
    } catch (error) {
      caught = error;
    }
    expect(caught).toBeInstanceOf(StoreTrouble);
    expect(caught).toMatchObject({ code: 'store-full', message: expect.stringContaining('free some space') });
    store.sqlite.pragma('max_page_count = 1073741823');
    expect(readLog(store, { site: SITE, after: 0, limit: 500 }).entries).toHaveLength(1);
    expect(verifyChains(store).faults).toEqual([]);
  });

  it('opens again with what was written', () => {
    const folder = temporaryFolder();
    const first = openStore(folder);
    appendAll(first, makeEntry(1), makeEntry(2));
    first.close();
    const again = temporaryStore(folder);
    expect(readLog(again, { site: SITE, after: 0, limit: 10 }).entries.map((entry) => entry.seq)).toEqual([
      1, 2,
    ]);
  });
});

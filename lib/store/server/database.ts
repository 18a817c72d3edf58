import { closeSync, existsSync, fsyncSync, mkdirSync, openSync, rmSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import BetterSqlite from 'better-sqlite3';
import { type Compilable, Kysely, SqliteDialect } from 'kysely';
import { assert } from '../../base/index.ts';
import { MIGRATIONS } from './migrations.ts';
import type { Tables } from './tables.ts';
import { guarded, StoreTrouble } from './trouble.ts';

const DATABASE_FILE = 'rimbook.sqlite';
const BUSY_TIMEOUT_MS = 5000;
const PROBE_BYTES = 65_536;

/**
 * The open database. Queries are built and typed by kysely and executed at once on the one connection:
 * no other request can come between the statements of a transaction, since none of them waits.
 */
export interface Store {
  readonly folder: string;
  /** For building queries, and for the accounts library, which executes single statements through it. */
  readonly build: Kysely<Tables>;
  readonly sqlite: BetterSqlite.Database;
  /** All rows of a query. */
  all<Row>(query: Compilable<Row>): Row[];
  /** The first row of a query, or undefined. */
  first<Row>(query: Compilable<Row>): Row | undefined;
  /** Executes a writing statement; the number of rows it changed. */
  run(query: Compilable<unknown>): number;
  /** Everything in `work` is written, or nothing when it throws. May be nested. */
  transaction<T>(work: () => T): T;
  /** Writes one row, so that trouble with the disk or the file shows as `StoreTrouble`. */
  probe(): void;
  close(): void;
}

/**
 * Opens (or makes) the database in `folder`, checks it and brings its shape up to date.
 * Throws `StoreTrouble` when it is damaged, newer than the program, or cannot be written.
 */
export function openStore(folder: string): Store {
  return guarded(() => {
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    probeFolder(folder);
    const path = join(folder, DATABASE_FILE);
    // The database gives the permissions of its own file to the files it makes beside it.
    if (!existsSync(path)) closeSync(openSync(path, 'a', 0o600));
    const sqlite = new BetterSqlite(path, { timeout: BUSY_TIMEOUT_MS });
    try {
      prepare(sqlite);
      return storeOver(folder, sqlite);
    } catch (error) {
      sqlite.close();
      throw error;
    }
  });
}

function probeFolder(folder: string): void {
  const path = join(folder, `.write-probe-${process.pid}`);
  try {
    const file = openSync(path, 'w', 0o600);
    try {
      writeSync(file, new Uint8Array(PROBE_BYTES));
      fsyncSync(file);
    } finally {
      closeSync(file);
    }
  } finally {
    rmSync(path, { force: true });
  }
}

function prepare(sqlite: BetterSqlite.Database): void {
  refuseNewer(sqlite);
  const check = sqlite.pragma('quick_check(1)', { simple: true });
  if (check !== 'ok') {
    throw new StoreTrouble(
      'store-damaged',
      'The database in the data folder is damaged: stop the server and restore the folder from the latest backup.',
      new Error(String(check)),
    );
  }
  sqlite.pragma('journal_mode = WAL');
  sqlite.pragma('synchronous = FULL');
  sqlite.pragma('foreign_keys = ON');
  sqlite
    .transaction(() => {
      for (let step = refuseNewer(sqlite); step < MIGRATIONS.length; step += 1) {
        sqlite.exec(MIGRATIONS[step] ?? '');
        sqlite.pragma(`user_version = ${step + 1}`);
      }
      writeProbe(sqlite);
    })
    .immediate();
}

function writeProbe(sqlite: BetterSqlite.Database): void {
  sqlite
    .prepare('INSERT INTO probe (id, at) VALUES (1, ?) ON CONFLICT (id) DO UPDATE SET at = excluded.at')
    .run(new Date().toISOString());
}

function refuseNewer(sqlite: BetterSqlite.Database): number {
  const version = Number(sqlite.pragma('user_version', { simple: true }));
  if (version > MIGRATIONS.length) {
    throw new StoreTrouble(
      'store-newer',
      `The data folder was written by a newer version of Rimbook (shape ${version}, this program knows ${MIGRATIONS.length}): install that version or restore an older backup.`,
    );
  }
  return version;
}

function storeOver(folder: string, sqlite: BetterSqlite.Database): Store {
  const build = new Kysely<Tables>({ dialect: new SqliteDialect({ database: sqlite }) });
  const prepared = new Map<string, BetterSqlite.Statement<unknown[]>>();
  const statement = (query: Compilable<unknown>) => {
    const { sql, parameters } = query.compile();
    let made = prepared.get(sql);
    if (made === undefined) {
      made = sqlite.prepare<unknown[]>(sql);
      prepared.set(sql, made);
    }
    return { made, parameters };
  };
  return {
    folder,
    build,
    sqlite,
    all: <Row>(query: Compilable<Row>) =>
      guarded(() => {
        const { made, parameters } = statement(query);
        return made.all(...parameters) as Row[];
      }),
    first: <Row>(query: Compilable<Row>) =>
      guarded(() => {
        const { made, parameters } = statement(query);
        return made.get(...parameters) as Row | undefined;
      }),
    run: (query) =>
      guarded(() => {
        const { made, parameters } = statement(query);
        return made.run(...parameters).changes;
      }),
    transaction: <T>(work: () => T) => {
      let done: { readonly value: T } | undefined;
      guarded(() =>
        sqlite
          .transaction(() => {
            done = { value: work() };
          })
          .immediate(),
      );
      assert(done !== undefined, 'a transaction ended without a result');
      return (done as { readonly value: T }).value;
    },
    probe: () => guarded(() => writeProbe(sqlite)),
    close: () => {
      prepared.clear();
      sqlite.close();
    },
  };
}

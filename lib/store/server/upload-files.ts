import { existsSync, renameSync } from 'node:fs';
import { mkdir, open, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { assert, sha256Hex } from '../../base/index.ts';
import type { Store } from './database.ts';

/** Which begun upload: what one person has begun stands in nobody else's way, though they know its hash. */
export interface UploadPlace {
  readonly site: string;
  readonly sha256: string;
  readonly person: string;
}

/** File of a begun upload under the data folder. */
export function fileIn(folder: string, { site, sha256, person }: UploadPlace): string {
  return join(shelfOf(folder, site), `${hashName(sha256)}-${sha256Hex(person).slice(0, 16)}.part`);
}

function shelfOf(folder: string, site: string): string {
  assert(/^[0-9a-f-]{36}$/.test(site), `${site} is a site id`);
  return join(folder, 'uploads', site);
}

function hashName(sha256: string): string {
  assert(/^[0-9a-f]{64}$/.test(sha256), `${sha256} is a SHA-256`);
  return sha256;
}

/** Renames files begun before an upload belonged to a person: they were named by the hash alone. */
export function adoptOldFiles(store: Store): void {
  for (const row of store.all(store.build.selectFrom('upload').selectAll())) {
    const old = join(shelfOf(store.folder, row.site), `${hashName(row.sha256)}.part`);
    if (existsSync(old)) renameSync(old, fileIn(store.folder, row));
  }
}

/** Writes a piece at its place; the first makes the file, readable by its owner only. */
export async function writeAt(path: string, offset: number, data: Uint8Array): Promise<void> {
  await mkdir(dirname(path), { recursive: true, mode: 0o700 });
  const handle = await open(path, offset === 0 ? 'w' : 'r+', 0o600);
  try {
    let written = 0;
    while (written < data.length) {
      const piece = await handle.write(data, written, data.length - written, offset + written);
      written += piece.bytesWritten;
    }
  } finally {
    await handle.close();
  }
}

/** Length of a file, 0 when it is not there. */
export async function sizeOf(path: string): Promise<number> {
  try {
    return (await stat(path)).size;
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return 0;
    throw error;
  }
}

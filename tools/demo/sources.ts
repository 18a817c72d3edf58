import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';

/** What a build depends on; `public` is served from the disk as it is. */
const FOLDERS = ['app', 'lib'] as const;
const FILES = ['next.config.js', 'package.json', 'package-lock.json', 'tsconfig.json'] as const;

/** SHA-256 over names and contents of everything a build is made from. */
export function sourcesHash(root: string): string {
  const found = FOLDERS.flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name)),
  );
  const files = [...found, ...FILES.map((name) => join(root, name))].sort();
  const hash = createHash('sha256');
  for (const file of files) {
    const content = readFileSync(file);
    hash.update(`${relative(root, file).split(sep).join('/')}\0${content.length}\0`);
    hash.update(content);
  }
  return hash.digest('hex');
}

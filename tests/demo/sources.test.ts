import { cpSync, mkdirSync, mkdtempSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { sourcesHash } from '../../tools/demo/sources.ts';

const root = join(import.meta.dirname, '..', '..');
let folder = '';

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rimbook-sources-'));
  for (const name of ['next.config.js', 'package.json', 'package-lock.json', 'tsconfig.json']) {
    cpSync(join(root, name), join(folder, name));
  }
  for (const name of ['app', 'lib']) {
    mkdirSync(join(folder, name));
    writeFileSync(join(folder, name, 'one.ts'), `export const name = '${name}';\n`);
  }
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

describe('the hash of the sources', () => {
  test('stays the same while nothing changes', () => {
    expect(sourcesHash(folder)).toBe(sourcesHash(folder));
    expect(sourcesHash(folder)).toMatch(/^[0-9a-f]{64}$/);
  });

  test.each([
    ['a changed source', () => writeFileSync(join(folder, 'lib', 'one.ts'), 'export const name = 1;\n')],
    ['a new source', () => writeFileSync(join(folder, 'app', 'two.ts'), '')],
    ['a renamed source', () => renameSync(join(folder, 'app', 'one.ts'), join(folder, 'app', 'three.ts'))],
    ['other packages', () => writeFileSync(join(folder, 'package-lock.json'), '{}')],
    ['other build settings', () => writeFileSync(join(folder, 'next.config.js'), 'export default {};\n')],
  ])('changes with %s', (_, change) => {
    const before = sourcesHash(folder);
    change();
    expect(sourcesHash(folder)).not.toBe(before);
  });

  test('is not changed by files outside the build', () => {
    const before = sourcesHash(folder);
    writeFileSync(join(folder, 'README.md'), 'words');
    expect(sourcesHash(folder)).toBe(before);
  });
});

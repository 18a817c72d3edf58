import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';

const lib = resolve(import.meta.dirname, '../lib');

/** What each folder of lib may import; see DEVELOPERS.md, "The arrows". */
const LEVEL: Readonly<Record<string, number>> = {
  base: 0,
  units: 1,
  wheel: 2,
  readings: 3,
  marks: 3,
  record: 4,
  photo: 5,
  tolerances: 6,
  rules: 7,
  review: 8,
  history: 8,
  report: 9,
};
const OUTER: Readonly<Record<string, readonly string[]>> = {
  store: ['base', 'units', 'record', 'photo'],
  imaging: ['base', 'units', 'record', 'photo'],
};

function filesUnder(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name));
}

/** Relative imports of a file, type-only ones included, as absolute paths. */
function importsOf(file: string): string[] {
  const text = readFileSync(file, 'utf8');
  const found = [...text.matchAll(/(?:from\s+|import\s*\(\s*|import\s+)'(\.{1,2}\/[^']+)'/g)];
  return found.map((match) => resolve(dirname(file), match[1] ?? ''));
}

function backArrow(from: string, to: string): string | null {
  const [fromFolder = '', toFolder = ''] = [from, to].map((file) => relative(lib, file).split('/')[0]);
  if (to.startsWith('..') || relative(lib, to).startsWith('..')) return `lib imports from outside lib`;
  if (fromFolder === toFolder) return null;
  if (!to.endsWith('/index.ts') && !to.endsWith('.json'))
    return 'crosses folders without going through index.ts';
  const allowed = OUTER[fromFolder];
  if (allowed !== undefined) return allowed.includes(toFolder) ? null : 'an outer folder reaches too far in';
  const [a, b] = [LEVEL[fromFolder], LEVEL[toFolder]];
  return a !== undefined && b !== undefined && b < a ? null : 'points back';
}

const files = filesUnder(lib);

describe('the arrows between folders', () => {
  test('every import of lib points left', () => {
    const wrong = files.flatMap((from) =>
      importsOf(from)
        .map((to) => ({ from: relative(lib, from), to: relative(lib, to), why: backArrow(from, to) }))
        .filter((arrow) => arrow.why !== null),
    );
    expect(wrong).toEqual([]);
  });

  test('no file of lib imports itself by a detour', () => {
    const graph = new Map(files.map((file) => [file, importsOf(file)]));
    const done = new Set<string>();
    const cycles: string[] = [];
    const walk = (file: string, path: readonly string[]): void => {
      if (path.includes(file)) {
        cycles.push([...path.slice(path.indexOf(file)), file].map((one) => relative(lib, one)).join(' → '));
        return;
      }
      if (done.has(file)) return;
      for (const next of graph.get(file) ?? []) walk(next, [...path, file]);
      done.add(file);
    };
    for (const file of files) walk(file, []);
    expect(cycles).toEqual([]);
  });

  test('the walk sees the imports that are there', () => {
    expect(importsOf(join(lib, 'rules/index.ts')).length).toBeGreaterThan(5);
    expect(backArrow(join(lib, 'units/x.ts'), join(lib, 'rules/index.ts'))).toBe('points back');
    expect(backArrow(join(lib, 'rules/x.ts'), join(lib, 'units/length.ts'))).toContain('index.ts');
    expect(backArrow(join(lib, 'store/x.ts'), join(lib, 'rules/index.ts'))).toContain('outer');
  });
});

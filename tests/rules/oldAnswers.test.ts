import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { canonicalJson } from '../../lib/base/index.ts';
import { Evidence, evaluate } from '../../lib/rules/index.ts';
import { type Table, tablesNamed } from '../../lib/tolerances/index.ts';

/** Evidence with what a version of the engine answered. A table is the id of a bundled one, or the table itself. */
interface Kept {
  readonly name: string;
  readonly tables: readonly (string | Table)[];
  readonly evidence: unknown;
  readonly answer: unknown;
}

function keptOf(version: number): Kept[] {
  const file = new URL(`../golden/answers-of-rules-${version}.json`, import.meta.url);
  return JSON.parse(readFileSync(file, 'utf8'));
}

const tablesOf = (kept: Kept): Table[] =>
  kept.tables.flatMap((table) => (typeof table === 'string' ? [...tablesNamed([table]).tables] : [table]));

function answerTo(kept: Kept) {
  const { parts, assembly, demonstration } = evaluate(Evidence.parse(kept.evidence), tablesOf(kept));
  return JSON.parse(canonicalJson({ parts, assembly, demonstration }));
}

/** Paths of everything that differs between two JSON values; a whole subtree that one side lacks is one path. */
function differences(before: unknown, now: unknown, path = ''): string[] {
  if (canonicalJson(before ?? null) === canonicalJson(now ?? null)) return [];
  const isTree = (value: unknown) => typeof value === 'object' && value !== null;
  if (!isTree(before) || !isTree(now) || Array.isArray(before) !== Array.isArray(now)) return [path];
  const keys = new Set([...Object.keys(before as object), ...Object.keys(now as object)]);
  return [...keys].flatMap((key) => {
    const [a, b] = [before, now].map((tree) => (tree as Record<string, unknown>)[key]);
    return differences(a, b, path === '' ? key : `${path}.${key}`);
  });
}

/** What version 3 says beyond version 2, whatever the evidence. */
const EVERYWHERE: readonly RegExp[] = [];

const ofGutterDepth = (fields: string): readonly RegExp[] =>
  fields
    .split(' ')
    .map((field) => new RegExp(`^parts\\.0\\.findings\\.1\\.${field.replaceAll('.', '\\.')}$`));
const PLACE = 'positions.1.groups positions.1.birgeRatio positions.1.value positions.1.u ';
const GOVERNING =
  'governing.groups governing.birgeRatio governing.value governing.u beyondKeep beyondRepair margin sentence';

/** Evidence that version 3 answers differently: where, beside `EVERYWHERE`. */
const DIFFERENT: Readonly<Record<string, readonly RegExp[]>> = {
  // Different instruments at one place are weighted by their u: 6 o'clock is known better, and 3 o'clock governs.
  'a repeat with another instrument that agrees': ofGutterDepth(
    `${PLACE}governing.clock governing.readings.0 governing.readings.1 governing.repeats governing.value governing.u beyondKeep margin sentence`,
  ),
  // Where they disagree the better one draws the mean, here below the bound, and u is widened.
  'a repeat with another instrument that disagrees': ofGutterDepth(`${PLACE}${GOVERNING} simpleClass`),
  'a repeat without a named instrument': ofGutterDepth(`${PLACE}${GOVERNING}`),
  // Of two looks at a zone "could not be seen" counts, whichever was written down first.
  'looks that contradict each other': [
    /^parts\.0\.missing\.0$/,
    /^parts\.0\.result$/,
    /^parts\.0\.sentence$/,
    /^assembly\.fit$/,
    /^assembly\.reasons\.0$/,
  ],
};

const ALL = [...keptOf(1), ...keptOf(2)];

/** What earlier versions of the engine answered, written by them: all else is the same bytes. */
describe.each([1, 2])('answers of rimbook rules %d', (version) => {
  test.each(keptOf(version))('$name', (kept) => {
    const allowed = [...EVERYWHERE, ...(DIFFERENT[kept.name] ?? [])];
    const found = differences(kept.answer, answerTo(kept));
    expect(found.filter((path) => !allowed.some((one) => one.test(path)))).toEqual([]);
  });
});

describe('every difference that is allowed for does occur', () => {
  const occurs = (patterns: readonly RegExp[], kept: readonly Kept[]) => {
    const found = kept.flatMap((one) => differences(one.answer, answerTo(one)));
    expect(patterns.filter((pattern) => !found.some((path) => pattern.test(path)))).toEqual([]);
  };

  test('everywhere', () => occurs(EVERYWHERE, ALL));
  test.each(Object.entries(DIFFERENT))('%s', (name, patterns) => {
    occurs(
      patterns,
      ALL.filter((kept) => kept.name === name),
    );
  });
});

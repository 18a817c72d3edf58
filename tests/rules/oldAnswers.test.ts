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

/** What earlier versions of the engine answered, written by them: later versions answer the same evidence in the same bytes. */
describe.each([1, 2])('answers of rimbook rules %d', (version) => {
  test.each(keptOf(version))('$name', (kept) => {
    const { parts, assembly, demonstration } = evaluate(Evidence.parse(kept.evidence), tablesOf(kept));
    expect(canonicalJson({ parts, assembly, demonstration })).toBe(canonicalJson(kept.answer));
  });
});

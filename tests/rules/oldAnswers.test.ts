import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { canonicalJson } from '../../lib/base/index.ts';
import { Evidence, evaluate } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';

interface Kept {
  readonly name: string;
  readonly tables: readonly string[];
  readonly evidence: unknown;
  readonly answer: unknown;
}
const kept: Kept[] = JSON.parse(
  readFileSync(new URL('../golden/answers-of-rules-1.json', import.meta.url), 'utf8'),
);

/** What version 1 of the engine answered, written by it: later versions answer the same evidence in the same bytes. */
describe('answers of rimbook rules 1', () => {
  test.each(kept)('$name', ({ tables, evidence, answer }) => {
    const { parts, assembly, demonstration } = evaluate(Evidence.parse(evidence), tablesNamed(tables).tables);
    expect(canonicalJson({ parts, assembly, demonstration })).toBe(canonicalJson(answer));
  });
});

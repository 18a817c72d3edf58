import { readFileSync } from 'node:fs';
import { type Table, tablesNamed } from '../../lib/tolerances/index.ts';

/** Evidence with what a version of the engine answered. A table is the id of a bundled one, or the table itself. */
export interface Kept {
  readonly name: string;
  readonly tables: readonly (string | Table)[];
  readonly evidence: unknown;
  readonly answer: unknown;
}

/** The answers of a version of the engine, written by it. */
export function keptOf(version: number): Kept[] {
  const file = new URL(`../golden/answers-of-rules-${version}.json`, import.meta.url);
  return JSON.parse(readFileSync(file, 'utf8'));
}

/** The tables an answer was given under. */
export function tablesOf(kept: Kept): Table[] {
  return kept.tables.flatMap((table) =>
    typeof table === 'string' ? [...tablesNamed([table]).tables] : [table],
  );
}

import { problemText } from '../../../lib/base/index.ts';
import { tableFromCsv } from '../../../lib/tolerances/index.ts';
import { csvOf, type Line, tableLine } from '../csvLines.ts';

/** What is wrong with a file: the code and the sentence of every problem. */
export function csvProblemsIn(text: string): string[] {
  const read = tableFromCsv(text);
  return read.ok ? [] : read.error.map((one) => `${one.code}: ${problemText(one)}`);
}

/** A line without one of its columns. */
export const without = (line: Line, column: string): Line =>
  Object.fromEntries(Object.entries(line).filter(([name]) => name !== column));

export type Fault = readonly [name: string, text: string, problem: string];

/** One fault in a sound line, which is line 3 of its file. */
export const cell = (name: string, line: Line, over: Line, problem: string): Fault => [
  name,
  csvOf(tableLine, { ...line, ...over }),
  problem,
];

import { readFileSync } from 'node:fs';
import { must } from '../../lib/base/index.ts';

interface PublishedCase {
  id: string;
  // biome-ignore lint/suspicious/noExplicitAny: published cases have free-form inputs
  inputs: any;
  // biome-ignore lint/suspicious/noExplicitAny: published cases have free-form results
  expected: any;
  // biome-ignore lint/suspicious/noExplicitAny: published cases have free-form results
  recomputed: any;
}

const cases: PublishedCase[] = JSON.parse(
  readFileSync(new URL('../cases/A-uncertainty-and-conformity.json', import.meta.url), 'utf8'),
).cases;

/** A published case of uncertainty and conformity by its id; the case file names the source of each. */
export function caseOf(id: string): PublishedCase {
  return must(
    cases.find((one) => one.id === id),
    id,
  );
}

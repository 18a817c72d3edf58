import { readFileSync } from 'node:fs';
import { must } from '../../lib/base/index.ts';

interface PublishedCase {
  readonly id: string;
  // biome-ignore lint/suspicious/noExplicitAny: published cases have free-form inputs
  readonly inputs: any;
  // biome-ignore lint/suspicious/noExplicitAny: published cases have free-form results
  readonly expected: any;
  // biome-ignore lint/suspicious/noExplicitAny: published cases have free-form results
  readonly recomputed: any;
}

const cases: readonly PublishedCase[] = [
  'E-planar-photo-measurement',
  'G-image-quality-and-registration',
].flatMap(
  (name) => JSON.parse(readFileSync(new URL(`../cases/${name}.json`, import.meta.url), 'utf8')).cases,
);

/** A published case of measuring on photos or of the quality of photos by its id; the case files name the sources. */
export function photoCaseOf(id: string): PublishedCase {
  return must(
    cases.find((one) => one.id === id),
    id,
  );
}

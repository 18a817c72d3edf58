import { readdirSync, readFileSync } from 'node:fs';
import { must } from '../../lib/base/index.ts';

interface PublishedCase {
  id: string;
  // biome-ignore lint/suspicious/noExplicitAny: published cases have free-form inputs
  inputs: any;
  // biome-ignore lint/suspicious/noExplicitAny: published cases have free-form results
  expected: any;
  // biome-ignore lint/suspicious/noExplicitAny: published cases have free-form tolerances
  tolerance: any;
  // biome-ignore lint/suspicious/noExplicitAny: published cases have free-form results
  recomputed: any;
}

const folder = new URL('../cases/', import.meta.url);
const byTopic = new Map<string, PublishedCase[]>();

function casesOf(topic: string): PublishedCase[] {
  const known = byTopic.get(topic);
  if (known !== undefined) return known;
  const file = must(
    readdirSync(folder).find((name) => name.startsWith(`${topic}-`)),
    `cases of topic ${topic}`,
  );
  const { cases } = JSON.parse(readFileSync(new URL(file, folder), 'utf8')) as { cases: PublishedCase[] };
  byTopic.set(topic, cases);
  return cases;
}

/** A published case by its id, such as E-06; the case file names the source of each. */
export function caseOf(id: string): PublishedCase {
  return must(
    casesOf(id.slice(0, 1)).find((one) => one.id === id),
    id,
  );
}

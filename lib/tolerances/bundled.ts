import rules1910177 from './data/29-cfr-1910-177.json' with { type: 'json' };
import demonstrationQuillmoor from './data/demonstration-quillmoor.json' with { type: 'json' };
import { parseTable } from './parse.ts';
import type { Table } from './table.ts';

function bundled(candidate: unknown): Table {
  const parsed = parseTable(candidate);
  if (!parsed.ok)
    throw new Error(`Broken invariant: a bundled table is wrong: ${JSON.stringify(parsed.error)}`);
  return parsed.value;
}

/** Tables that come with the program. A site has those in force that its description names. */
export const bundledTables: readonly Table[] = [bundled(rules1910177), bundled(demonstrationQuillmoor)];

/** The tables with these ids, in that order, and the ids that are not known here. */
export function tablesNamed(ids: readonly string[]): {
  readonly tables: readonly Table[];
  readonly unknown: readonly string[];
} {
  const found = ids.map((id) => bundledTables.find((table) => table.table === id) ?? id);
  return {
    tables: found.filter((one) => typeof one !== 'string'),
    unknown: found.filter((one) => typeof one === 'string'),
  };
}

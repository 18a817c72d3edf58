import Papa from 'papaparse';
import type { StoredEntry, TrailLine } from '../../../lib/record/index.ts';
import type { ChainAnswer } from './useChain.ts';

/** The record itself: entries in order of arrival with their hashes, and the end of the chain to check them against. */
export function recordFile(inspection: string, { entries, head }: ChainAnswer): string {
  return `${JSON.stringify({ inspection, head, entries }, null, 1)}\n`;
}

/** The plain lines as CSV, one entry a row, with its place and hash in the chain. */
export function linesFile(
  lines: readonly TrailLine[],
  stored: ReadonlyMap<string, StoredEntry>,
  person: (id: string) => string,
): string {
  const rows = lines.map(({ entry, at, author, kind, text, from, to }) => ({
    'device clock': at,
    arrived: stored.get(entry)?.receivedAt ?? '',
    person: person(author),
    kind,
    'what was done': text,
    from: from ?? '',
    to: to ?? '',
    place: stored.get(entry)?.seq ?? '',
    hash: stored.get(entry)?.hash ?? '',
    entry,
  }));
  return Papa.unparse(rows, { escapeFormulae: true });
}

import { z } from 'zod';
import type { StoredEntry } from '../../lib/record/index.ts';
import { mustMeasureFirst, type SiteRole, seenBy, type Withheld } from '../../lib/review/index.ts';
import {
  type InspectionLine,
  type Membership,
  readSubject,
  type Store,
  type WheelBook,
  withoutResults,
} from '../../lib/store/server/index.ts';

/** Somebody who asks for entries of a site of theirs. */
export interface Reader {
  readonly person: string;
  readonly site: string;
  readonly roles: readonly SiteRole[];
}

/** The reader behind a membership. */
export function readerOf(person: { readonly id: string }, { id, roles }: Membership): Reader {
  return { person: person.id, site: id, roles };
}

/** Entries of one inspection as far as the reader may see them now. */
export function inspectionFor({ person, roles }: Reader, entries: readonly StoredEntry[]) {
  return seenBy(entries, person, roles);
}

/**
 * Entries of a page of the log without what the reader may not see now, and the inspections that lack some. The whole
 * inspection is looked at for it, since a later entry may have opened an earlier one.
 */
export function logFor(
  store: Store,
  reader: Reader,
  page: readonly StoredEntry[],
): { entries: StoredEntry[]; withheld: string[] } {
  const ids = new Set(
    page.filter(({ subject }) => subject.type === 'inspection').map(({ subject }) => subject.id),
  );
  const shown = new Set<string>();
  const withheld: string[] = [];
  for (const id of ids) {
    const whole = readSubject(store, { site: reader.site, type: 'inspection', id });
    const seen = inspectionFor(reader, whole);
    for (const entry of seen.entries) shown.add(entry.id);
    if (seen.withheld !== null) withheld.push(id);
  }
  const entries = page.filter((entry) => entry.subject.type !== 'inspection' || shown.has(entry.id));
  return { entries, withheld };
}

/** Whether the figures behind a line are kept from the reader, who may have to measure the inspection. */
export function isBlindTo({ person, roles }: Reader, line: InspectionLine): boolean {
  const { inspectors, measuredBy } = LineBody.parse(line.body);
  return mustMeasureFirst({ status: line.status, inspectors, measuredBy }, person, roles);
}

const LineBody = z.object({
  inspectors: z.array(z.string()).default([]),
  measuredBy: z.array(z.string()).default([]),
});

/** A line without its place in the order: beside lines that tell nothing it would say between which of them they stand. */
export function withoutRank<L extends InspectionLine>(line: L): Omit<L, 'rank' | 'result'> {
  const { rank: _, result: __, ...rest } = line;
  return rest;
}

/** A wheel's book as far as the reader may see it now. */
export function bookFor(reader: Reader, book: WheelBook) {
  return {
    ...book,
    inspections: book.inspections.map(({ id, line, entries }) => {
      const seen = inspectionFor(reader, entries);
      // Of the oldest inspections of a long book the entries are left out; the line tells all the same.
      const blind = line !== null && isBlindTo(reader, line);
      return {
        id,
        line: blind ? withoutResults(line) : line,
        entries: seen.entries,
        withheld: seen.withheld satisfies Withheld | null,
      };
    }),
  };
}

import { z } from 'zod';
import type { StoredEntry } from '../../lib/record/index.ts';
import { mustMeasureFirst, type SiteRole, seenBy, type Withheld } from '../../lib/review/index.ts';
import {
  type InspectionLine,
  type Membership,
  readSubject,
  type Store,
  type WheelBook,
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

const LineBody = z.object({ inspectors: z.array(z.string()), measuredBy: z.array(z.string()).default([]) });

/** A line of an inspection without anything that follows from the inspector's figures. */
export function lineWithoutFigures(line: InspectionLine): InspectionLine {
  const { reason, photos, readings, late, inspectors, demonstration } = line.body;
  return {
    ...line,
    danger: 0,
    body: { reason, photos, readings, late, inspectors, demonstration, withheld: true },
  };
}

/** A wheel's book as far as the reader may see it now. */
export function bookFor(reader: Reader, book: WheelBook) {
  return {
    ...book,
    inspections: book.inspections.map(({ id, line, entries }) => {
      const seen = inspectionFor(reader, entries);
      const blind = seen.withheld?.why === 'measure first';
      return {
        id,
        line: line !== null && blind ? lineWithoutFigures(line) : line,
        entries: seen.entries,
        withheld: seen.withheld satisfies Withheld | null,
      };
    }),
  };
}

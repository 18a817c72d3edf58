import { InspectionMeasured, measuredIn, type PlacedVisit, Visit, visitOf } from '../../lib/history/index.ts';
import { bodyOf, type InspectionState, isReadable, kinds, mergeEntries } from '../../lib/record/index.ts';
import {
  type HistoryQuery,
  type HistoryRow,
  readHistory,
  readInspectionLine,
  readSubject,
  type Store,
} from '../../lib/store/server/index.ts';
import { isBlindTo, type Reader } from './seen.ts';

/** What an inspection says of wear and of where things happen, as rows of the database. */
export function historyOf(state: InspectionState): readonly HistoryRow[] {
  const [measured, visit] = [measuredIn(state), visitOf(state)];
  return [
    ...(measured === null ? [] : [{ kind: 'measured' as const, at: measured.at, body: { ...measured } }]),
    ...(visit === null ? [] : [{ kind: 'visit' as const, at: visit.at, body: { ...visit } }]),
  ];
}

type Asked = Omit<HistoryQuery, 'kind'>;

/** A page of what inspections measured, without those that the reader has to measure first, and how many these are. */
export function measuredFor(store: Store, reader: Reader, asked: Asked) {
  const { said, next } = readHistory(store, { ...asked, kind: 'measured' });
  const open = said.filter(({ inspection }) => {
    const line = readInspectionLine(store, reader.site, inspection);
    return line !== undefined && !isBlindTo(reader, line);
  });
  return {
    inspections: open.map(({ body }) => InspectionMeasured.parse(body)),
    next,
    withheld: said.length - open.length,
  };
}

/** A page of concluded inspections with where their wheels stood at the time. */
export function visitsFor(store: Store, asked: Asked) {
  const { said, next } = readHistory(store, { ...asked, kind: 'visit' });
  const places = new Map<string, readonly Stand[]>();
  const visits = said.map(({ body }): PlacedVisit => {
    const visit = Visit.parse(body);
    const known = places.get(visit.wheel) ?? standsOf(store, asked.site, visit.wheel);
    places.set(visit.wheel, known);
    return { ...visit, ...standAt(known, visit.at) };
  });
  return { visits, next };
}

interface Stand {
  readonly at: string;
  readonly machine: string;
  readonly position: string;
}

/** Where a wheel was said to stand, oldest first. */
function standsOf(store: Store, site: string, wheel: string): readonly Stand[] {
  return mergeEntries(readSubject(store, { site, type: 'wheel', id: wheel }))
    .filter((entry) => entry.kind === kinds.wheelDescribed.kind && isReadable(entry))
    .map((entry) => {
      const { machine, position } = bodyOf(entry) as { machine: string; position: string };
      return { at: entry.at, machine, position };
    });
}

function standAt(stands: readonly Stand[], at: string): Omit<Stand, 'at'> {
  // A wheel that was described only after it was inspected stood where it was first said to stand.
  const stand = stands.findLast((one) => one.at <= at) ?? stands[0];
  return { machine: stand?.machine ?? '', position: stand?.position ?? '' };
}

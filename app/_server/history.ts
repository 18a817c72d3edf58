import { InspectionMeasured, measuredIn, type PlacedVisit, Visit, visitOf } from '../../lib/history/index.ts';
import { foldRegister, type InspectionState, type Placing } from '../../lib/record/index.ts';
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
  const wheels = new Map<string, readonly Placing[]>();
  const visits = said.map(({ body }): PlacedVisit => {
    const visit = Visit.parse(body);
    const known = wheels.get(visit.wheel) ?? placingsOf(store, asked.site, visit.wheel);
    wheels.set(visit.wheel, known);
    return { ...visit, ...placeAt(known, visit.at) };
  });
  return { visits, next };
}

/** Where a wheel was said to stand, oldest first. */
function placingsOf(store: Store, site: string, wheel: string): readonly Placing[] {
  const { wheels } = foldRegister(readSubject(store, { site, type: 'wheel', id: wheel }));
  return wheels.get(wheel)?.placings ?? [];
}

function placeAt(placings: readonly Placing[], at: string): Omit<Placing, 'from'> {
  // A wheel that was described only after it was inspected stood where it was first said to stand.
  const place = placings.findLast((one) => one.from <= at) ?? placings[0];
  return { machine: place?.machine ?? '', position: place?.position ?? '' };
}

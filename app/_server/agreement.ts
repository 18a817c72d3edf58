import { foldRegister } from '../../lib/record/index.ts';
import {
  CallPair,
  type PairsOfInspection,
  pairInRegister,
  ReadingPairFacts,
} from '../../lib/review/index.ts';
import {
  type PairRow,
  type PairsQuery,
  readPairs,
  readSubject,
  type Store,
  subjectsOfType,
} from '../../lib/store/server/index.ts';

/** Pairs as rows of the database. */
export function rowsOfPairs({ readings, calls }: PairsOfInspection): readonly PairRow[] {
  return [
    ...readings.map((pair) => ({ kind: 'reading' as const, at: pair.at, body: { ...pair } })),
    ...calls.map((pair) => ({ kind: 'call' as const, at: pair.at, body: { ...pair } })),
  ];
}

/** Pairs of readings and calls of a site, the newest first, with the uncertainties its instruments give. */
export function agreementOf(store: Store, query: PairsQuery) {
  const { pairs, more } = readPairs(store, query);
  const instruments = foldRegister(
    subjectsOfType(store, query.site, 'instrument').flatMap((id) =>
      readSubject(store, { site: query.site, type: 'instrument', id }),
    ),
  ).instruments;
  return {
    readings: pairs
      .filter((row) => row.kind === 'reading')
      .map((row) => pairInRegister(ReadingPairFacts.parse(row.body), instruments)),
    calls: pairs.filter((row) => row.kind === 'call').map((row) => CallPair.parse(row.body)),
    more,
  };
}

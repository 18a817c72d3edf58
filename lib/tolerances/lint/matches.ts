import { type Indexed, ofType } from '../ofType.ts';
import { codeBits } from '../reach.ts';
import type { MatchRow, Table } from '../table.ts';
import type { PairFinding, Telling } from './pairing.ts';

/** Rows that say the same of one pair at the same diameters. */
interface Saying {
  readonly together: MatchRow['together'];
  readonly codes: number;
  readonly rows: Indexed<MatchRow>[];
}

/** The pairs of a row in words that are the same for the same pair, whichever end comes first. */
function pairsInWords({ between, pairs }: MatchRow): Set<string> {
  const words = pairs.map((pair) => {
    const ends = pair.map(({ maker, series }, end) => `${between[end]} of ${maker} ${series}`.trim());
    return ends
      .map((end) => end.toLowerCase())
      .sort()
      .join(' with ');
  });
  return new Set(words);
}

/** Looks up one pair of a row among what rows before it say of that pair, and adds the row. */
function lookUp(pair: string, one: Indexed<MatchRow>, said: Saying[], telling: Telling): void {
  const { together } = one.row;
  const codes = codeBits(one.row.diameterCodes);
  const contradiction = (a: Indexed<MatchRow>, b: Indexed<MatchRow>): PairFinding => ({
    lint: 'contradiction',
    rows: [a.row.row, b.row.row],
    field: `rows.${b.index}.pairs`,
    message: `The same pair may and may not go together: ${pair}`,
    wayOut: 'Remove the pair from one of the rows.',
  });
  for (const other of said) {
    if (other.together === together || (other.codes & codes) === 0) continue;
    for (const before of other.rows) telling.tell('error', before, one, contradiction);
  }
  const same = said.find((other) => other.together === together && other.codes === codes);
  if (same === undefined) said.push({ together, codes, rows: [one] });
  else same.rows.push(one);
}

/** Pairs of makers that may and may not go together. */
export function matchPairs(table: Table, telling: Telling): void {
  const saidOf = new Map<string, Saying[]>();
  for (const one of ofType(table, 'match')) {
    for (const pair of pairsInWords(one.row)) {
      const said = saidOf.get(pair) ?? [];
      saidOf.set(pair, said);
      lookUp(pair, one, said, telling);
    }
  }
}

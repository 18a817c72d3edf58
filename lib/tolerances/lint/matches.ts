import { type Indexed, ofType } from '../ofType.ts';
import { codesIn } from '../reach.ts';
import type { MatchRow, Table } from '../table.ts';
import type { LintFinding } from './finding.ts';
import { pairsOf } from './pairing.ts';

/** The pairs of a row in words that are the same for the same pair, whichever end comes first. */
function pairsInWords({ between, pairs }: MatchRow): string[] {
  return pairs.map((pair) => {
    const ends = pair.map(({ maker, series }, end) => `${between[end]} of ${maker} ${series}`.trim());
    return ends
      .map((end) => end.toLowerCase())
      .sort()
      .join(' with ');
  });
}

function matchPair({ row: a }: Indexed<MatchRow>, { row: b, index }: Indexed<MatchRow>): LintFinding[] {
  if (a.together === b.together) return [];
  const codes = codesIn(b.diameterCodes);
  if (!codesIn(a.diameterCodes).some((code) => codes.includes(code))) return [];
  const other = pairsInWords(b);
  return pairsInWords(a)
    .filter((pair) => other.includes(pair))
    .map((pair) => ({
      lint: 'contradiction',
      severity: 'error',
      rows: [a.row, b.row],
      field: `rows.${index}.pairs`,
      message: `The same pair may and may not go together: ${pair}`,
      wayOut: 'Remove the pair from one of the rows.',
    }));
}

/** Pairs of makers that may and may not go together. */
export function matchPairs(table: Table): LintFinding[] {
  return pairsOf(ofType(table, 'match')).flatMap(([a, b]) => matchPair(a, b));
}

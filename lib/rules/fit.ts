import { type AssemblyPointId, assemblyPoints } from '../record/index.ts';
import { type MatchRow, matchRowsFor, type RowInTable, type Table } from '../tolerances/index.ts';
import type { Construction, Slot } from '../wheel/index.ts';
import type { Evidence, PartEvidence } from './evidence.ts';
import { cite, type Result, type RuleCited } from './finding.ts';
import { diameterCodeOf, sizeAgainstFit } from './wheelSize.ts';
import { sourceText } from './words.ts';

/** Two parts that must match, and whether they are shown to. */
export interface PairChecked {
  readonly slots: readonly [string, string];
  readonly matches: boolean;
  readonly why: string;
  /** The rows of tables that decided; left out where only maker and series were compared. */
  readonly rules?: readonly RuleCited[];
}

/** Whether the set may go together. */
export interface AssemblyVerdict {
  readonly fit: boolean;
  readonly pairs: readonly PairChecked[];
  readonly pointsOpen: readonly AssemblyPointId[];
  /** Every reason against, one sentence each; empty when fit. */
  readonly reasons: readonly string[];
}

const SOURCE = '29 CFR 1910.177(e)(1), federal wording from memory';

/** Pairs that bear on each other: rings and bands with the base, flanges with what carries them. */
export function pairsOf(construction: Construction): (readonly [Slot, Slot])[] {
  const base = construction.slots.find((slot) => slot.kind === 'rim base');
  if (base === undefined) return [];
  return construction.slots
    .filter((slot) => slot.inspected && slot !== base)
    .map((slot) => {
      const band = construction.slots.find(
        (other) => other.kind === 'bead seat band' && other.side === slot.side,
      );
      return [slot, slot.kind === 'side flange' && band !== undefined ? band : base] as const;
    });
}

const same = (x: string, y: string) => x.trim().toLowerCase() === y.trim().toLowerCase();

/** Whether a row lists this pair; `a` and `b` in either order. */
function lists(row: MatchRow, a: [Slot, PartEvidence], b: [Slot, PartEvidence]): boolean {
  const is = (part: PartEvidence, made: MatchRow['pairs'][number][number]) =>
    same(part.maker, made.maker) && (made.series === '' || same(part.series, made.series));
  const inOrder = ([slot, part]: [Slot, PartEvidence], [other, mate]: [Slot, PartEvidence]) =>
    slot.kind === row.between[0] &&
    other.kind === row.between[1] &&
    row.pairs.some(([first, second]) => is(part, first) && is(mate, second));
  return inOrder(a, b) || inOrder(b, a);
}

function byRows(
  slots: readonly [string, string],
  matches: boolean,
  rows: readonly RowInTable<MatchRow>[],
): PairChecked {
  const why = rows.map(({ row }) => `${row.says} (${sourceText(row.source)})`).join('; ');
  return { slots, matches, why, rules: rows.map(cite) };
}

function pairChecked(
  [slotA, slotB]: readonly [Slot, Slot],
  a: PartEvidence | undefined,
  b: PartEvidence | undefined,
  rows: readonly RowInTable<MatchRow>[],
): PairChecked {
  const slots = [slotA.slot, slotB.slot] as const;
  const known = (part: PartEvidence | undefined): part is PartEvidence =>
    part !== undefined && part.maker.trim() !== '' && part.series.trim() !== '';
  if (!known(a) || !known(b)) {
    return {
      slots,
      matches: false,
      why: `maker or series of ${slots.join(' or ')} is not known, so they are not shown to match (${SOURCE})`,
    };
  }
  const listing = rows.filter(({ row }) => lists(row, [slotA, a], [slotB, b]));
  const against = listing.filter(({ row }) => row.together === 'may not');
  if (against.length > 0) return byRows(slots, false, against);
  if (listing.length > 0) return byRows(slots, true, listing);
  const matches = same(a.maker, b.maker) && same(a.series, b.series);
  const why = matches
    ? `both ${a.maker}, series ${a.series}`
    : `${slots[0]} is ${a.maker} ${a.series}, ${slots[1]} is ${b.maker} ${b.series}: not interchanged unless the maker's chart says so (${SOURCE})`;
  return { slots, matches, why };
}

/** Fit only when every part is keep (`results`), every pair matches and every assembly point is answered yes; one doubt is enough against it. */
export function assemblyVerdict(
  construction: Construction,
  evidence: Evidence,
  results: ReadonlyMap<string, Result>,
  tables: readonly Table[],
): AssemblyVerdict {
  const part = (slot: Slot) => evidence.parts.find((one) => one.slot === slot.slot);
  const rows = matchRowsFor(tables, {
    construction: evidence.wheel.construction,
    diameterCode: diameterCodeOf(evidence.wheel.designation),
    on: evidence.decidedAt.slice(0, 10),
  });
  const pairs = pairsOf(construction).map(([a, b]) => pairChecked([a, b], part(a), part(b), rows));
  const answers = new Map(evidence.assembly.map(({ point, answer }) => [point, answer]));
  const pointsOpen = assemblyPoints
    .filter((point) => answers.get(point.id) !== 'yes')
    .map((point) => point.id);
  const reasons = [
    ...construction.slots
      .filter((slot) => slot.inspected && results.get(slot.slot) !== 'keep')
      .map((slot) => `The ${slot.slot} is ${results.get(slot.slot) ?? 'hold'}, not keep.`),
    ...pairs.filter((pair) => !pair.matches).map((pair) => `${pair.slots.join(' and ')}: ${pair.why}.`),
    ...sizeAgainstFit(evidence, tables),
    ...pointsOpen.map((point) => `Assembly point "${point}" is not answered yes.`),
  ];
  return { fit: reasons.length === 0, pairs, pointsOpen, reasons };
}

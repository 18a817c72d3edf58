import type { LintFinding } from './finding.ts';

/** Findings about two rows that are told: of one row with those before it, and of a whole table. */
const TOLD_OF_ROW_MAX = 20;
const TOLD_MAX = 500;

/** A row, or some of it, with its place in the table. */
interface Placed {
  readonly index: number;
}

/** Takes the findings about two rows, of which a long table may hold millions. */
export interface Telling {
  /** Counts a finding about row `b` and row `a` before it; `finding` is asked for only when it may be told. */
  tell<T extends Placed>(
    severity: LintFinding['severity'],
    a: T,
    b: T,
    finding: (a: T, b: T) => PairFinding,
  ): void;
}

/** A finding about two rows; how severe it is, is known already. */
export type PairFinding = Omit<LintFinding, 'severity'>;

/** One finding that may be told, and the later of its rows. */
interface Told extends Placed {
  readonly finding: LintFinding;
}

/** Counts up to a limit for each row and for all: false from there on. */
function counter(): (index: number) => boolean {
  const ofRow = new Map<number, number>();
  let all = 0;
  return (index) => {
    if (all >= TOLD_MAX) return false;
    const own = ofRow.get(index) ?? 0;
    if (own >= TOLD_OF_ROW_MAX) return false;
    all += 1;
    ofRow.set(index, own + 1);
    return true;
  };
}

/** Said last, so that nobody takes what is told for all there is. */
function untold(more: number): LintFinding {
  return {
    lint: 'more',
    severity: 'warning',
    rows: [],
    field: 'rows',
    message: `${more} more findings about two rows are not told`,
    wayOut: 'Put right what is told, then look through the table again.',
  };
}

/**
 * What `look` finds about two rows: errors first, at most `TOLD_OF_ROW_MAX` of one row with those before it and
 * `TOLD_MAX` in all; `more` says how many others there are, null when there are none.
 */
export function tellPairs(look: (telling: Telling) => void): {
  readonly told: readonly LintFinding[];
  readonly more: LintFinding | null;
} {
  const found = { error: [] as Told[], warning: [] as Told[] };
  const wanted = { error: counter(), warning: counter() };
  let all = 0;
  look({
    tell(severity, a, b, finding) {
      all += 1;
      if (!wanted[severity](b.index)) return;
      found[severity].push({ index: b.index, finding: { ...finding(a, b), severity } });
    },
  });
  const isTold = counter();
  const told = [...found.error, ...found.warning]
    .filter(({ index }) => isTold(index))
    .map(({ finding }) => finding);
  return { told, more: all > told.length ? untold(all - told.length) : null };
}

/** Calls `look` for every two of a list, the one that stands before the other first. */
export function forPairs<T>(list: readonly T[], look: (a: T, b: T) => void): void {
  list.forEach((b, index) => {
    for (let before = 0; before < index; before += 1) look(list[before] as T, b);
  });
}

/** The members of a list by a key, in their order. */
export function grouped<K, T>(list: readonly T[], keyOf: (one: T) => K): Map<K, T[]> {
  const groups = new Map<K, T[]>();
  for (const one of list) {
    const key = keyOf(one);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [one]);
    else group.push(one);
  }
  return groups;
}

/** What the linter looks for. */
export type Lint =
  | 'reaches nothing'
  | 'overlap'
  | 'contradiction'
  | 'shadowed'
  | 'gap'
  | 'mixed units'
  | 'source'
  | 'worse is milder';

/** Something wrong (`error`) or doubtful (`warning`) in a table that can be read. */
export interface LintFinding {
  readonly lint: Lint;
  readonly severity: 'error' | 'warning';
  /** Names of the rows concerned, in the order of the table. */
  readonly rows: readonly string[];
  /** Where to put it right: "rows.3.keep.min". */
  readonly field: string;
  readonly message: string;
  readonly wayOut: string;
}

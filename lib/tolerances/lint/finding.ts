/** What the linter looks for. */
export type Lint =
  | 'reaches nothing'
  | 'overlap'
  | 'contradiction'
  | 'shadowed'
  | 'gap'
  | 'mixed units'
  | 'name'
  | 'source'
  | 'worse is milder'
  | 'more';

/** Something wrong (`error`) or doubtful (`warning`) in a table that can be read. */
export interface LintFinding {
  readonly lint: Lint;
  readonly severity: 'error' | 'warning';
  /** Names of the rows concerned, in the order of the table; none when it is about the table itself. */
  readonly rows: readonly string[];
  /** Where to put it right: "rows.3.keep.min", "scope.makers.0"; "rows" for all of them. */
  readonly field: string;
  readonly message: string;
  readonly wayOut: string;
}

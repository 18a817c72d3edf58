import type { Row } from './table.ts';

/** What a line of the file can be: the table itself, or a row; rows that ask for evidence are of two sorts. */
export const LINE_KINDS = [
  'table',
  'limit',
  'defect',
  'no rework',
  'test',
  'age',
  'match',
  'evidence (photo)',
  'evidence (reading)',
] as const;
export type LineKind = (typeof LINE_KINDS)[number];

/**
 * How the cells of a column are written. `size` and `bound` are in the unit of the line, as `length` and `area` are;
 * a bound may be in percent. `words`, `numbers` and `pairs` are lists; `two words` is one of exactly two, whose order
 * says something.
 */
export type CellForm =
  | 'text'
  | 'word'
  | 'words'
  | 'two words'
  | 'number'
  | 'numbers'
  | 'size'
  | 'bound'
  | 'length'
  | 'area'
  | 'pairs';

/** A column: where its cells go, by kind of line. A kind that is not named leaves the cell empty. */
export interface Column {
  readonly name: string;
  readonly form: CellForm;
  /** Path inside the table or the row; empty for a cell that steers the reading and is not stored as it is. */
  readonly paths: Readonly<Partial<Record<LineKind, string>>>;
  /** Kinds of line that cannot do without a filled cell. */
  readonly needed: readonly LineKind[];
}

const ASKING: readonly LineKind[] = ['evidence (photo)', 'evidence (reading)'];
const SELECTING: readonly LineKind[] = ['limit', 'defect', 'no rework', 'test', 'age', ...ASKING];
const ROWS: readonly LineKind[] = [...SELECTING, 'match'];
const REPAIRED: readonly LineKind[] = ['limit', 'defect', 'age'];
const SAYING: readonly LineKind[] = ['defect', 'no rework', 'age', 'match'];

type Paths = Column['paths'];

/** The same path for several kinds of line. */
function on(kinds: readonly LineKind[], path: string): Paths {
  return Object.fromEntries(kinds.map((kind) => [kind, path]));
}

function column(name: string, form: CellForm, paths: Paths, needed: readonly LineKind[] = []): Column {
  return { name, form, paths, needed };
}

/** A column that every kind of line it belongs to must fill. */
function neededColumn(name: string, form: CellForm, paths: Paths): Column {
  return column(
    name,
    form,
    paths,
    LINE_KINDS.filter((kind) => paths[kind] !== undefined),
  );
}

/**
 * All columns, in the order in which they are written. The last is no free text, so that a carriage return before
 * the end of a line never belongs to a cell.
 */
export const COLUMNS: readonly Column[] = [
  neededColumn('type', 'word', { table: '', ...on(ROWS, 'type') }),
  neededColumn('name', 'text', { table: 'table', ...on(ROWS, 'row') }),
  neededColumn('title', 'text', { table: 'title' }),
  neededColumn('edition', 'text', { table: 'edition' }),
  neededColumn('issued by', 'text', { table: 'issuedBy' }),
  column('makers', 'words', { table: 'scope.makers' }),
  column('series', 'words', { table: 'scope.series' }),
  column('constructions', 'words', { table: 'scope.constructions' }),
  neededColumn('effective from', 'word', { table: 'effectiveFrom' }),
  column('effective until', 'word', { table: 'effectiveUntil' }),
  neededColumn('decision rule', 'word', { table: 'decision.rule' }),
  column('risk', 'number', { table: 'decision.risk' }),
  column('components', 'words', { table: 'scope.components', ...on(SELECTING, 'components') }),
  column('zones', 'words', on(SELECTING, 'zones')),
  column('diameter from', 'number', { table: 'scope.diameterCodes.min', ...on(ROWS, 'diameterCodes.min') }),
  column('diameter to', 'number', { table: 'scope.diameterCodes.max', ...on(ROWS, 'diameterCodes.max') }),
  neededColumn('characteristic', 'word', {
    limit: 'characteristic',
    'evidence (reading)': 'ask.characteristic',
  }),
  column('states', 'words', { limit: 'states' }),
  column('unit', 'word', on(['limit', 'defect'], '')),
  column('bounds of', 'word', { limit: 'boundsOf' }),
  column('nominal', 'size', { limit: 'nominal.value' }),
  column('nominal uncertainty', 'size', { limit: 'nominal.u' }),
  column('keep min', 'bound', { limit: 'keep.min' }),
  column('keep max', 'bound', { limit: 'keep.max' }),
  column('repair min', 'bound', { limit: 'repair.min' }),
  column('repair max', 'bound', { limit: 'repair.max' }),
  neededColumn('defects', 'words', { defect: 'defects' }),
  neededColumn('verdict', 'word', { defect: 'verdict' }),
  column('repair up to length', 'length', { defect: 'repairUpToMm' }),
  column('repair up to area', 'area', { defect: 'repairUpToMm2' }),
  column('repair needs', 'word', on(REPAIRED, 'repairNeeds')),
  neededColumn('methods', 'words', on(['limit', 'test'], 'methods')),
  column('within months', 'number', { test: 'withinMonths' }),
  column('within hours', 'number', { test: 'withinHours' }),
  column('up to years', 'number', { age: 'upToYears' }),
  column('up to hours', 'number', { age: 'upToHours' }),
  neededColumn('beyond', 'word', { age: 'beyond' }),
  neededColumn('unknown', 'word', { age: 'unknown' }),
  neededColumn('between', 'two words', { match: 'between' }),
  neededColumn('pairs', 'pairs', { match: 'pairs' }),
  neededColumn('together', 'word', { match: 'together' }),
  neededColumn('ask', 'word', on(ASKING, 'ask.what')),
  column('positions', 'numbers', { 'evidence (reading)': 'ask.positions' }),
  neededColumn('repeats', 'number', { 'evidence (reading)': 'ask.repeats' }),
  column('state', 'word', { 'evidence (reading)': 'ask.state' }),
  neededColumn('says', 'text', on(SAYING, 'says')),
  column('note', 'text', on(ROWS, 'note')),
  neededColumn('source title', 'text', on(ROWS, 'source.title')),
  column('source section', 'text', on(ROWS, 'source.section')),
  column('source page', 'text', on(ROWS, 'source.page')),
  column('source edition', 'text', on(ROWS, 'source.edition')),
  neededColumn('source kind', 'word', on(ROWS, 'source.kind')),
];

/** Whether the cells of a column are sizes, in the unit of their line. */
export function hasSize({ form }: Column): boolean {
  return form === 'size' || form === 'bound' || form === 'length' || form === 'area';
}

/** The kind of line that a row makes. */
export function kindOfRow(row: Row): LineKind {
  if (row.type !== 'evidence') return row.type;
  return row.ask.what === 'photo' ? 'evidence (photo)' : 'evidence (reading)';
}

/** Kinds of line that use a column, for a sentence. */
export function usersOf({ paths }: Column): string {
  return LINE_KINDS.filter((kind) => paths[kind] !== undefined).join(', ');
}

/**
 * The column that a field of a table or row is written in, "keep.min" or "pairs.0.1.maker"; for a whole, "keep", its
 * first column.
 */
export function columnOfField(kind: LineKind, field: string): Column | undefined {
  const used = COLUMNS.flatMap((column) => {
    const path = column.paths[kind];
    return path ? [{ column, path }] : [];
  });
  const itself = used.find(({ path }) => path === field || field.startsWith(`${path}.`));
  return (itself ?? used.find(({ path }) => path.startsWith(`${field}.`)))?.column;
}

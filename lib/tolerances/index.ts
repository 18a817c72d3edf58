export { boundsAsSize, nominalU } from './bounds.ts';
export { bundledTables, tablesNamed } from './bundled.ts';
export { type PlacedTable, tableFromCsv, tableToCsv } from './csv.ts';
export { readTableFile, type TableFile } from './file.ts';
export { type Lint, type LintFinding, lintTable } from './lint/index.ts';
export { parseTable } from './parse.ts';
export { type Place, placesOfLimit } from './reach.ts';
export {
  isDemonstration,
  matchRowsFor,
  type PartFacts,
  type RowInTable,
  rowsFor,
  tableApplies,
  tableHash,
} from './select.ts';
export {
  type AgeRow,
  Bounds,
  type BoundsOf,
  type DefectRow,
  type EvidenceRow,
  type LimitRow,
  type MatchRow,
  type NoReworkRow,
  type RepairNeeds,
  type Row,
  Source,
  type SourceKind,
  Table,
  type TestRow,
} from './table.ts';

export { boundsAsSize, nominalU } from './bounds.ts';
export { bundledTables, tablesNamed } from './bundled.ts';
export { parseTable } from './parse.ts';
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

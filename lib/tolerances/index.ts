export { bundledTables, tablesNamed } from './bundled.ts';
export { parseTable } from './parse.ts';
export {
  isDemonstration,
  type PartFacts,
  type RowInTable,
  rowsFor,
  tableApplies,
  tableHash,
} from './select.ts';
export {
  Bounds,
  type DefectRow,
  type LimitRow,
  type NoReworkRow,
  type RepairNeeds,
  type Row,
  Source,
  type SourceKind,
  Table,
  type TestRow,
} from './table.ts';

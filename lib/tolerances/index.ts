export { boundsAsSize, nominalU } from './bounds.ts';
export { bundledTables, tablesNamed } from './bundled.ts';
export { type PlacedTable, tableFromCsv, tableToCsv } from './csv.ts';
export { type Column, LINE_KINDS, type LineKind } from './csvColumns.ts';
export { readTableFile, type TableFile } from './file.ts';
export { type Lint, type LintFinding, lintTable } from './lint/index.ts';
export {
  type ContentsRead,
  type Drafted,
  editionInForce,
  foldTables,
  nameTaken,
  type Said,
  type TableOnFile,
  type TablesOnFile,
  tablesInForce,
  type UnreadableTable,
} from './onFile.ts';
export { optionsOf } from './options.ts';
export { parseTable } from './parse.ts';
export { codesIn, codesOf, type Place, placesOfLimit, zonedPlacesOfLimit } from './reach.ts';
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
  columnsOf,
  type ReadSheet,
  readSheet,
  type Sheet,
  type SheetLine,
  type SheetProblem,
  sheetOf,
} from './sheet.ts';
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

import Papa from 'papaparse';

/** Cells of a line by the name of their column. */
export type Line = Readonly<Record<string, string>>;

export const tableLine: Line = {
  type: 'table',
  name: 'test table',
  title: 'Test table',
  edition: '1',
  'issued by': 'tests',
  'effective from': '2000-01-01',
  'decision rule': 'guarded',
};
const source: Line = { 'source title': 'Test', 'source kind': 'demonstration' };

/** A sound line of each type; what a test is about overrides. */
export const limitLine: Line = {
  type: 'limit',
  name: 'a limit',
  components: 'rim base',
  characteristic: 'gutter depth',
  unit: 'mm',
  'keep min': '10',
  'repair min': '8',
  methods: 'gauge',
  ...source,
};
export const defectLine: Line = {
  type: 'defect',
  name: 'a defect',
  defects: 'crack',
  verdict: 'scrap',
  says: 'Cracked parts go.',
  ...source,
};
export const testLine: Line = {
  type: 'test',
  name: 'a test',
  methods: 'penetrant',
  'within months': '12',
  ...source,
};
export const matchLine: Line = {
  type: 'match',
  name: 'a match',
  between: 'lock ring; rim base',
  pairs: 'Ring + Base | B',
  together: 'may',
  says: 'The ring suits.',
  ...source,
};
export const evidenceLine: Line = {
  type: 'evidence',
  name: 'readings',
  ask: 'reading',
  characteristic: 'gutter depth',
  positions: '3; 6',
  repeats: '2',
  ...source,
};

/** A file of these lines, with the columns that they name and no others. */
export function csvOf(...lines: readonly Line[]): string {
  const columns = [...new Set(lines.flatMap((line) => Object.keys(line)))];
  return Papa.unparse([columns, ...lines.map((line) => columns.map((column) => line[column] ?? ''))], {
    newline: '\n',
  });
}

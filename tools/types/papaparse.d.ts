/**
 * What the core uses of papaparse. The library's own types bring those of Node.js and the DOM with them, which
 * `tsconfig.core.json` keeps out of the core.
 */
declare namespace Papa {
  interface ParseError {
    /** Index of the record, from 0. */
    readonly row?: number;
    readonly code: string;
  }
  function parse<T>(
    text: string,
    config: { delimiter: string; newline: '\r\n' | '\n' | '\r' },
  ): { readonly data: T[]; readonly errors: readonly ParseError[] };
  /** With a header line: each record by its columns. */
  function parse<T extends Record<string, string>>(
    text: string,
    config: {
      header: true;
      skipEmptyLines: 'greedy';
      transformHeader: (header: string) => string;
      transform: (cell: string) => string;
    },
  ): {
    readonly data: T[];
    readonly errors: readonly ParseError[];
    readonly meta: { readonly fields?: readonly string[] };
  };
  /** Cells between commas, lines between CR LF. */
  function unparse(
    lines: string[][] | { fields: readonly string[]; data: readonly Record<string, string>[] },
    config?: { escapeFormulae: boolean },
  ): string;
}
export default Papa;

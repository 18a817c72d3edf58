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
  /** Cells between commas, lines between CR LF. */
  function unparse(lines: string[][]): string;
}
export default Papa;

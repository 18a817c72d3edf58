import type { Instrument } from '../readings/index.ts';
import type { TableUsed } from './evaluate.ts';
import type { ReadingEvidence } from './evidence.ts';
import type { Finding, OtherAnswer, RuleCited } from './finding.ts';
import { sourceText } from './words.ts';

/** One step of how a finding came about: what it is about, what came out, and the particulars. */
export interface TraceStep {
  readonly title: string;
  readonly gist: string;
  readonly lines: readonly string[];
}

/** What a trace is told from, beside the finding: readings of the part, tables of the verdict, instruments of the site. */
export interface TraceContext {
  readonly readings: readonly ReadingEvidence[];
  readonly tables: readonly TableUsed[];
  readonly instruments: readonly Instrument[];
  /** The moment of the verdict, ISO 8601. */
  readonly at: string;
}

function titled(
  tables: readonly TableUsed[],
  { table, edition }: Pick<RuleCited, 'table' | 'edition'>,
): string {
  const used = tables.find((one) => one.table === table && one.edition === edition);
  return `${used?.title ?? table}, ${edition}`;
}

/** Table, row and source of a rule. */
export function ruleLines(rule: RuleCited, tables: readonly TableUsed[]): string[] {
  return [
    `Table: ${titled(tables, rule)}`,
    `Row: ${rule.row}`,
    // Any other kind stands in the text already.
    `Source: ${sourceText(rule.source)}${rule.source.kind === 'published' ? ' (published)' : ''}`,
  ];
}

/** The steps after the class by the row: rework, what other rows said, and the class that counts. */
export function closingSteps(finding: Finding, tables: readonly TableUsed[]): TraceStep[] {
  const { noRework } = finding;
  const others: readonly OtherAnswer[] = finding.about === 'age' ? [] : (finding.others ?? []);
  return [
    ...(noRework === null
      ? []
      : [
          { title: 'Rework', gist: 'not on offer: repair becomes scrap', lines: ruleLines(noRework, tables) },
        ]),
    ...(others.length === 0
      ? []
      : [
          {
            title: 'Other rows',
            gist: `${others.length === 1 ? 'one other speaks' : `${others.length} others speak`} of the same; the strictest counts`,
            lines: others.map((other) => `${titled(tables, other)}, row ${other.row}: ${other.class}`),
          },
        ]),
    { title: 'Class', gist: finding.class, lines: [] },
  ];
}

import type { Instrument } from '../../lib/readings/index.ts';
import {
  atHandFor,
  evaluate,
  type Finding,
  inEffectOn,
  readInspectionFile,
  sentenceOf,
  settlingSentences,
  type Verdict,
  whatWouldSettle,
} from '../../lib/rules/index.ts';
import { bundledTables, type Table } from '../../lib/tolerances/index.ts';
import type { UnitPreference } from '../../lib/units/index.ts';
import { EXIT_OK } from './exit.ts';
import { BadInput, oneFile, readJson, readOptions, tablesFrom, unitsFrom, withInput } from './input.ts';

export const assessUsage = `assess FILE.json [--table T]… [--units metric|imperial] [--json]
  Decides keep, repair, scrap or hold for every part in an inspection file.
  --table   a tolerance table (JSON or CSV) to apply; may be given several times. Without it the tables
            named in the file are applied (bundled: ${bundledTables.map((table) => `"${table.table}"`).join(', ')}).
  --units   units of the sentences; metric without it. The stored verdict is metric either way.
  --json    print the whole verdict as JSON instead of sentences.`;

/** What would settle a doubtful finding with the instruments of the file; nothing where it is settled. */
function settlingOf(
  finding: Finding,
  slot: string,
  { inputs }: Verdict,
  instruments: readonly Instrument[],
  units: UnitPreference,
): string[] {
  if (finding.about !== 'limit') return [];
  const readings = inputs.parts.find((part) => part.slot === slot)?.readings ?? [];
  const atHand = atHandFor(finding.characteristic, instruments, inputs.decidedAt);
  const settling = whatWouldSettle(finding, readings, atHand);
  return settling === null ? [] : settlingSentences(finding, settling, units);
}

function printed(verdict: Verdict, instruments: readonly Instrument[], units: UnitPreference): string {
  const lines: string[] = [];
  for (const part of verdict.parts) {
    lines.push(
      `${part.result.toUpperCase().padEnd(7)} ${part.sentence}${part.demonstration ? ' [rests on demonstration limits]' : ''}`,
    );
    for (const finding of part.findings) {
      lines.push(`    ${finding.class.padEnd(7)} ${sentenceOf(finding, units)}`);
      for (const sentence of settlingOf(finding, part.slot, verdict, instruments, units))
        lines.push(`    settle  ${sentence}`);
    }
    for (const missing of part.missing) lines.push(`    missing ${missing.text}`);
  }
  lines.push(
    verdict.assembly.fit ? 'FIT     The set may go together.' : 'NOT FIT The set may not go together:',
  );
  for (const reason of verdict.assembly.reasons) lines.push(`    ${reason}`);
  lines.push(
    '',
    `Tables: ${verdict.tables.length === 0 ? 'none' : verdict.tables.map((table) => `${table.title} (${table.edition})`).join('; ')}.`,
    'The decision belongs to a competent person under local codes and the maker’s manual.',
  );
  return lines.join('\n');
}

/** A line for each table that was given and was not in effect on the day of the verdict. */
function notInEffect(tables: readonly Table[], decidedAt: string): string[] {
  const on = decidedAt.slice(0, 10);
  return tables
    .filter((table) => !inEffectOn(table, on))
    .map(({ title, edition, effectiveFrom, effectiveUntil }) => {
      const when =
        effectiveFrom > on ? `in effect from ${effectiveFrom} on` : `in effect until ${effectiveUntil}`;
      return `Not applied: ${title} (${edition}), ${when}, not on ${on}.`;
    });
}

/** The `assess` command: 0 with an answer, 2 with every problem of the input on standard error. */
export function assess(args: string[]): number {
  return withInput(() => {
    const { values, positionals } = readOptions(args, {
      table: { type: 'string', multiple: true },
      units: { type: 'string' },
      json: { type: 'boolean' },
    });
    const units = unitsFrom(values.units);
    const file = readInspectionFile(readJson(oneFile('assess', positionals), 'FILE.json'));
    if (!file.ok) throw new BadInput(file.error);
    const { evidence, instruments } = file.value;
    const tables = tablesFrom(values.table ?? [], file.value.tables);
    const verdict = evaluate(evidence, tables);
    if (values.json) console.log(JSON.stringify(verdict, null, 2));
    else {
      console.log(printed(verdict, instruments, units));
      for (const line of notInEffect(tables, evidence.decidedAt)) console.log(line);
    }
    return EXIT_OK;
  });
}

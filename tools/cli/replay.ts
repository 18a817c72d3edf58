import { z } from 'zod';
import { canonicalJson, problem, problemsFromIssues } from '../../lib/base/index.ts';
import { ENGINE, Evidence, evaluate, type Verdict } from '../../lib/rules/index.ts';
import { bundledTables, type Table, tableHash } from '../../lib/tolerances/index.ts';
import { EXIT_BAD_INPUT, EXIT_OK } from './exit.ts';
import { BadInput, oneFile, readJson, readOptions, readTable, withInput } from './input.ts';

export const replayUsage = `replay VERDICT.json [--table T]…
  Decides a stored verdict (from assess --json) again from its own inputs, under the tables with the same content
  hash: the bundled ones and those given. Exit code 0 when every byte is the same, 2 when not, naming what differs.`;

const WAY_OUT = 'Give a verdict as assess --json prints it.';

/** What is needed of a stored verdict to decide it again and to say what differs; all else stays as stored. */
const StoredVerdict = z.looseObject({
  engine: z.string({ error: 'The engine is not named' }),
  inputs: Evidence,
  tables: z.array(z.looseObject({ table: z.string(), edition: z.string(), hash: z.string() }), {
    error: 'The tables are not listed',
  }),
  parts: z.array(z.looseObject({ slot: z.string(), result: z.string() }), {
    error: 'The parts are not listed',
  }),
  assembly: z.looseObject({}, { error: 'The answer for the assembly is not there' }),
});

function storedVerdict(path: string): Verdict {
  const candidate = readJson(path, 'VERDICT.json');
  const parsed = StoredVerdict.safeParse(candidate);
  if (!parsed.success)
    throw new BadInput(problemsFromIssues('verdict', candidate, parsed.error.issues, WAY_OUT));
  // What the parser of this version would drop or fill in must not hide a difference: the inputs stay as stored.
  return candidate as Verdict;
}

function tablesOf(verdict: Verdict, given: readonly Table[]): Table[] {
  const known = new Map([...bundledTables, ...given].map((table) => [tableHash(table), table]));
  return verdict.tables.map((used, index) => {
    const table = known.get(used.hash);
    if (table !== undefined) return table;
    throw new BadInput([
      problem(
        'table-hash',
        `tables.${index}`,
        `${used.table}, ${used.edition}`,
        'No table with this content is at hand',
        'Give its file with --table.',
      ),
    ]);
  });
}

/** The `replay` command: 0 when the stored inputs give the stored bytes again. */
export function replay(args: string[]): number {
  return withInput(() => {
    const { values, positionals } = readOptions(args, { table: { type: 'string', multiple: true } });
    const stored = storedVerdict(oneFile('replay', positionals));
    const given = (values.table ?? []).map((path) => readTable(path, '--table').table);
    const again = evaluate(stored.inputs, tablesOf(stored, given));
    if (canonicalJson(again) === canonicalJson(stored)) {
      console.log(
        `The same, byte for byte: ${again.parts.map((part) => `${part.slot} ${part.result}`).join(', ')}.`,
      );
      return EXIT_OK;
    }
    if (stored.engine !== ENGINE) console.log(`Decided by ${stored.engine}; this is ${ENGINE}.`);
    for (const part of again.parts) {
      const before = stored.parts.find((one) => one.slot === part.slot);
      if (before !== undefined && canonicalJson(before) === canonicalJson(part)) continue;
      console.log(
        `${part.slot}: stored ${before?.result ?? 'nothing'}, now ${part.result}. ${part.sentence}`,
      );
    }
    if (canonicalJson(again.assembly) !== canonicalJson(stored.assembly))
      console.log('The assembly differs.');
    return EXIT_BAD_INPUT;
  });
}

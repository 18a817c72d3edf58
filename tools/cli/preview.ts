import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { counted, type Problem, problem } from '../../lib/base/index.ts';
import {
  type Consequence,
  consequencesOf,
  Evidence,
  inEffectAlways,
  readInspectionFile,
  withDraft,
} from '../../lib/rules/index.ts';
import type { Table } from '../../lib/tolerances/index.ts';
import { EXIT_OK } from './exit.ts';
import { BadInput, readJson, readOptions, readTable, tablesFrom, unitsFrom, withInput } from './input.ts';

export const previewUsage = `preview DRAFT FILE.json… [--table T]… [--units metric|imperial] [--json]
  Decides on inspections again with a draft table (JSON or CSV) in force, in the place of the table with its name or
  beside the others, and lists the parts whose result would change, with the reasons.
  FILE.json is an inspection file, a verdict as assess --json prints it, or a folder of such files.
  --table   a table in force now; may be given several times. Without it the tables named in each inspection
            file, or those a verdict was made with as far as they come with the program.`;

/** One inspection, with the tables it names. */
interface Case {
  readonly file: string;
  readonly evidence: Evidence;
  readonly named: readonly string[];
}

/** The files meant: those of a folder by name, not those in folders within it. */
function filesIn(paths: readonly string[]): string[] {
  return paths.flatMap((path) => {
    const facts = statSync(path, { throwIfNoEntry: false });
    if (facts === undefined || !facts.isDirectory()) return [path];
    return readdirSync(path)
      .filter((name) => name.endsWith('.json'))
      .sort()
      .map((name) => join(path, name));
  });
}

function caseIn(file: string): Case {
  const candidate = readJson(file, 'FILE.json');
  const at = (one: Problem): Problem => ({ ...one, field: `${file}: ${one.field}` });
  if (typeof candidate !== 'object' || candidate === null || !('inputs' in candidate)) {
    const read = readInspectionFile(candidate);
    if (!read.ok) throw new BadInput(read.error.map(at));
    return { file, evidence: read.value.evidence, named: read.value.tables };
  }
  const inputs = Evidence.safeParse(candidate.inputs);
  const { tables } = candidate as { tables?: unknown };
  if (!inputs.success || !Array.isArray(tables)) {
    const wayOut = 'Give a verdict as assess --json prints it.';
    const issues = inputs.success
      ? [problem('verdict', 'tables', tables, 'The tables are not listed', wayOut)]
      : inputs.error.issues.map((issue) =>
          problem('verdict', `inputs.${issue.path.join('.')}`, undefined, issue.message, wayOut),
        );
    throw new BadInput(issues.map(at));
  }
  return { file, evidence: inputs.data, named: tables.map((one: { table?: unknown }) => String(one?.table)) };
}

/** Every case, or every problem of every file. */
function casesIn(files: readonly string[]): Case[] {
  const problems: Problem[] = [];
  const cases: Case[] = [];
  for (const file of files) {
    try {
      cases.push(caseIn(file));
    } catch (error) {
      if (!(error instanceof BadInput)) throw error;
      problems.push(...error.problems);
    }
  }
  if (problems.length > 0) throw new BadInput(problems);
  return cases;
}

interface Changed extends Consequence {
  readonly file: string;
  readonly tag: string;
}

/** The `preview` command: 0 with an answer, 2 with every problem of the input on standard error. */
export function preview(args: string[]): number {
  return withInput(() => {
    const { values, positionals } = readOptions(args, {
      table: { type: 'string', multiple: true },
      units: { type: 'string' },
      json: { type: 'boolean' },
    });
    const units = unitsFrom(values.units);
    const [draftPath, ...paths] = positionals;
    if (draftPath === undefined || paths.length === 0) {
      throw new BadInput([
        problem(
          'arguments',
          'DRAFT FILE.json…',
          positionals.join(' '),
          'preview takes a draft table and the files of inspections',
          'Run: npm run -s rimbook -- preview DRAFT FILE.json…',
        ),
      ]);
    }
    const draft: Table = readTable(draftPath, 'DRAFT').table;
    const given = values.table ?? [];
    const files = filesIn(paths);
    if (files.length === 0) {
      throw new BadInput([
        problem(
          'file-none',
          'FILE.json',
          paths.join(' '),
          'No file of an inspection was found there',
          'Give a folder with files that end in .json, or the files themselves.',
        ),
      ]);
    }
    const cases = casesIn(files);
    const inForce = given.length > 0 ? tablesFrom(given, []) : null;
    let parts = 0;
    const changed: Changed[] = [];
    for (const { file, evidence, named } of cases) {
      const before = inForce ?? tablesFrom([], named);
      const after = inEffectAlways(withDraft(before, draft));
      const found = consequencesOf(evidence, inEffectAlways(before), after, units);
      parts += found.parts;
      changed.push(...found.changed.map((one) => ({ ...one, file, tag: evidence.wheel.tag })));
    }
    if (values.json) console.log(JSON.stringify({ inspections: cases.length, parts, changed }, null, 2));
    else {
      for (const { file, tag, slot, before, after, why } of changed) {
        console.log(`${tag || file}, ${slot}: ${before} would be ${after}`);
        for (const sentence of why) console.log(`    ${sentence}`);
      }
      console.log(
        `${changed.length} of ${counted(parts, 'part')} in ${counted(cases.length, 'inspection')} would change.`,
      );
    }
    return EXIT_OK;
  });
}

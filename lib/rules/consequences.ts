import type { Table } from '../tolerances/index.ts';
import type { UnitPreference } from '../units/index.ts';
import { answersOf, type PartVerdict } from './evaluate.ts';
import type { Evidence } from './evidence.ts';
import type { Result } from './finding.ts';
import { sentenceOf } from './sentences.ts';

/** A part whose result would be another under other tables. */
export interface Consequence {
  readonly slot: string;
  readonly component: string | null;
  readonly before: Result;
  readonly after: Result;
  /** What brings the change about: the deciding findings and gaps that are new, or those that fall away where it is kept. One sentence each. */
  readonly why: readonly string[];
}

/** What other tables would change for one wheel. */
export interface Consequences {
  readonly parts: number;
  readonly changed: readonly Consequence[];
  /** Whether the set may go together, before and after. */
  readonly fit: { readonly before: boolean; readonly after: boolean };
}

/** Sentences behind a result: the findings of the deciding class, or what is missing. */
function reasons({ result, findings, missing }: PartVerdict, units: UnitPreference): string[] {
  if (result === 'hold') return missing.map((one) => one.text);
  return findings.filter((finding) => finding.class === result).map((finding) => sentenceOf(finding, units));
}

function why(before: PartVerdict, after: PartVerdict, units: UnitPreference): string[] {
  const [old, now] = [reasons(before, units), reasons(after, units)];
  // A change to keep has nothing new to show: what held the part back has gone.
  if (after.result === 'keep') return old.map((one) => `No longer: ${one}`);
  const fresh = now.filter((one) => !old.includes(one));
  // A row may say the same and mean another class.
  return fresh.length > 0 ? fresh : now;
}

/**
 * Decides on the evidence of one wheel twice, under the tables `before` and `after`, by this version of the engine and
 * as of the moment the evidence was decided on; gives the parts whose result differs, in the order of the slots. Give
 * both `inEffectAlways`, so that evidence from before a table's first day shows what it says of it.
 */
export function consequencesOf(
  evidence: Evidence,
  before: readonly Table[],
  after: readonly Table[],
  units: UnitPreference = 'metric',
): Consequences {
  // What was missing then for want of a table is no matter of the tables compared now.
  const { tablesWithout: _, ...inputs } = evidence;
  const [old, now] = [answersOf(inputs, before), answersOf(inputs, after)];
  const changed = now.parts.flatMap((part, index) => {
    const was = old.parts[index];
    if (was === undefined || was.result === part.result) return [];
    const { slot, component } = part;
    return [{ slot, component, before: was.result, after: part.result, why: why(was, part, units) }];
  });
  return { parts: now.parts.length, changed, fit: { before: old.assembly.fit, after: now.assembly.fit } };
}

/** The tables as if they were in effect on any day. */
export function inEffectAlways(tables: readonly Table[]): readonly Table[] {
  return tables.map(({ effectiveUntil: _, ...rest }) => ({ ...rest, effectiveFrom: '0001-01-01' }));
}

/** The tables with a draft in force: in the place of the table with its name, or after the others. */
export function withDraft(tables: readonly Table[], draft: Table): readonly Table[] {
  return tables.some((one) => one.table === draft.table)
    ? tables.map((one) => (one.table === draft.table ? draft : one))
    : [...tables, draft];
}

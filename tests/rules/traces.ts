import { must } from '../../lib/base/index.ts';
import { type Evidence, evaluate, type Finding, type TraceStep, traceOf } from '../../lib/rules/index.ts';
import type { Table } from '../../lib/tolerances/index.ts';
import { part, testSource } from '../support/evidence.ts';

/** A rule against rework, invented. */
export const BAN = { row: 'ban', type: 'no rework', says: 'No heat.', source: testSource };
/** Traces of all findings of the rim base. */
export function tracesOf(evidence: Evidence, under: readonly Table[], units?: 'imperial') {
  const verdict = evaluate(evidence, under);
  const { readings } = part(evidence, 'rim base');
  const context = { readings, tables: verdict.tables, instruments: [], at: evidence.decidedAt };
  return must(verdict.parts[0], 'rim base').findings.map((one: Finding) => traceOf(one, context, units));
}
/** A step of a trace. */
export const step = (title: string, gist: string, ...lines: string[]): TraceStep => ({ title, gist, lines });

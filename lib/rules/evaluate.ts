import { isDemonstration, type PartFacts, type Table, tableHash } from '../tolerances/index.ts';
import { type Construction, constructionOf, type Slot } from '../wheel/index.ts';
import { judgeAge } from './age.ts';
import { decidedBy, decidingText, strictestFirst, withOthers } from './deciding.ts';
import { judgeDefects } from './defects.ts';
import type { Evidence, PartEvidence } from './evidence.ts';
import {
  type Class,
  type Finding,
  type Missing,
  type Result,
  type RuleCited,
  worstClass,
} from './finding.ts';
import { type AssemblyVerdict, assemblyVerdict } from './fit.ts';
import { contextOf, judgeLimits } from './limits.ts';
import { missingOf } from './missing.ts';
import { inOrder } from './order.ts';
import { diameterCodeOf, sizeMissing } from './wheelSize.ts';

/** Name and version of the engine; any change of an answer raises the version. */
export const ENGINE = 'rimbook rules 3';

export interface TableUsed {
  readonly table: string;
  readonly edition: string;
  readonly title: string;
  /** SHA-256 of the table's canonical JSON. */
  readonly hash: string;
  readonly demonstration: boolean;
}

export interface PartVerdict {
  readonly slot: string;
  readonly component: string | null;
  readonly result: Result;
  /** Worst class among the findings; null when there are none. */
  readonly worst: Class | null;
  /** The rows whose findings gave the worst class, the strictest first, rules against rework included. */
  readonly decidedBy: readonly RuleCited[];
  readonly findings: readonly Finding[];
  readonly missing: readonly Missing[];
  /** True when a finding rests on a demonstration row. */
  readonly demonstration: boolean;
  readonly sentence: string;
}

/** The whole answer with all that it rests on; `evaluate` of `inputs` under the same tables gives it again. */
export interface Verdict {
  readonly engine: string;
  readonly inputs: Evidence;
  /** Those of the given tables that were in effect on the day of the verdict. */
  readonly tables: readonly TableUsed[];
  readonly parts: readonly PartVerdict[];
  readonly assembly: AssemblyVerdict;
  readonly demonstration: boolean;
}

/** Whether a table is in effect on a day (ISO date), first and last day included. */
export function inEffectOn({ effectiveFrom, effectiveUntil }: Table, on: string): boolean {
  return effectiveFrom <= on && (effectiveUntil === undefined || on <= effectiveUntil);
}

function plural(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

function partSentence(
  slot: Slot,
  result: Result,
  worst: Class | null,
  findings: readonly Finding[],
  missing: readonly Missing[],
  tables: readonly Table[],
): string {
  const name = slot.slot.charAt(0).toUpperCase() + slot.slot.slice(1);
  const deciding = findings.filter((finding) => finding.class === worst);
  const [first] = strictestFirst(deciding);
  switch (result) {
    case 'keep':
      return `${name}: keep. All ${plural(findings.length, 'finding is', 'findings are')} within keep and nothing is missing.`;
    case 'hold':
      return `${name}: hold. ${plural(missing.length, 'thing is', 'things are')} missing; worst finding so far: ${worst ?? 'none'}.`;
    default:
      return (
        `${name}: ${result}, by ${plural(deciding.length, 'finding', 'findings')}.` +
        (first === undefined ? '' : ` ${decidingText(first, tables)}`)
      );
  }
}

function partFacts(part: PartEvidence, slot: Slot, evidence: Evidence): PartFacts {
  return {
    componentKind: slot.kind,
    maker: part.maker,
    series: part.series,
    construction: evidence.wheel.construction,
    diameterCode: diameterCodeOf(evidence.wheel.designation),
  };
}

/** A part that says nothing at all: for slots the evidence leaves out. */
function emptyPart(slot: string): PartEvidence {
  return {
    slot,
    component: null,
    maker: '',
    series: '',
    stamp: '',
    claims: 0,
    absent: false,
    looks: [],
    photos: [],
    readings: [],
    defects: [],
    tests: [],
  };
}

function partVerdict(
  slot: Slot,
  part: PartEvidence,
  evidence: Evidence,
  tables: readonly Table[],
): PartVerdict {
  const facts = partFacts(part, slot, evidence);
  const on = evidence.decidedAt.slice(0, 10);
  const context = contextOf(tables, facts, on);
  const byLimit = judgeLimits(part.readings, context);
  const byDefect = judgeDefects(part, context);
  const byAge = judgeAge(part, context);
  const findings = withOthers([...byLimit.findings, ...byDefect.findings, ...byAge.findings]);
  const missing = [
    ...missingOf(slot, part, evidence, context),
    ...sizeMissing(evidence, tables, facts, on),
    ...byLimit.missing,
    ...byDefect.missing,
    ...byAge.missing,
  ];
  // An age within its limit says nothing of the metal.
  if (byLimit.findings.length + byDefect.findings.length === 0 && missing.length === 0) {
    missing.push({ what: 'reading', text: 'Nothing was compared with any limit.' });
  }
  const worst = worstClass(findings);
  const result: Result = worst === 'scrap' ? 'scrap' : missing.length > 0 || worst === null ? 'hold' : worst;
  return {
    slot: slot.slot,
    component: part.component,
    result,
    worst,
    decidedBy: decidedBy(findings),
    findings,
    missing,
    demonstration: findings.some(
      (finding) =>
        finding.rule?.source.kind === 'demonstration' || finding.noRework?.source.kind === 'demonstration',
    ),
    sentence: partSentence(slot, result, worst, findings, missing, tables),
  };
}

/**
 * Whether a part is in keep and held only for readings in the state "inflated". They can be taken only once the set is
 * together and air is in it: for the question whether it may go together the part counts as keep, and stays on hold.
 */
function keptButInflated({ result, worst, missing }: PartVerdict): boolean {
  return (
    result === 'hold' &&
    worst === 'keep' &&
    missing.every((one) => one.what === 'reading' && one.state === 'inflated')
  );
}

/**
 * Decides keep, repair, scrap or hold for every part of a wheel, and whether the set may go together.
 * Pure: the same evidence and tables give the same bytes. A scrap finding decides whatever is missing; otherwise
 * missing evidence holds the part; otherwise the worst finding is the answer. Without evidence nothing is kept.
 * Decision under uncertainty after JCGM 106:2012: the mildest class for which the probability that the truth is
 * worse does not exceed the table's risk.
 */
export function evaluate(inputs: Evidence, tables: readonly Table[]): Verdict {
  const { parts, assembly } = answersOf(inputs, tables);
  return {
    engine: ENGINE,
    inputs,
    tables: tables
      .filter((table) => inEffectOn(table, inputs.decidedAt.slice(0, 10)))
      .map((table) => ({
        table: table.table,
        edition: table.edition,
        title: table.title,
        hash: tableHash(table),
        demonstration: isDemonstration(table),
      })),
    parts,
    assembly,
    demonstration:
      parts.some((part) => part.demonstration) ||
      assembly.pairs.some(({ rules = [] }) => rules.some(({ source }) => source.kind === 'demonstration')),
  };
}

/** The answers of `evaluate` without what they rest on: for comparing many tables, whose hashes take longer than the answers. */
export function answersOf(inputs: Evidence, tables: readonly Table[]): Pick<Verdict, 'parts' | 'assembly'> {
  const evidence = inOrder(inputs);
  const construction: Construction = constructionOf(evidence.wheel.construction);
  const parts = construction.slots
    .filter((slot) => slot.inspected)
    .map((slot) => {
      const part = evidence.parts.find((one) => one.slot === slot.slot) ?? emptyPart(slot.slot);
      return partVerdict(slot, part, evidence, tables);
    });
  const results = new Map(parts.map((part) => [part.slot, keptButInflated(part) ? 'keep' : part.result]));
  return { parts, assembly: assemblyVerdict(construction, evidence, results, tables) };
}

import { showLength, showProbability, type UnitPreference } from '../units/index.ts';
import type { AgeFinding, DefectFinding, Finding } from './finding.ts';
import { defectText, hoursText, madeText } from './sentences.ts';
import { limitSteps } from './traceLimit.ts';
import { closingSteps, ruleLines, type TraceContext, type TraceStep } from './traceSteps.ts';
import { sizeText } from './words.ts';

function defectSteps(
  finding: DefectFinding,
  { tables }: TraceContext,
  preference: UnitPreference,
): TraceStep[] {
  const { basis, rule } = finding;
  const upTo = [
    ...(basis?.repairUpToMm == null
      ? []
      : [`Repair is open up to ${showLength(basis.repairUpToMm, preference)} long`]),
    ...(basis?.repairUpToMm2 == null
      ? []
      : [`Repair is open up to ${sizeText('corrosion area', basis.repairUpToMm2, preference)}`]),
  ];
  const area = basis?.areaMm2 ?? null;
  const sizes =
    area === null
      ? []
      : [
          `Area: ${sizeText('corrosion area', area.value, preference)} ± ${sizeText('corrosion area', 2 * area.u, preference)} (k = 2)`,
        ];
  return [
    {
      title: 'Seen',
      gist: basis === undefined ? finding.sentence : defectText({ ...finding, basis }, preference),
      lines: sizes,
    },
    rule === null
      ? { title: 'Rule', gist: 'none on file: out of service all the same', lines: [] }
      : { title: 'Rule', gist: basis?.says ?? rule.row, lines: [...upTo, ...ruleLines(rule, tables)] },
    ...closingSteps(finding, tables),
  ];
}

function ageSteps(finding: AgeFinding, { tables }: TraceContext): TraceStep[] {
  const { basis, beyond, unknown, rule } = finding;
  const both =
    basis !== undefined && basis.upToYears !== null && basis.upToHours !== null && unknown.length === 0;
  const limits =
    basis === undefined
      ? []
      : [
          ...(basis.upToYears === null ? [] : [`Limit: ${basis.upToYears} years`]),
          ...(basis.upToHours === null ? [] : [`Limit: ${basis.upToHours} h on duty`]),
        ];
  return [
    {
      title: 'Age and hours',
      gist: basis === undefined ? finding.sentence : madeText(finding.made, basis.on),
      lines: [hoursText(finding.dutyHours), ...unknown.map((what) => `Nobody knows ${what}`)],
    },
    { title: 'Rule', gist: basis?.says ?? rule.row, lines: [...limits, ...ruleLines(rule, tables)] },
    {
      title: 'Beyond the limit',
      gist: beyond === null ? 'cannot be said' : `with probability ${showProbability(beyond)}`,
      lines: both ? ['By years or by hours, whichever comes first; the two are taken as independent'] : [],
    },
    ...closingSteps(finding, tables),
  ];
}

/**
 * How a finding came about, step by step, from the readings as typed to the class that counts, and what would settle it
 * where it is in doubt. Lengths in mm or inches, areas in cm² or in². Told from the finding and the evidence alone, for
 * findings of earlier versions too, as far as they say.
 */
export function traceOf(
  finding: Finding,
  context: TraceContext,
  preference: UnitPreference = 'metric',
): TraceStep[] {
  switch (finding.about) {
    case 'limit':
      return limitSteps(finding, context, preference);
    case 'defect':
      return defectSteps(finding, context, preference);
    case 'age':
      return ageSteps(finding, context);
  }
}

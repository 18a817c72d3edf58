import type { Table } from '../tolerances/index.ts';
import {
  CLASSES,
  type Class,
  type Finding,
  type OtherAnswer,
  type RuleCited,
  worstClass,
} from './finding.ts';
import { atClock, DEFECT_NAMES, quantityText } from './words.ts';

/** The class by the row itself, before a rule against rework. */
function plainClass(finding: Finding): Class {
  return finding.noRework === null ? finding.class : 'repair';
}

/** How likely it is that the truth is worse than the row allows; a defect is there. */
function beyond(finding: Finding): readonly [number, number] {
  if (finding.about === 'limit') return [finding.beyondRepair, finding.beyondKeep];
  return finding.about === 'defect' ? [1, 1] : [finding.beyond ?? 1, finding.beyond ?? 1];
}

/**
 * Findings from the strictest on: by class, then by the class of the row itself, then by the probability of being beyond
 * repair and beyond keep; findings that are alike in all of these stay in their order.
 */
export function strictestFirst<F extends Finding>(findings: readonly F[]): F[] {
  const severity = (one: Class) => CLASSES.indexOf(one);
  return [...findings].sort((a, b) => {
    const [[repairA, keepA], [repairB, keepB]] = [beyond(a), beyond(b)];
    return (
      severity(b.class) - severity(a.class) ||
      severity(plainClass(b)) - severity(plainClass(a)) ||
      repairB - repairA ||
      keepB - keepA
    );
  });
}

/** The rows behind the worst class among the findings, the strictest first, each once; a rule against rework after the row it changed. */
export function decidedBy(findings: readonly Finding[]): RuleCited[] {
  const worst = worstClass(findings);
  const cited = strictestFirst(findings.filter((finding) => finding.class === worst)).flatMap(
    ({ rule, noRework }) => [rule, noRework].filter((one) => one !== null),
  );
  const seen = new Set<string>();
  return cited.filter(({ table, edition, row }) => {
    const key = JSON.stringify([table, edition, row]);
    return !seen.has(key) && seen.add(key);
  });
}

/** What a finding is about, so that rows that speak of the same thing meet; null where rows never do. */
function subjectOf(finding: Finding): string | null {
  if (finding.about === 'age') return null;
  if (finding.about === 'defect') return JSON.stringify(['defect', finding.defectId]);
  const { characteristic, zone, state } = finding;
  // Each patch of corrosion is compared on its own.
  const patch =
    characteristic === 'corrosion area' ? finding.positions.flatMap((place) => place.readings) : [];
  return JSON.stringify(['limit', characteristic, zone, state, patch]);
}

/** The findings, each with what the other rows said of the same quantity or defect. */
export function withOthers(findings: readonly Finding[]): Finding[] {
  const bySubject = new Map<string, Finding[]>();
  for (const finding of findings) {
    const subject = subjectOf(finding);
    if (subject !== null) bySubject.set(subject, [...(bySubject.get(subject) ?? []), finding]);
  }
  return findings.map((finding) => {
    const others = (bySubject.get(subjectOf(finding) ?? '') ?? []).flatMap((other): OtherAnswer[] => {
      if (other === finding || other.rule === null) return [];
      const { table, edition, row } = other.rule;
      return [{ table, edition, row, class: other.class }];
    });
    return others.length === 0 ? finding : { ...finding, others };
  });
}

function subjectText(finding: Finding): string {
  switch (finding.about) {
    case 'limit':
      return `${quantityText(finding)}${atClock(finding.governing.clock)}`;
    case 'defect':
      return `${DEFECT_NAMES[finding.defect]}, ${finding.zone}${atClock(finding.clock)}`;
    case 'age':
      return 'Its age or hours on duty';
  }
}

const WOULD: Readonly<Record<Class, string>> = {
  keep: 'would have kept it',
  repair: 'would have left it at repair',
  scrap: 'says scrap too',
};

/** Which finding decides and whose row it is by, with milder answers of other tables: the second half of a part's sentence. */
export function decidingText(finding: Finding, tables: readonly Table[]): string {
  const titled = ({ table, edition }: Pick<RuleCited, 'table' | 'edition'>) =>
    `“${tables.find((one) => one.table === table && one.edition === edition)?.title ?? table}”`;
  const { rule, noRework } = finding;
  const whose =
    rule === null
      ? 'decides; no rule on file speaks of it'
      : `decides, by ${titled(rule)}, row “${rule.row}”`;
  const rework = noRework === null ? '' : `, and ${titled(noRework)} rules rework out`;
  const others = finding.about === 'age' ? [] : (finding.others ?? []);
  const milder = others
    .filter((other) => CLASSES.indexOf(other.class) < CLASSES.indexOf(finding.class))
    .map(
      (other) =>
        `; ${titled(other)}${other.table === rule?.table ? `, row “${other.row}”,` : ''} ${WOULD[other.class]}`,
    );
  return `${subjectText(finding)} ${whose}${rework}${[...new Set(milder)].join('')}.`;
}

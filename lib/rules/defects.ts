import type { DefectKind } from '../marks/index.ts';
import { gaugeCharacteristicsAt } from '../readings/index.ts';
import { type DefectRow, type RowInTable, rowsFor } from '../tolerances/index.ts';
import type { DefectEvidence, PartEvidence, ReadingEvidence, TestEvidence } from './evidence.ts';
import { type Class, cite, type DefectFinding, type LimitFinding, type Missing } from './finding.ts';
import { type Judged, judgeLimits, type PartContext } from './limits.ts';
import { probabilityOutside } from './probability.ts';
import { defectText, said } from './sentences.ts';
import { atClock, DEFECT_NAMES } from './words.ts';

/** Defects that take a part out of service whatever their size; what a rule adds is whether repair is open. */
const OUT_OF_SERVICE: readonly DefectKind[] = ['crack', 'bent', 'broken'];

/**
 * Indications of tests that no later test up to the day `on` of the same zone by the same method has cleared, as cracks of unknown
 * length: a part with an open indication is out of service until a competent person has judged it.
 */
export function openIndications(
  tests: readonly TestEvidence[],
  defects: readonly DefectEvidence[],
  on: string,
): DefectEvidence[] {
  return tests
    .filter((test) => test.result === 'indication')
    .flatMap((test) =>
      test.zones
        .filter((zone) => !defects.some((defect) => defect.defect === 'crack' && defect.zone === zone))
        .filter(
          (zone) =>
            !tests.some(
              (later) =>
                later.result === 'no indication' &&
                later.method === test.method &&
                later.zones.includes(zone) &&
                later.on > test.on &&
                later.on <= on,
            ),
        )
        .map((zone) => ({
          id: `${test.id}:${zone}`,
          defect: 'crack' as const,
          zone,
          clock: null,
          method: test.method,
          note: `indication of ${test.on}`,
          lengthMm: null,
          areaMm2: null,
        })),
    );
}

interface RowJudgement {
  readonly class: Class;
  /** The size that decides and was not measured. */
  readonly sizeNeeded: 'length' | 'area' | null;
}

/** What one row says of one defect; a size that decides and was not measured leaves the milder class, unsettled. */
function judgeRow(defect: DefectEvidence, row: DefectRow, risk: number): RowJudgement {
  if (row.verdict === 'scrap') return { class: 'scrap', sizeNeeded: null };
  const asked = [
    { size: 'length' as const, max: row.repairUpToMm, measured: defect.lengthMm },
    { size: 'area' as const, max: row.repairUpToMm2, measured: defect.areaMm2 },
  ];
  let open: 'length' | 'area' | null = null;
  for (const { size, max, measured } of asked) {
    if (max === undefined) continue;
    if (measured === null) open ??= size;
    else if (probabilityOutside(measured.value, measured.u, { max }) > risk)
      return { class: 'scrap', sizeNeeded: null };
  }
  return { class: 'repair', sizeNeeded: open };
}

/** The fields of a finding that come from the defect and from the row it is judged under, if there is one. */
function ofDefect(defect: DefectEvidence, row: DefectRow | null) {
  return {
    about: 'defect',
    defect: defect.defect,
    defectId: defect.id,
    zone: defect.zone,
    clock: defect.clock,
    method: defect.method,
    basis: {
      note: defect.note,
      lengthMm: defect.lengthMm,
      areaMm2: defect.areaMm2,
      says: row?.says ?? null,
      repairUpToMm: row?.repairUpToMm ?? null,
      repairUpToMm2: row?.repairUpToMm2 ?? null,
    },
  } as const;
}

function findingUnder(
  defect: DefectEvidence,
  inTable: RowInTable<DefectRow>,
  context: PartContext,
): { finding: DefectFinding; sizeNeeded: 'length' | 'area' | null } {
  const { row, table } = inTable;
  const judged = judgeRow(defect, row, table.decision.risk);
  const noRework = judged.class === 'repair' && row.repairNeeds === 'rework' ? context.noRework : null;
  return {
    sizeNeeded: noRework === null ? judged.sizeNeeded : null,
    finding: said<DefectFinding>({
      ...ofDefect(defect, row),
      class: noRework === null ? judged.class : 'scrap',
      rule: cite(inTable),
      noRework,
    }),
  };
}

/** A crack, bend or break that no rule speaks of: out of service all the same, with the rule missing. */
function withoutRule(defect: DefectEvidence, context: PartContext): Judged<DefectFinding> {
  const finding = said<DefectFinding>({
    ...ofDefect(defect, null),
    class: context.noRework === null ? 'repair' : 'scrap',
    rule: null,
    noRework: context.noRework,
  });
  const missing: Missing = {
    what: 'rule',
    text: `${DEFECT_NAMES[defect.defect]}, ${defect.zone}: no rule on file says whether repair is open.`,
    zone: defect.zone,
  };
  return { findings: [finding], missing: [missing] };
}

/** What must be measured before a corroded, pitted or worn place can be judged. */
function sizeMissing(
  defect: DefectEvidence,
  part: PartEvidence,
  kind: PartContext['part']['componentKind'],
): Missing[] {
  const { zone, clock } = defect;
  const name = `${DEFECT_NAMES[defect.defect]}, ${zone}${atClock(clock)}`;
  if (defect.defect === 'pitting') {
    if (part.readings.some((reading) => reading.characteristic === 'pitting depth' && reading.zone === zone))
      return [];
    return [
      {
        what: 'size',
        text: `${name}: the depth of the deepest pit is not measured.`,
        zone,
        characteristic: 'pitting depth',
        clock,
      },
    ];
  }
  const [wearMeasure] = gaugeCharacteristicsAt(kind, zone).filter((one) => one.id !== 'pitting depth');
  if (wearMeasure === undefined) {
    return [
      {
        what: 'rule',
        text: `${name}: no way of measuring wear there is on file; a competent person must judge it.`,
        zone,
      },
    ];
  }
  if (part.readings.some((reading) => reading.characteristic === wearMeasure.id && reading.zone === zone))
    return [];
  return [
    {
      what: 'size',
      text: `${name}: ${wearMeasure.label.toLowerCase()} is not measured.`,
      zone,
      characteristic: wearMeasure.id,
      clock,
    },
  ];
}

function corrosion(defect: DefectEvidence, context: PartContext): Judged<LimitFinding> {
  const { zone, clock } = defect;
  if (defect.areaMm2 === null) {
    const text = `Corrosion, ${zone}${atClock(clock)}: its area is not measured. Outline it on a photo with a scale.`;
    return { findings: [], missing: [{ what: 'size', text, zone, characteristic: 'corrosion area', clock }] };
  }
  const asReading: ReadingEvidence = {
    id: defect.id,
    characteristic: 'corrosion area',
    zone,
    clock,
    state: null,
    valueMm: defect.areaMm2.value,
    uMm: defect.areaMm2.u,
    method: 'photo',
    typed: '',
    instrument: null,
  };
  return judgeLimits([asReading], context);
}

function judgeDefect(
  defect: DefectEvidence,
  part: PartEvidence,
  context: PartContext,
): Judged<DefectFinding | LimitFinding> {
  const rows = rowsFor(context.tables, 'defect', context.part, context.on, defect.zone).filter(({ row }) =>
    row.defects.includes(defect.defect),
  );
  const judged = rows.map((inTable) => findingUnder(defect, inTable, context));
  const findings: (DefectFinding | LimitFinding)[] = judged.map((one) => one.finding);
  const missing: Missing[] = [];
  for (const size of ['length', 'area'] as const) {
    if (!judged.some((one) => one.sizeNeeded === size)) continue;
    missing.push({
      what: 'size',
      text: `${DEFECT_NAMES[defect.defect]}, ${defect.zone}${atClock(defect.clock)}: its ${size} decides between repair and scrap and is not measured.`,
      zone: defect.zone,
      characteristic: size === 'length' ? 'crack length' : 'corrosion area',
      clock: defect.clock,
    });
  }
  if (OUT_OF_SERVICE.includes(defect.defect)) {
    return rows.length > 0 ? { findings, missing } : withoutRule(defect, context);
  }
  if (defect.defect === 'corrosion') {
    const sized = corrosion(defect, context);
    return { findings: [...findings, ...sized.findings], missing: [...missing, ...sized.missing] };
  }
  if (defect.defect === 'other') {
    const text = `${defectText({ ...defect, basis: defect })}: no rule on file; a competent person must judge it.`;
    return rows.length > 0
      ? { findings, missing }
      : { findings, missing: [{ what: 'rule', text, zone: defect.zone }] };
  }
  return { findings, missing: [...missing, ...sizeMissing(defect, part, context.part.componentKind)] };
}

/** Judges every defect of a part, open test indications included. */
export function judgeDefects(part: PartEvidence, context: PartContext): Judged<DefectFinding | LimitFinding> {
  const all = [...part.defects, ...openIndications(part.tests, part.defects, context.on)].map((defect) =>
    judgeDefect(defect, part, context),
  );
  return {
    findings: all.flatMap((one) => one.findings),
    missing: all.flatMap((one) => one.missing),
  };
}

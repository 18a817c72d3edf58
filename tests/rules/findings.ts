import type { AgeFinding, DefectFinding, LimitFinding, PositionValue } from '../../lib/rules/index.ts';
import { Source } from '../../lib/tolerances/index.ts';

/** A source; demonstration unless said otherwise. */
export const source = (over: object = {}) => Source.parse({ title: 'Test', kind: 'demonstration', ...over });

/** A row of table t as it is cited. */
export const cited = (row: string, over: object = {}) => ({
  table: 't',
  edition: '1',
  row,
  source: source(),
  ...over,
});

/** One reading at six o'clock, just inside keep. */
export const place = (over: Partial<PositionValue> = {}): PositionValue => ({
  clock: 6,
  value: 10.55,
  u: 0.1,
  repeats: 1,
  readings: ['r'],
  ...over,
});

/** A limit finding as stored; its own sentence is not read. */
export function limitFinding(over: Partial<LimitFinding> = {}): LimitFinding {
  const governing = over.governing ?? place();
  return {
    about: 'limit',
    characteristic: 'gutter depth',
    state: null,
    zone: 'gutter groove',
    positions: [governing],
    governing,
    keep: { min: 10.5 },
    repair: { min: 9 },
    risk: 0.05,
    decisionRule: 'guarded',
    beyondKeep: 0.0301,
    beyondRepair: 0.0000001,
    margin: 0.05,
    guardedClass: 'keep',
    simpleClass: 'keep',
    class: 'keep',
    rule: cited('depth'),
    noRework: null,
    sentence: '',
    ...over,
  };
}

/** A crack that a row says is scrap. */
export const defectFinding = (over: Partial<DefectFinding> = {}): DefectFinding => ({
  about: 'defect',
  defect: 'crack',
  defectId: 'd',
  zone: 'gutter weld',
  clock: 5,
  method: 'visual',
  class: 'scrap',
  rule: cited('crack'),
  noRework: null,
  sentence: '',
  ...over,
});

/** An age that is as likely as not beyond its limit. */
export const ageFinding = (over: Partial<AgeFinding> = {}): AgeFinding => ({
  about: 'age',
  made: null,
  dutyHours: null,
  unknown: [],
  beyond: 0.5,
  class: 'scrap',
  rule: cited('age'),
  noRework: null,
  sentence: '',
  ...over,
});

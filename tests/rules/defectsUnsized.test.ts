import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { openIndications } from '../../lib/rules/defects.ts';
import { type Evidence, evaluate } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { type Defect, defect, part, soundEvidence, tableOf, testSource } from '../support/evidence.ts';

type Test = Evidence['parts'][number]['tests'][number];
const demonstration = tablesNamed(['demonstration-quillmoor']).tables;
const wear = defect({ defect: 'wear', zone: 'gutter groove' });

/** What is missing for a part with one more defect and none of its readings of a quantity. */
function missingWith(slot: string, over: Partial<Defect>, without: string | null, ...rows: object[]) {
  const evidence = soundEvidence();
  const one = part(evidence, slot);
  one.defects.push({ ...wear, ...over });
  one.readings = one.readings.filter((reading) => reading.characteristic !== without);
  const tables = rows.length === 0 ? demonstration : [...demonstration, tableOf(rows)];
  const verdict = must(
    evaluate(evidence, tables).parts.find((it) => it.slot === slot),
    slot,
  );
  return verdict.missing.filter(({ what }) => what === 'size' || what === 'rule');
}

/** What has to be known of a worn or other place is our own specification, no source. */
describe('worn places', () => {
  test('need the measure of their zone', () => {
    expect(missingWith('rim base', {}, null)).toEqual([]);
    expect(missingWith('rim base', {}, 'gutter depth')).toEqual([
      {
        what: 'size',
        text: "Wear, gutter groove at 5 o'clock: gutter depth is not measured.",
        zone: 'gutter groove',
        characteristic: 'gutter depth',
        clock: 5,
      },
    ]);
    // Neither a reading of the same quantity elsewhere will do, nor one of something else there.
    const moved = (change: (reading: Evidence['parts'][number]['readings'][number]) => void) => {
      const evidence = soundEvidence();
      const base = part(evidence, 'rim base');
      base.defects.push(wear);
      for (const one of base.readings) if (one.characteristic === 'gutter depth') change(one);
      return must(evaluate(evidence, demonstration).parts[0], 'base').missing.map((one) => one.text);
    };
    const text = "Wear, gutter groove at 5 o'clock: gutter depth is not measured.";
    expect(moved((one) => Object.assign(one, { zone: 'gutter lip' }))).toContain(text);
    expect(moved((one) => Object.assign(one, { characteristic: 'pitting depth' }))).toContain(text);
    expect(missingWith('bead seat band', { zone: 'bead seat' }, 'bead seat wear')).toMatchObject([
      { characteristic: 'bead seat wear' },
    ]);
  });

  test('where no wear is measured wait for a competent person', () => {
    expect(missingWith('rim base', { zone: 'centre band', clock: null }, null)).toEqual([
      {
        what: 'rule',
        text: 'Wear, centre band: no way of measuring wear there is on file; a competent person must judge it.',
        zone: 'centre band',
      },
    ]);
  });
});

describe('a defect of another kind', () => {
  const other = { defect: 'other', zone: 'valve slot', note: 'odd noise' } as const;
  const row = {
    row: 'r',
    type: 'defect',
    defects: ['other'],
    verdict: 'repair',
    says: 'Look again.',
    source: testSource,
  };

  test('waits for a competent person where no row speaks of it', () => {
    expect(missingWith('rim base', other, null)).toEqual([
      {
        what: 'rule',
        text: "Other defect in the valve slot at 5 o'clock, found by visual means (odd noise): no rule on file; a competent person must judge it.",
        zone: 'valve slot',
      },
    ]);
  });

  test('is judged by the row that does', () => {
    expect(missingWith('rim base', other, null, row)).toEqual([]);
  });
});

describe('an indication of a test', () => {
  const tested = (over: Partial<Test>): Test => ({
    id: 't',
    method: 'magnetic particle',
    zones: ['gutter weld', 'gutter lip'],
    result: 'indication',
    on: '2026-05-02',
    standard: '',
    ...over,
  });
  const clean = (over: Partial<Test>) =>
    tested({ id: 'clean', result: 'no indication', on: '2026-05-03', ...over });
  const open = (tests: readonly Test[], defects: readonly Defect[] = []) =>
    openIndications(tests, defects, '2026-11-02').map((one) => one.zone);
  const BOTH: Defect['zone'][] = ['gutter weld', 'gutter lip'];

  test('counts as a crack of unknown length in each of its zones', () => {
    const crack = (zone: Defect['zone']) =>
      defect({
        id: `t:${zone}`,
        zone,
        clock: null,
        method: 'magnetic particle',
        note: 'indication of 2026-05-02',
      });
    expect(openIndications([tested({})], [], '2026-11-02')).toEqual(BOTH.map(crack));
    expect(open([clean({})])).toEqual([]);
  });

  test('is not counted twice where a crack is recorded in its zone', () => {
    expect(open([tested({})], [{ ...wear, defect: 'crack', zone: 'gutter weld' }])).toEqual(['gutter lip']);
    expect(open([tested({})], [{ ...wear, zone: 'gutter weld' }])).toEqual(BOTH);
  });

  test.each<[string, Partial<Test>, string[]]>([
    ['a later test by the same method clears it', {}, []],
    ['a test of the same day does not', { on: '2026-05-02' }, BOTH],
    ['an earlier test does not', { on: '2026-05-01' }, BOTH],
    ['a test on the day of the verdict does', { on: '2026-11-02' }, []],
    ['a test after that day does not', { on: '2026-11-03' }, BOTH],
    ['a test by another method does not', { method: 'ultrasonic' }, BOTH],
    ['a test of one zone clears that one', { zones: ['gutter lip'] }, ['gutter weld']],
    ['a second indication does not', { result: 'indication' }, [...BOTH, ...BOTH]],
  ])('%s', (_name, over, zones) => {
    expect(open([tested({}), clean(over)])).toEqual(zones);
  });
});

import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { evaluate, type PartVerdict } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import {
  type Defect,
  defect,
  part,
  reading,
  soundEvidence,
  tableOf,
  testSource,
} from '../support/evidence.ts';

const demonstration = tablesNamed(['demonstration-quillmoor']).tables;
const crack = defect();
const row = (over: object) => ({
  row: 'r',
  type: 'defect',
  components: ['rim base'],
  defects: ['crack'],
  verdict: 'repair',
  says: 'It may be welded.',
  source: testSource,
  ...over,
});
const BAN = { row: 'ban', type: 'no rework', says: 'No heat.', source: testSource };

/** The rim base with a defect, under these rows beside limits under which it is keep. */
function withDefect(over: Partial<Defect>, ...rows: object[]): PartVerdict {
  const evidence = soundEvidence();
  part(evidence, 'rim base').defects.push({ ...crack, ...over });
  const limits = must(demonstration[0], 'table').rows.filter((one) => one.type === 'limit');
  return must(evaluate(evidence, [tableOf([...limits, ...rows])]).parts[0], 'rim base');
}
const defectsOf = (verdict: PartVerdict) => verdict.findings.filter((one) => one.about === 'defect');
const told = (verdict: PartVerdict) => ({
  classes: defectsOf(verdict).map((one) => one.class),
  sentences: defectsOf(verdict).map((one) => one.sentence),
  missing: verdict.missing.filter((one) => one.what !== 'test'),
});

/** That a crack, bend or break is out of service whatever its size: trade guidance, no source (README, "Decision"). */
describe('cracks, bends and breaks', () => {
  test.each([
    ['crack', 'Crack in the gutter weld', ', length not measured', 'Crack, gutter weld'],
    ['bent', 'Bent out of shape in the gutter weld', '', 'Bent out of shape, gutter weld'],
    ['broken', 'Broken in the gutter weld', '', 'Broken, gutter weld'],
  ] as const)(
    '%s, of which no rule speaks: out of service, and the rule is missing',
    (defect, what, size, name) => {
      const found = `${what} at 5 o'clock, found by visual means${size}. Any crack, bend or break takes a part out of service; no rule on file says whether repair is open.`;
      const missing = {
        what: 'rule',
        text: `${name}: no rule on file says whether repair is open.`,
        zone: 'gutter weld',
      };
      const verdict = withDefect({ defect });
      expect(told(verdict)).toEqual({ classes: ['repair'], sentences: [found], missing: [missing] });
      expect(verdict.result).toBe('hold');
      expect(told(withDefect({ defect }, BAN))).toEqual({
        classes: ['scrap'],
        sentences: [`${found} Rework is not on offer (Test, demonstration).`],
        missing: [missing],
      });
    },
  );

  test('a row for other defects or other zones does not speak of it', () => {
    for (const over of [{ defects: ['bent'] }, { zones: ['gutter lip'] }, { components: ['lock ring'] }])
      expect(defectsOf(withDefect({}, row(over)))).toMatchObject([{ rule: null }]);
  });

  test('the finding holds what was seen and what the row says', () => {
    const sized = { lengthMm: { value: 20, u: 1 }, areaMm2: { value: 400, u: 9 }, note: 'fine' };
    const verdict = withDefect(sized, row({ repairUpToMm: 60, repairUpToMm2: 500 }));
    expect(verdict.result).toBe('repair');
    expect(defectsOf(verdict)).toEqual([
      {
        about: 'defect',
        defect: 'crack',
        defectId: 'd',
        zone: 'gutter weld',
        clock: 5,
        method: 'visual',
        basis: { ...sized, says: 'It may be welded.', repairUpToMm: 60, repairUpToMm2: 500 },
        class: 'repair',
        rule: expect.objectContaining({ table: 'test table', row: 'r' }),
        noRework: null,
        sentence:
          "Crack in the gutter weld at 5 o'clock, found by visual means, 20.0 mm ± 2.0 mm long (k = 2) (fine). It may be welded. Repair is open up to 60.0 mm and 5.0 cm². (Test, demonstration).",
      },
    ]);
    expect(defectsOf(withDefect({}))[0]?.basis).toEqual({
      note: '',
      lengthMm: null,
      areaMm2: null,
      says: null,
      repairUpToMm: null,
      repairUpToMm2: null,
    });
  });
});

describe('up to which size repair is open', () => {
  const both = row({ repairUpToMm: 60, repairUpToMm2: 500 });
  const sized = (length: number | null, area: number | null, u = 0) => ({
    lengthMm: length === null ? null : { value: length, u },
    areaMm2: area === null ? null : { value: area, u },
  });

  test.each([
    [59.99, 499.9, 'repair'],
    [60, 500, 'repair'],
    [60.01, 500, 'scrap'],
    [60, 500.1, 'scrap'],
  ])('%d mm long and %d mm² of 60 mm and 500 mm²: %s', (length, area, expected) => {
    expect(told(withDefect(sized(length, area), both))).toMatchObject({ classes: [expected], missing: [] });
  });

  test('guarded by the uncertainty: 60 mm less 1.645 u (ISO 14253-1, from memory)', () => {
    const limit = row({ repairUpToMm: 60 });
    expect(told(withDefect(sized(58.35, null, 1), limit)).classes).toEqual(['repair']);
    expect(told(withDefect(sized(58.36, null, 1), limit)).classes).toEqual(['scrap']);
  });

  test('a size that decides and is not measured is missing; one that is too large already decides', () => {
    const missing = (size: string, characteristic: string) => ({
      what: 'size',
      text: `Crack, gutter weld at 5 o'clock: its ${size} decides between repair and scrap and is not measured.`,
      zone: 'gutter weld',
      characteristic,
      clock: 5,
    });
    expect(told(withDefect(sized(null, 400), both))).toMatchObject({
      classes: ['repair'],
      missing: [missing('length', 'crack length')],
    });
    expect(told(withDefect(sized(20, null), both)).missing).toEqual([missing('area', 'corrosion area')]);
    // The length is asked for first; once it is known the area is.
    expect(told(withDefect(sized(null, null), both)).missing).toEqual([missing('length', 'crack length')]);
    expect(told(withDefect(sized(null, 501), both))).toMatchObject({ classes: ['scrap'], missing: [] });
    expect(told(withDefect(sized(null, null), row({ verdict: 'scrap' })))).toMatchObject({
      classes: ['scrap'],
      missing: [],
    });
  });

  test('two rows ask for one size once', () => {
    const two = [row({ repairUpToMm: 60 }), row({ row: 's', repairUpToMm: 30 })];
    expect(told(withDefect({}, ...two)).missing).toHaveLength(1);
  });

  test('where rework is not on offer, a repair that needs it is scrap and no size is asked for; upkeep stays open', () => {
    expect(told(withDefect({}, row({ repairUpToMm: 60 }), BAN))).toEqual({
      classes: ['scrap'],
      sentences: [
        "Crack in the gutter weld at 5 o'clock, found by visual means, length not measured. It may be welded. Repair is open up to 60.0 mm. (Test, demonstration). Rework is not on offer (Test, demonstration).",
      ],
      missing: [],
    });
    const upkeep = withDefect(sized(20, null), row({ repairUpToMm: 60, repairNeeds: 'upkeep' }), BAN);
    expect(defectsOf(upkeep)).toMatchObject([{ class: 'repair', noRework: null }]);
    expect(defectsOf(withDefect({}, row({ verdict: 'scrap' }), BAN))).toMatchObject([
      { class: 'scrap', noRework: null },
    ]);
  });
});

describe('defects that are judged by their size', () => {
  const corroded = { defect: 'corrosion', zone: 'centre band' } as const;

  test('a corroded patch without an area', () => {
    expect(told(withDefect(corroded)).missing).toEqual([
      {
        what: 'size',
        text: "Corrosion, centre band at 5 o'clock: its area is not measured. Outline it on a photo with a scale.",
        zone: 'centre band',
        characteristic: 'corrosion area',
        clock: 5,
      },
    ]);
  });

  test('a corroded patch under a row for defects and under a limit is judged by both', () => {
    const sized = { ...corroded, areaMm2: { value: 4001, u: 0 } };
    const verdict = withDefect(sized, row({ defects: ['corrosion'], verdict: 'scrap' }));
    expect(
      verdict.findings.filter((one) => one.class !== 'keep').map((one) => [one.about, one.class]),
    ).toEqual([
      ['defect', 'scrap'],
      ['limit', 'repair'],
    ]);
    expect(verdict.missing).toEqual([]);
    expect(defectsOf(verdict)[0]?.sentence).toBe(
      "Corrosion in the centre band at 5 o'clock, found by visual means. It may be welded. (Test, demonstration).",
    );
  });

  test('the limit finding of a patch holds its area and its place', () => {
    const { findings } = withDefect({ ...corroded, areaMm2: { value: 3000, u: 20 } });
    const place = { clock: 5, value: 3000, u: 20, repeats: 1, readings: ['d'] };
    expect(findings).toContainEqual(
      expect.objectContaining({
        characteristic: 'corrosion area',
        state: null,
        positions: [place],
        governing: place,
      }),
    );
  });

  test('pitting without a depth of the deepest pit in its zone', () => {
    const pitted = { defect: 'pitting', zone: 'centre band', clock: null } as const;
    expect(told(withDefect(pitted)).missing).toEqual([
      {
        what: 'size',
        text: 'Pitting, centre band: the depth of the deepest pit is not measured.',
        zone: 'centre band',
        characteristic: 'pitting depth',
        clock: null,
      },
    ]);
  });

  test('a pit measured in its zone is compared with the limit; one in another zone is not this one', () => {
    const measured = (zone: 'centre band' | 'gutter lip') => {
      const evidence = soundEvidence();
      const base = part(evidence, 'rim base');
      base.defects.push({ ...crack, defect: 'pitting', zone: 'centre band' });
      base.readings.push(
        reading({ id: 'pit', characteristic: 'pitting depth', zone, valueMm: 0.5, uMm: 0.02 }),
      );
      return must(evaluate(evidence, demonstration).parts[0], 'rim base');
    };
    expect(measured('centre band').result).toBe('keep');
    expect(measured('gutter lip').missing.map((one) => one.what)).toEqual(['size']);
    // Nor is a reading of something else in its zone.
    expect(told(withDefect({ defect: 'pitting', zone: 'gutter groove' })).missing).toMatchObject([
      { characteristic: 'pitting depth' },
    ]);
  });
});

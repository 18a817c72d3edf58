import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { combine, groupsAt } from '../../lib/rules/combine.ts';
import { CLASSES, type Evidence, evaluate } from '../../lib/rules/index.ts';
import { depthLimit, part, reading, setAll, soundEvidence, tableOf } from '../support/evidence.ts';

const LIMIT = depthLimit({ repair: null });
const gauge = (name: string) => ({ name, calibrationDue: '2030-01-01', expired: false });

/** The class of the gutter depth when these readings stand at 6 o'clock, all others being sound. */
function classOf(
  readings: readonly (readonly [name: string, valueMm: number, uMm: number])[],
  over: object = {},
) {
  const evidence: Evidence = soundEvidence();
  setAll(evidence, 'rim base', 'gutter depth', 14, 0.01);
  const base = part(evidence, 'rim base');
  base.readings = [
    ...base.readings.filter((one) => one.clock !== 6 && one.characteristic === 'gutter depth'),
    ...readings.map(([name, valueMm, uMm], i) =>
      reading({ id: `r${i}`, valueMm, uMm, instrument: gauge(name) }),
    ),
  ];
  const [finding] = must(evaluate(evidence, [tableOf([{ ...LIMIT, ...over }])]).parts[0], 'part').findings;
  return must(finding, 'finding').class;
}

/** That a mean moves both ways is arithmetic; what holds all the same is our own specification, no source. */
describe('what a repeat can and cannot do', () => {
  test('a worse repeat with the same instrument can make the class milder, for it lessens the spread', () => {
    // Mean 11.0 with s/√2 = 1.0; then mean 10.97 with s/√3 = 0.58.
    expect(
      classOf([
        ['A', 10, 0],
        ['A', 12, 0],
      ]),
    ).toBe('scrap');
    expect(
      classOf([
        ['A', 10, 0],
        ['A', 12, 0],
        ['A', 10.9, 0],
      ]),
    ).toBe('keep');
  });

  test('a better repeat can make it more severe, for it enlarges the spread', () => {
    expect(classOf([['A', 11, 0.05]])).toBe('keep');
    expect(
      classOf([
        ['A', 11, 0.05],
        ['A', 15, 0.05],
      ]),
    ).toBe('scrap');
  });

  test('a wild repeat takes the weight from its own instrument, once it scatters as far as the other one is away', () => {
    const two = [
      ['A', 11, 0.05],
      ['B', 8.9, 0.05],
    ] as const;
    const row = { keep: { min: 9 } };
    expect(classOf(two, row)).toBe('scrap');
    // Mean 6.95 ± 1.95 (u), 2.08 u from 11; then mean 6.45 ± 2.45, 1.86 u from it, which is agreement.
    expect(classOf([...two, ['B', 5, 0.05]], row)).toBe('scrap');
    expect(classOf([...two, ['B', 4, 0.05]], row)).toBe('keep');
  });

  const beyond = fc.double({ min: 5, max: 9.99, noNaN: true });
  const u = fc.double({ min: 0, max: 1, noNaN: true });

  test('at a place read with one instrument: while mean and repeats all lie beyond the limit, scrap stays scrap', () => {
    fc.assert(
      fc.property(
        fc.array(beyond, { minLength: 1, maxLength: 3 }),
        fc.array(beyond, { minLength: 1, maxLength: 3 }),
        u,
        fc.boolean(),
        u,
        (old, more, uMm, same, otherU) => {
          const before = old.map((value) => ['A', value, uMm] as const);
          expect(classOf(before)).toBe('scrap');
          const added = more.map((value) => [same ? 'A' : 'B', value, same ? uMm : otherU] as const);
          expect(classOf([...before, ...added])).toBe('scrap');
        },
      ),
      { seed: 41, numRuns: 150 },
    );
  });

  test('a first reading by another instrument beyond the limit leaves scrap where the mean is beyond it, however many read there before', () => {
    const anyReadings = fc.array(
      fc.tuple(fc.constantFrom('A', 'B', 'C'), fc.double({ min: 7, max: 12, noNaN: true }), u),
      { minLength: 1, maxLength: 5 },
    );
    let tried = 0;
    fc.assert(
      fc.property(anyReadings, beyond, u, (before, value, uMm) => {
        if (meanOf(before) >= 10) return;
        tried += 1;
        const after = [...before, ['D', value, uMm] as const];
        expect(classOf(after)).toBe('scrap');
        expect(simpleOf(after)).toBe('scrap');
      }),
      { seed: 42, numRuns: 200 },
    );
    expect(tried).toBeGreaterThan(60);
    function meanOf(list: readonly (readonly [string, number, number])[]) {
      const groups = groupsAt(
        list.map(([name, valueMm, uMm], i) =>
          reading({ id: `r${i}`, valueMm, uMm, instrument: gauge(name) }),
        ),
      );
      return combine(groups).value;
    }
    function simpleOf(readings: readonly (readonly [string, number, number])[]) {
      const evidence = soundEvidence();
      part(evidence, 'rim base').readings = readings.map(([name, valueMm, uMm], i) =>
        reading({ id: `r${i}`, valueMm, uMm, instrument: gauge(name) }),
      );
      const table = tableOf([LIMIT], { decision: { rule: 'simple acceptance', risk: 0.05 } });
      return must(evaluate(evidence, [table]).parts[0]?.findings[0], 'finding').class;
    }
  });

  test('a repeat at one place never makes what another place says milder', () => {
    fc.assert(
      fc.property(beyond, u, fc.double({ min: 5, max: 16, noNaN: true }), (worst, uMm, more) => {
        const evidence = soundEvidence();
        setAll(evidence, 'rim base', 'gutter depth', 14, 0.01);
        const base = part(evidence, 'rim base');
        base.readings = base.readings.filter((one) => one.characteristic === 'gutter depth');
        Object.assign(
          must(
            base.readings.find((one) => one.clock === 3),
            'reading',
          ),
          { valueMm: worst, uMm },
        );
        base.readings.push(reading({ id: 'more', valueMm: more, clock: 6 }));
        const { worst: found } = must(evaluate(evidence, [tableOf([LIMIT])]).parts[0], 'part');
        expect(found).toBe(CLASSES[2]);
      }),
      { seed: 43, numRuns: 100 },
    );
  });
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { canonicalJson, must } from '../../lib/base/index.ts';
import { characteristicOf } from '../../lib/readings/index.ts';
import soundFivePiece from '../../lib/rules/examples/sound-five-piece.json' with { type: 'json' };
import { CLASSES, Evidence, evaluate, type PartVerdict, readInspectionFile } from '../../lib/rules/index.ts';
import { boundsAsSize, type LimitRow, type Table } from '../../lib/tolerances/index.ts';
import { part, reading } from '../support/evidence.ts';
import { anyDefect, anyEvidence, anyTables, anyTest, SLOTS, TABLES, zonesOf } from './arbitrary.ts';

/** What these check is our own specification (README, "Verdict"); no source. */
const anySlot = fc.constantFrom(...SLOTS);

function verdictOf(evidence: Evidence, slot: string, tables: readonly Table[]): PartVerdict {
  return must(
    evaluate(evidence, tables).parts.find((one) => one.slot === slot),
    slot,
  );
}

function rank(evidence: Evidence, slot: string, tables: readonly Table[]): number {
  const { worst } = verdictOf(evidence, slot, tables);
  return worst === null ? -1 : CLASSES.indexOf(worst);
}

type Reading = ReturnType<typeof reading>;

/** The middles of the two-sided bounds that any of the tables sets on a reading's quantity. */
function middlesFor(one: Reading, tables: readonly Table[]): number[] {
  const rows = tables
    .flatMap((table) => table.rows)
    .filter((row): row is LimitRow => row.type === 'limit' && row.characteristic === one.characteristic)
    .filter((row) => row.states === undefined || (one.state !== null && row.states.includes(one.state)));
  return rows
    .flatMap((row) =>
      [row.keep, ...(row.repair === null ? [] : [row.repair])].map((bounds) => boundsAsSize(row, bounds)),
    )
    .flatMap(({ min, max }) => (min === undefined || max === undefined ? [] : [(min + max) / 2]));
}

/** The reading's value moved by `by` in the direction in which its characteristic is worse; null where that is neither way. */
function worn(one: Reading, by: number, tables: readonly Table[]): number | null {
  switch (characteristicOf(one.characteristic).worse) {
    case 'higher':
      return one.valueMm + by;
    case 'lower':
      return one.valueMm - by;
    case 'either': {
      const middles = middlesFor(one, tables);
      if (middles.every((middle) => one.valueMm >= middle)) return one.valueMm + by;
      return middles.every((middle) => one.valueMm <= middle) ? one.valueMm - by : null;
    }
  }
}

describe('one reading at each place', () => {
  test('a worse reading never gives a milder class, whichever characteristic and whatever else is there', () => {
    const moved = { higher: 0, lower: 0, either: 0 };
    fc.assert(
      fc.property(
        anyEvidence,
        anyTables,
        anySlot,
        fc.nat(60),
        fc.double({ min: 0, max: 6, noNaN: true }),
        (drawn, tables, slot, which, by) => {
          const evidence = structuredClone(drawn);
          const { readings } = part(evidence, slot);
          const one = must(readings[which % readings.length], 'reading');
          const value = worn(one, by, tables);
          if (value === null) return;
          moved[characteristicOf(one.characteristic).worse] += 1;
          const before = rank(evidence, slot, tables);
          one.valueMm = value;
          expect(rank(evidence, slot, tables)).toBeGreaterThanOrEqual(before);
        },
      ),
      { seed: 31, numRuns: 350 },
    );
    for (const count of Object.values(moved)) expect(count).toBeGreaterThan(30);
  });

  test('a longer crack or a larger patch never gives a milder class', () => {
    fc.assert(
      fc.property(
        anyEvidence,
        anyTables,
        anySlot.chain((slot) => fc.tuple(fc.constant(slot), anyDefect(slot))),
        fc.double({ min: 0, max: 40, noNaN: true }),
        (drawn, tables, [slot, defect], by) => {
          const evidence = structuredClone(drawn);
          const { defects } = part(evidence, slot);
          const at = defects.push(defect) - 1;
          const before = rank(evidence, slot, tables);
          const grown = (size: typeof defect.lengthMm, step: number) =>
            size === null ? null : { ...size, value: size.value + step };
          defects[at] = {
            ...defect,
            lengthMm: grown(defect.lengthMm, by),
            areaMm2: grown(defect.areaMm2, 1000 * by),
          };
          expect(rank(evidence, slot, tables)).toBeGreaterThanOrEqual(before);
        },
      ),
      { seed: 32, numRuns: 300 },
    );
  });
});

/** A list in another order that follows from `seed` (linear congruential generator, Numerical Recipes, from memory). */
function shuffled<T>(list: readonly T[], seed: number): T[] {
  let state = seed;
  const keyed = list.map((one) => {
    state = (1664525 * state + 1013904223) % 2 ** 32;
    return { one, key: state };
  });
  return keyed.sort((a, b) => a.key - b.key).map(({ one }) => one);
}

test('the order in which anything was written down does not matter', () => {
  const anyway = (tree: unknown, seed: number): unknown => {
    if (Array.isArray(tree)) return shuffled(tree, seed).map((one) => anyway(one, seed + 7));
    if (typeof tree !== 'object' || tree === null) return tree;
    return Object.fromEntries(Object.entries(tree).map(([key, value]) => [key, anyway(value, seed + 3)]));
  };
  fc.assert(
    fc.property(anyEvidence, anyTables, fc.nat(1e9), anySlot, (drawn, tables, seed, slot) => {
      const evidence = structuredClone(drawn);
      // Repeats by several instruments, looks and answers that contradict each other: order must not decide there.
      const one = part(evidence, slot);
      one.readings.push(
        ...one.readings.slice(0, 3).map((again, i) => ({
          ...again,
          id: `again ${i}`,
          valueMm: again.valueMm + 0.1 * i + 0.01,
          instrument: i === 1 ? null : { name: `G${i}`, calibrationDue: null, expired: true },
        })),
      );
      one.looks.push({ ...must(one.looks[0], 'look'), result: 'could not be seen' });
      evidence.assembly.push({ ...must(evidence.assembly[0], 'answer'), answer: 'no' });
      const { inputs: _a, ...before } = evaluate(evidence, tables);
      const other = Evidence.parse(anyway(evidence, seed));
      const { inputs: _b, ...after } = evaluate(other, tables);
      expect(canonicalJson(after)).toBe(canonicalJson(before));
    }),
    { seed: 33, numRuns: 200 },
  );
});

type Addition = (evidence: Evidence, slot: string) => void;

/** Evidence of every sort, but for a repeat at a place that is read already and a test that clears an indication. */
const anyAddition: fc.Arbitrary<{ slot: string; sort: string; add: Addition }> = anySlot.chain((slot) => {
  const sort = (name: string, add: fc.Arbitrary<Addition>) =>
    add.map((one) => ({ slot, sort: name, add: one }));
  const zone = fc.constantFrom(...zonesOf(slot));
  const to = <T>(drawn: fc.Arbitrary<T>, push: (evidence: Evidence, value: T) => void) =>
    drawn.map(
      (value): Addition =>
        (evidence) =>
          push(evidence, value),
    );
  return fc.oneof(
    sort(
      'defect',
      to(anyDefect(slot), (e, d) => part(e, slot).defects.push(d)),
    ),
    sort(
      'indication',
      to(anyTest(slot, 'indication'), (e, t) => part(e, slot).tests.push(t)),
    ),
    sort(
      'clean test',
      to(anyTest(slot, 'no indication'), (e, t) => {
        // A later clean test may clear an indication: that is what it is for.
        const open = part(e, slot).tests.some((one) => one.result === 'indication');
        if (!open) part(e, slot).tests.push(t);
      }),
    ),
    sort(
      'photo',
      to(zone, (e, z) => part(e, slot).photos.push({ id: 'more', zone: z })),
    ),
    sort(
      'look',
      to(
        fc.tuple(zone, fc.constantFrom('nothing seen', 'defect recorded', 'could not be seen' as const)),
        (e, [z, result]) => part(e, slot).looks.push({ zone: z, result: result as 'nothing seen' }),
      ),
    ),
    sort(
      'place',
      to(
        fc.tuple(
          fc.nat(20),
          fc.constantFrom(1.5, 4.5, 7, 10.5),
          fc.double({ min: 0, max: 20, noNaN: true }),
          fc.double({ min: 0, max: 1, noNaN: true }),
        ),
        (e, [which, clock, valueMm, uMm]) => {
          const { readings } = part(e, slot);
          readings.push({
            ...must(readings[which % readings.length], 'reading'),
            id: 'more',
            clock,
            valueMm,
            uMm,
          });
        },
      ),
    ),
    sort(
      'quantity',
      to(fc.tuple(zone, fc.double({ min: 0, max: 10, noNaN: true })), (e, [z, valueMm]) =>
        part(e, slot).readings.push(
          reading({ id: 'more', characteristic: 'pitting depth', zone: z, clock: 2, valueMm }),
        ),
      ),
    ),
    sort(
      'answer',
      fc.constant((e) => void e.assembly.push({ point: 'new O-ring', answer: 'yes' })),
    ),
    sort(
      'elsewhere',
      fc.constant((e) => void e.elsewhere.push({ component: 'x', what: 'reading' })),
    ),
  );
});

describe('more evidence', () => {
  test('never makes scrap milder: a defect, an indication, another place or quantity, a photo, a look, an answer', () => {
    const sorts = new Map<string, number>();
    fc.assert(
      fc.property(
        anyEvidence,
        anyTables,
        anyAddition,
        fc.nat(20),
        (drawn, tables, { slot, sort, add }, which) => {
          const evidence = structuredClone(drawn);
          const { readings } = part(evidence, slot);
          const one = must(readings[which % readings.length], 'reading');
          one.valueMm = worn(one, 60, tables) ?? one.valueMm;
          if (verdictOf(evidence, slot, tables).result !== 'scrap') return;
          sorts.set(sort, (sorts.get(sort) ?? 0) + 1);
          add(evidence, slot);
          expect(verdictOf(evidence, slot, tables).result).toBe('scrap');
        },
      ),
      { seed: 34, numRuns: 700 },
    );
    expect(sorts.size).toBe(9);
    for (const [sort, count] of sorts) expect(count, sort).toBeGreaterThan(20);
  });

  test('a later clean test clears an indication, and nothing else does', () => {
    const tables = must(TABLES[0], 'tables');
    fc.assert(
      fc.property(anyAddition, ({ slot, add }) => {
        const evidence = soundWith(slot);
        expect(verdictOf(evidence, slot, tables).worst).not.toBe('keep');
        const before = rank(evidence, slot, tables);
        add(evidence, slot);
        expect(rank(evidence, slot, tables)).toBeGreaterThanOrEqual(before);
      }),
      { seed: 35, numRuns: 150 },
    );
    function soundWith(slot: string): Evidence {
      const [evidence] = fc.sample(anyEvidence, { seed: 1, numRuns: 1 });
      const copy = structuredClone(must(evidence, 'evidence'));
      part(copy, slot).tests.push({
        id: 'i',
        method: 'magnetic particle',
        zones: [must(zonesOf(slot)[0], 'zone')],
        result: 'indication',
        on: '2026-10-01',
        standard: '',
      });
      return copy;
    }
  });
});

/** One place, read by up to three instruments in calibration and two that are not. */
const anyAtOnePlace = fc.array(
  fc.record({
    name: fc.constantFrom('A', 'B', 'C'),
    expired: fc.boolean(),
    valueMm: fc.oneof(fc.double({ min: 8, max: 12, noNaN: true }), fc.constantFrom(8.95, 9, 10.4, 10.5, 11)),
    uMm: fc.oneof(fc.double({ min: 0, max: 0.6, noNaN: true }), fc.constantFrom(0, 0.01, 0.05)),
  }),
  { minLength: 1, maxLength: 7 },
);
/** The same close to the bound of repair, 9 mm, where several together may be surer than each alone. */
const anyNearRepair = fc.array(
  fc.record({
    name: fc.constantFrom('A', 'B', 'C'),
    expired: fc.constantFrom(false, false, true),
    valueMm: fc.double({ min: 8.95, max: 9.15, noNaN: true }),
    uMm: fc.double({ min: 0.05, max: 0.1, noNaN: true }),
  }),
  { minLength: 2, maxLength: 4 },
);
type AtOnePlace = (typeof anyAtOnePlace extends fc.Arbitrary<infer T> ? T : never)[number];

function readBy({ name, expired, valueMm, uMm }: AtOnePlace, i: number): Reading {
  const instrument = { name, calibrationDue: expired ? '2020-01-01' : '2030-01-01', expired };
  return reading({ id: `place ${i}`, valueMm, uMm, instrument: expired && name === 'C' ? null : instrument });
}

/** The sound example, with these readings of the gutter depth at 6 o'clock. */
function atSix(list: readonly AtOnePlace[]): Evidence {
  const [drawn] = fc.sample(anyEvidence, { seed: 1, numRuns: 1 });
  const evidence = structuredClone(must(drawn, 'evidence'));
  const base = part(evidence, 'rim base');
  for (const one of base.readings) if (one.characteristic === 'gutter depth') one.valueMm = 12;
  base.defects.length = 0;
  base.readings = [
    ...base.readings.filter((one) => one.characteristic !== 'gutter depth' || one.clock !== 6),
    ...list.map(readBy),
  ];
  return evidence;
}

describe('several instruments at one place', () => {
  test('a reading by an instrument out of calibration or without a name never makes the part milder', () => {
    const before = new Map<string, number>();
    const worsened = new Set<string>();
    fc.assert(
      fc.property(anyAtOnePlace, anyAtOnePlace, anyTables, (list, [more], tables) => {
        const added = { ...must(more, 'reading'), expired: true };
        const was = verdictOf(atSix(list), 'rim base', tables);
        const now = verdictOf(atSix([...list, added]), 'rim base', tables);
        before.set(was.result, (before.get(was.result) ?? 0) + 1);
        const rankOf = ({ worst }: PartVerdict) => CLASSES.indexOf(must(worst ?? undefined, 'class'));
        expect(rankOf(now)).toBeGreaterThanOrEqual(rankOf(was));
        if (was.result !== 'keep') expect(now.result).not.toBe('keep');
        if (rankOf(now) > rankOf(was)) worsened.add(`${was.worst} ${now.worst}`);
      }),
      { seed: 44, numRuns: 1500 },
    );
    for (const result of ['repair', 'scrap', 'hold']) expect(before.get(result), result).toBeGreaterThan(50);
    expect([...worsened].sort()).toEqual(['keep repair', 'keep scrap', 'repair scrap']);
  });

  test('where every calibrated instrument by itself gives scrap, the place is scrap', () => {
    let tried = 0;
    fc.assert(
      fc.property(fc.oneof(anyAtOnePlace, anyNearRepair), anyTables, (list, tables) => {
        const calibrated = list.filter((one) => !one.expired);
        const names = [...new Set(calibrated.map((one) => one.name))];
        const alone = names.map((name) =>
          rank(atSix(calibrated.filter((one) => one.name === name)), 'rim base', tables),
        );
        if (names.length < 2 || alone.some((one) => one < CLASSES.indexOf('scrap'))) return;
        tried += 1;
        expect(rank(atSix(list), 'rim base', tables)).toBe(CLASSES.indexOf('scrap'));
      }),
      { seed: 45, numRuns: 1500 },
    );
    expect(tried).toBeGreaterThan(100);
  });
});

describe('less evidence', () => {
  test('taking away a look, a photo, a clean test, the reading of a place that is asked for, or a recorded defect never gives keep', () => {
    let tried = 0;
    fc.assert(
      fc.property(
        anyEvidence,
        anyTables,
        anySlot,
        fc.constantFrom('looks', 'photos', 'readings', 'tests', 'defects' as const),
        fc.nat(100),
        (drawn, tables, slot, list, which) => {
          const evidence = structuredClone(drawn);
          const one = part(evidence, slot);
          // Whoever recorded a defect did not say "nothing seen" there.
          for (const look of one.looks)
            if (one.defects.some((defect) => defect.zone === look.zone)) look.result = 'defect recorded';
          const from: { result?: string }[] = one[list as 'looks'];
          const index = which % Math.max(1, from.length);
          if (from.length === 0 || from[index]?.result === 'indication') return;
          if (verdictOf(evidence, slot, tables).result === 'keep') return;
          tried += 1;
          from.splice(index, 1);
          expect(verdictOf(evidence, slot, tables).result).not.toBe('keep');
        },
      ),
      { seed: 36, numRuns: 500 },
    );
    expect(tried).toBeGreaterThan(200);
  });

  test('with anything missing nothing is kept, and a part that is kept has every finding in keep', () => {
    const results = new Set<string>();
    fc.assert(
      fc.property(anyEvidence, anyTables, (drawn, tables) => {
        const evidence = structuredClone(drawn);
        const { parts, assembly } = evaluate(evidence, tables);
        for (const { result, missing, findings } of parts) {
          results.add(result);
          if (missing.length > 0) expect(result).not.toBe('keep');
          if (result !== 'keep') continue;
          expect(findings.length).toBeGreaterThan(0);
          expect(findings.every((finding) => finding.class === 'keep')).toBe(true);
        }
        if (assembly.fit) expect(parts.every((one) => one.result === 'keep')).toBe(true);
      }),
      { seed: 37, numRuns: 300 },
    );
    expect(results).toEqual(new Set(['keep', 'repair', 'scrap', 'hold']));
  });
});

test('the stored inputs give the same bytes again, after JSON and the schema', () => {
  fc.assert(
    fc.property(anyEvidence, anyTables, (drawn, tables) => {
      const evidence = structuredClone(drawn);
      const first = canonicalJson(evaluate(evidence, tables));
      const inputs = Evidence.parse(JSON.parse(first).inputs);
      expect(canonicalJson(evaluate(inputs, tables))).toBe(first);
    }),
    { seed: 38, numRuns: 200 },
  );
});

test('the same length typed in millimetres and in inches gives the same classes, where the instrument is coarser than both steps', () => {
  // 1 in = 25.4 mm exactly (international inch, 1959). A step of 1/32 in is 0.79 mm, one of 0.0001 mm is finer.
  const fileWith = (values: readonly string[]) => {
    const file = structuredClone(soundFivePiece);
    for (const instrument of file.instruments) instrument.resolutionMm = 1;
    const depths = file.parts
      .flatMap((one) => one.readings as { characteristic: string; value: string }[])
      .filter((one) => one.characteristic === 'gutter depth');
    depths.forEach((one, i) => {
      one.value = must(values[i % values.length], 'value');
    });
    const read = readInspectionFile(file);
    if (!read.ok) throw new Error(JSON.stringify(read.error));
    return read.value.evidence;
  };
  const classes = new Set<string | null>();
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: 11, max: 17 }), { minLength: 4, maxLength: 4 }),
      anyTables,
      (thirtySeconds, tables) => {
        const inches = fileWith(thirtySeconds.map((n) => `${n}/32 in`));
        const millimetres = fileWith(thirtySeconds.map((n) => `${((n * 25.4) / 32).toFixed(4)} mm`));
        const [a, b] = [inches, millimetres].map((evidence) => verdictOf(evidence, 'rim base', tables));
        classes.add(a?.worst ?? null);
        expect(b?.worst).toBe(a?.worst);
        expect(b?.result).toBe(a?.result);
        expect(b?.findings.map((one) => one.class)).toEqual(a?.findings.map((one) => one.class));
      },
    ),
    { seed: 39, numRuns: 150 },
  );
  expect(classes.size).toBe(3);
});

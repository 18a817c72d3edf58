import { describe, expect, test } from 'vitest';
import { canonicalJson, must } from '../../lib/base/index.ts';
import { type Evidence, evaluate, type PartVerdict } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { defect, part, reading, setAll, soundEvidence, tableOf, testSource } from '../support/evidence.ts';

const demonstration = tablesNamed(['demonstration-quillmoor']).tables;
const withRules = tablesNamed(['29 CFR 1910.177', 'demonstration-quillmoor']).tables;

function verdictOf(evidence: Evidence, slot: string, tables = demonstration): PartVerdict {
  return must(
    evaluate(evidence, tables).parts.find((one) => one.slot === slot),
    slot,
  );
}

describe('limits of the demonstration table, below, at and above, without uncertainty', () => {
  const rows: [slot: string, characteristic: string, value: number, expected: string][] = [
    ['rim base', 'gutter depth', 10.51, 'keep'],
    ['rim base', 'gutter depth', 10.5, 'keep'],
    ['rim base', 'gutter depth', 10.49, 'repair'],
    ['rim base', 'gutter depth', 9.0, 'repair'],
    ['rim base', 'gutter depth', 8.99, 'scrap'],
    ['gutter side flange', 'flange wear', 1.99, 'keep'],
    ['gutter side flange', 'flange wear', 2.0, 'keep'],
    ['gutter side flange', 'flange wear', 2.01, 'repair'],
    ['gutter side flange', 'flange wear', 3.5, 'repair'],
    ['gutter side flange', 'flange wear', 3.51, 'scrap'],
    ['bead seat band', 'bead seat wear', 1.2, 'keep'],
    ['bead seat band', 'bead seat wear', 1.21, 'repair'],
    ['bead seat band', 'bead seat wear', 2.0, 'repair'],
    ['bead seat band', 'bead seat wear', 2.01, 'scrap'],
  ];
  test.each(rows)('%s, %s %d mm: %s', (slot, characteristic, value, expected) => {
    const evidence = soundEvidence();
    setAll(evidence, slot, characteristic, value, 0);
    expect(verdictOf(evidence, slot).result).toBe(expected);
  });

  const gaps: [state: 'free' | 'fitted', value: number, expected: string][] = [
    ['free', -70.01, 'scrap'],
    ['free', -70, 'keep'],
    ['free', -25, 'keep'],
    ['free', -24.99, 'scrap'],
    ['fitted', 3.99, 'scrap'],
    ['fitted', 4, 'keep'],
    ['fitted', 16, 'keep'],
    ['fitted', 16.01, 'scrap'],
  ];
  test.each(gaps)('lock ring %s, gap %d mm: %s', (state, value, expected) => {
    const evidence = soundEvidence();
    for (const one of part(evidence, 'lock ring').readings) {
      if (one.state === state) Object.assign(one, { valueMm: value, uMm: 0 });
    }
    expect(verdictOf(evidence, 'lock ring').result).toBe(expected);
  });

  test('the states of the ring are different quantities: a good free ring says nothing of the fitted gap', () => {
    const evidence = soundEvidence();
    const ring = part(evidence, 'lock ring');
    ring.readings = ring.readings.filter((one) => one.state === 'free');
    const verdict = verdictOf(evidence, 'lock ring');
    expect(verdict.result).toBe('hold');
    expect(verdict.missing).toContainEqual(
      expect.objectContaining({ characteristic: 'lock-ring gap', state: 'fitted' }),
    );
  });
});

describe('one fault at a time', () => {
  const faults: [
    name: string,
    slot: string,
    change: (evidence: Evidence) => void,
    result: string,
    says: RegExp,
  ][] = [
    ['nothing changed', 'rim base', () => {}, 'keep', /keep/],
    [
      'gate open',
      'rim base',
      (e) => e.gateOpen.push('valve core out'),
      'hold',
      /Walk-around only.*valve core out/,
    ],
    ['a zone not looked at', 'rim base', (e) => part(e, 'rim base').looks.shift(), 'hold', /not looked at/],
    [
      'a zone that could not be seen',
      'rim base',
      (e) => Object.assign(part(e, 'rim base').looks[2] ?? {}, { result: 'could not be seen' }),
      'hold',
      /could not be seen/,
    ],
    [
      'a look that speaks of a defect, and none is recorded',
      'rim base',
      (e) => Object.assign(part(e, 'rim base').looks[2] ?? {}, { result: 'defect recorded' }),
      'hold',
      /said to be recorded, and none is/,
    ],
    ['a photo missing', 'lock ring', (e) => part(e, 'lock ring').photos.shift(), 'hold', /no photo yet/],
    [
      'a position not measured',
      'rim base',
      (e) => part(e, 'rim base').readings.shift(),
      'hold',
      /not measured yet/,
    ],
    [
      'no record of the yearly test',
      'rim base',
      (e) => part(e, 'rim base').tests.splice(0),
      'hold',
      /no record within 12 months/,
    ],
    [
      'component not identified',
      'lock ring',
      (e) => Object.assign(part(e, 'lock ring'), { component: null }),
      'hold',
      /Nobody has said/,
    ],
    [
      'component not found',
      'lock ring',
      (e) => Object.assign(part(e, 'lock ring'), { absent: true }),
      'hold',
      /was not found/,
    ],
    [
      'entries of a newer version',
      'lock ring',
      (e) => Object.assign(e, { unreadable: 1 }),
      'hold',
      /newer version/,
    ],
    [
      'instrument out of calibration',
      'rim base',
      (e) => {
        for (const one of part(e, 'rim base').readings) {
          if (one.clock === 3 && one.instrument !== null)
            Object.assign(one.instrument, { expired: true, calibrationDue: '2026-01-01' });
        }
      },
      'hold',
      /ran out on 2026-01-01/,
    ],
    [
      'no instrument named',
      'rim base',
      (e) => {
        for (const one of part(e, 'rim base').readings) if (one.clock === 3) one.instrument = null;
      },
      'hold',
      /no instrument is named/,
    ],
    [
      'a maker the table does not speak of',
      'lock ring',
      (e) => Object.assign(part(e, 'lock ring'), { maker: 'Unknown Works' }),
      'hold',
      /no limit on file/,
    ],
  ];
  test.each(faults)('%s', (_name, slot, change, result, says) => {
    const evidence = soundEvidence();
    change(evidence);
    const verdict = verdictOf(evidence, slot);
    expect(verdict.result).toBe(result);
    expect([verdict.sentence, ...verdict.missing.map((one) => one.text)].join('\n')).toMatch(says);
  });

  test('without any table nothing is kept', () => {
    for (const one of evaluate(soundEvidence(), []).parts) expect(one.result).toBe('hold');
  });

  test('without any evidence everything is on hold', () => {
    const evidence = { ...soundEvidence(), parts: [], assembly: [] };
    const verdict = evaluate(evidence, withRules);
    expect(verdict.parts.map((one) => one.result)).toEqual(['hold', 'hold', 'hold', 'hold', 'hold']);
    expect(verdict.assembly.fit).toBe(false);
  });
});

describe('defects', () => {
  test('a crack is never kept, whatever its length and whether or not a rule speaks of it', () => {
    for (const length of [null, { value: 0.5, u: 0.1 }, { value: 300, u: 5 }]) {
      for (const tables of [[], demonstration, withRules]) {
        const evidence = soundEvidence();
        part(evidence, 'rim base').defects.push(
          defect({ defect: 'crack', zone: 'gutter weld', lengthMm: length }),
        );
        const verdict = verdictOf(evidence, 'rim base', [...tables]);
        expect(verdict.result).not.toBe('keep');
        expect(['repair', 'scrap']).toContain(verdict.worst);
      }
    }
  });

  test('a crack in a round weld is repair up to its length, guarded by its uncertainty', () => {
    const at = (value: number, u: number) => {
      const evidence = soundEvidence();
      part(evidence, 'rim base').defects.push(
        defect({ defect: 'crack', zone: 'gutter weld', lengthMm: { value, u } }),
      );
      return verdictOf(evidence, 'rim base').result;
    };
    expect([at(60, 0), at(60.01, 0), at(57, 1), at(59, 1)]).toEqual(['repair', 'scrap', 'repair', 'scrap']);
  });

  test('a crack whose length decides and is not measured holds the part, out of service so far', () => {
    const evidence = soundEvidence();
    part(evidence, 'rim base').defects.push(defect({ defect: 'crack', zone: 'gutter weld' }));
    const verdict = verdictOf(evidence, 'rim base');
    expect(verdict).toMatchObject({ result: 'hold', worst: 'repair' });
    expect(verdict.missing).toContainEqual(
      expect.objectContaining({ what: 'size', characteristic: 'crack length' }),
    );
  });

  test('corrosion without a measured area holds the part', () => {
    const evidence = soundEvidence();
    part(evidence, 'rim base').defects.push(defect({ defect: 'corrosion', zone: 'centre band' }));
    expect(verdictOf(evidence, 'rim base')).toMatchObject({ result: 'hold' });
  });

  test.each([
    [4000, 'keep'],
    [4001, 'repair'],
    [40000, 'repair'],
    [40001, 'scrap'],
  ])('a corroded patch of %d mm² is %s', (value, expected) => {
    const evidence = soundEvidence();
    part(evidence, 'rim base').defects.push(
      defect({ defect: 'corrosion', zone: 'centre band', areaMm2: { value, u: 0 } }),
    );
    expect(verdictOf(evidence, 'rim base').result).toBe(expected);
  });

  test('a second small patch does not average the first away', () => {
    const evidence = soundEvidence();
    for (const [id, value] of [
      ['a', 50000],
      ['b', 10],
    ] as const) {
      part(evidence, 'rim base').defects.push(
        defect({ id, defect: 'corrosion', zone: 'centre band', areaMm2: { value, u: 0 } }),
      );
    }
    expect(verdictOf(evidence, 'rim base').result).toBe('scrap');
  });

  test.each(['pitting', 'wear'] as const)('%s that is marked but not measured holds the part', (found) => {
    const evidence = soundEvidence();
    part(evidence, 'rim base').defects.push(defect({ defect: found, zone: 'gutter lip' }));
    expect(verdictOf(evidence, 'rim base').result).toBe('hold');
  });

  test('a defect of another kind waits for a competent person', () => {
    const evidence = soundEvidence();
    part(evidence, 'rim base').defects.push(
      defect({ defect: 'other', zone: 'valve slot', note: 'odd noise' }),
    );
    const verdict = verdictOf(evidence, 'rim base');
    expect(verdict.result).toBe('hold');
    expect(verdict.missing.map((one) => one.text).join()).toContain('competent person');
  });

  test('an indication of a test counts as a crack until a later test of the zone clears it', () => {
    const evidence = soundEvidence();
    const test1 = {
      id: 't2',
      method: 'magnetic particle' as const,
      zones: ['gutter groove' as const],
      result: 'indication' as const,
      on: '2026-10-01',
      standard: 'ASTM E709',
    };
    part(evidence, 'rim base').tests.push(test1);
    expect(verdictOf(evidence, 'rim base').result).toBe('scrap');
    part(evidence, 'rim base').tests.push({ ...test1, id: 't3', result: 'no indication', on: '2026-10-05' });
    expect(verdictOf(evidence, 'rim base').result).toBe('keep');
  });

  test('a naked eye that saw nothing does not close the test that the table asks for', () => {
    const evidence = soundEvidence();
    part(evidence, 'rim base').tests.splice(0);
    const verdict = verdictOf(evidence, 'rim base');
    expect(verdict.missing.filter((one) => one.what === 'test')).toHaveLength(1);
    expect(verdict.result).toBe('hold');
  });

  test.each([
    ['2025-11-02', 'keep'],
    ['2025-11-01', 'hold'],
  ])('a yearly test of %s is %s on 2026-11-02', (on, expected) => {
    const evidence = soundEvidence();
    for (const one of part(evidence, 'rim base').tests) one.on = on;
    expect(verdictOf(evidence, 'rim base').result).toBe(expected);
  });
});

describe('deciding under uncertainty', () => {
  test('the worst position governs, not the mean', () => {
    const evidence = soundEvidence();
    setAll(evidence, 'rim base', 'gutter depth', 14, 0.01);
    const [first] = part(evidence, 'rim base').readings.filter(
      (one) => one.characteristic === 'gutter depth',
    );
    if (first !== undefined) first.valueMm = 8;
    expect(verdictOf(evidence, 'rim base').result).toBe('scrap');
  });

  test('repeats at one position are averaged and their spread enters u (type A, JCGM 100 4.2)', () => {
    const table = tableOf([
      {
        row: 'g',
        type: 'limit',
        characteristic: 'gutter depth',
        keep: { min: 10.5 },
        repair: null,
        methods: ['gauge'],
        source: testSource,
      },
    ]);
    const evidence = soundEvidence();
    part(evidence, 'rim base').readings = [10.6, 11.0, 11.4].map((valueMm, i) =>
      reading({ id: `r${i}`, valueMm, uMm: 0.03 }),
    );
    const [finding] = verdictOf(evidence, 'rim base', [table]).findings;
    if (finding?.about !== 'limit') throw new Error('no limit finding');
    expect(finding.governing.value).toBeCloseTo(11.0, 12);
    expect(finding.governing.u).toBeCloseTo(Math.hypot(0.03, 0.4 / Math.sqrt(3)), 12);
    expect(finding.governing.repeats).toBe(3);
  });

  test('when the reading alone is milder than the guarded answer, both are kept and the sentence says so', () => {
    const evidence = soundEvidence();
    setAll(evidence, 'rim base', 'gutter depth', 10.55, 0.1);
    const finding = verdictOf(evidence, 'rim base').findings.find(
      (one) => one.about === 'limit' && one.characteristic === 'gutter depth',
    );
    expect(finding).toMatchObject({ class: 'repair', guardedClass: 'repair', simpleClass: 'keep' });
    expect(finding?.sentence).toContain('worth the walk');
  });

  test('a table may ask for simple acceptance', () => {
    const evidence = soundEvidence();
    setAll(evidence, 'rim base', 'gutter depth', 10.55, 0.1);
    const simple = demonstration.map((table) => ({
      ...table,
      decision: { ...table.decision, rule: 'simple acceptance' as const },
    }));
    const verdict = verdictOf(evidence, 'rim base', simple);
    expect(verdict.result).toBe('keep');
    const finding = verdict.findings.find(
      (one) => one.about === 'limit' && one.characteristic === 'gutter depth',
    );
    expect(finding).toMatchObject({ class: 'keep', guardedClass: 'repair', simpleClass: 'keep' });
    expect(finding?.sentence).toContain('With a guard band for a risk of 5.0 % it would be repair');
  });

  test('the guarded class is that of the worst place by it, though another place decides by its value alone', () => {
    // 12 o'clock is in repair by its value; 3 o'clock is inside keep, known so badly that scrap is not ruled out.
    const evidence = soundEvidence();
    setAll(evidence, 'rim base', 'gutter depth', 12, 0.01);
    for (const one of part(evidence, 'rim base').readings) {
      if (one.characteristic === 'gutter depth' && one.clock === 12) Object.assign(one, { valueMm: 10.4 });
      if (one.characteristic === 'gutter depth' && one.clock === 3)
        Object.assign(one, { valueMm: 10.6, uMm: 3 });
    }
    for (const rule of ['guarded', 'simple acceptance'] as const) {
      const tables = demonstration.map((table) => ({ ...table, decision: { ...table.decision, rule } }));
      const finding = verdictOf(evidence, 'rim base', tables).findings.find(
        (one) => one.about === 'limit' && one.characteristic === 'gutter depth',
      );
      expect(finding).toMatchObject({
        class: rule === 'guarded' ? 'scrap' : 'repair',
        guardedClass: 'scrap',
        simpleClass: 'repair',
      });
    }
  });

  test('of two tables the strictest answer wins, and the trace names both', () => {
    const strict = tableOf([
      {
        row: 'g',
        type: 'limit',
        characteristic: 'gutter depth',
        keep: { min: 12 },
        repair: null,
        methods: ['gauge'],
        source: testSource,
      },
    ]);
    const verdict = verdictOf(soundEvidence(), 'rim base', [...demonstration, strict]);
    expect(verdict.result).toBe('scrap');
    expect(new Set(verdict.findings.map((one) => one.rule?.table))).toEqual(
      new Set(['demonstration-quillmoor', 'test table']),
    );
  });
});

describe('a calibrated and an expired instrument at one place', () => {
  /** An instrument out of calibration does not stop the work; its readings cannot support keep: our own specification. */
  const withBoth = (good: number, goodU: number, expired: number) => {
    const evidence = soundEvidence();
    const base = part(evidence, 'rim base');
    const [at6] = base.readings.filter((one) => one.characteristic === 'gutter depth' && one.clock === 6);
    Object.assign(must(at6, 'reading'), { valueMm: good, uMm: goodU });
    base.readings.push(
      reading({
        id: 'expired',
        valueMm: expired,
        uMm: 0.01,
        instrument: { name: 'Old gauge', calibrationDue: '2020-01-01', expired: true },
      }),
    );
    return verdictOf(evidence, 'rim base');
  };

  test('the calibrated one alone must give keep: the expired one cannot outweigh it', () => {
    // They agree, 10.4 ± 1.0 and 11.3; the calibrated one alone may be beyond keep.
    expect(withBoth(10.4, 0.5, 11.3)).toMatchObject({ result: 'repair', missing: [] });
    expect(withBoth(11.6, 0.05, 11.69).result).toBe('keep');
  });

  test('scrap by the calibrated one stays scrap whatever the expired one reads', () => {
    for (const expired of [8.7, 8.8, 9.3, 12])
      expect(withBoth(8.7, 0.05, expired)).toMatchObject({ result: 'scrap' });
  });

  test('where they disagree the part is not kept until one is withdrawn, and both are named', () => {
    const held = withBoth(11.6, 0.05, 11.71);
    expect(held).toMatchObject({ result: 'hold', worst: 'keep' });
    expect(held.missing.map((one) => one.text)).toEqual([
      "Gutter depth, gutter groove at 6 o'clock: Depth gauge DG-1 and Old gauge disagree by more than their uncertainty explains, so the worst of them counts. Withdraw what is wrong, or measure again until they agree.",
    ]);
  });

  test('several readings by it count each alone, known no better than they scatter', () => {
    const evidence = soundEvidence();
    const base = part(evidence, 'rim base');
    const instrument = { name: 'Old gauge', calibrationDue: '2020-01-01', expired: true };
    base.readings = [
      ...base.readings.filter((one) => one.clock !== 6 || one.characteristic !== 'gutter depth'),
      ...[10, 12, 14].map((valueMm) => reading({ id: `old ${valueMm}`, valueMm, uMm: 0.3, instrument })),
    ];
    const finding = verdictOf(evidence, 'rim base').findings.find(
      (one) => one.about === 'limit' && one.characteristic === 'gutter depth',
    );
    // Half their range is 2 mm; 9 mm is 0.5 u below the worst.
    expect(finding).toMatchObject({
      class: 'scrap',
      governing: { value: 10, u: Math.hypot(0.3, 2), counted: ['old 10'], repeats: 3 },
    });
    expect(finding?.sentence).toContain('the worst of 3 that cannot support keep)');
  });

  test('read by it alone, a place is not kept', () => {
    const evidence = soundEvidence();
    for (const one of part(evidence, 'rim base').readings)
      one.instrument = { name: 'Old gauge', calibrationDue: '2020-01-01', expired: true };
    const held = verdictOf(evidence, 'rim base');
    expect(held).toMatchObject({ result: 'hold', worst: 'keep' });
    expect(held.missing.map((one) => one.text).join()).toContain(
      'the calibration of Old gauge ran out on 2020-01-01',
    );
  });

  test('what the expired one speaks against still counts', () => {
    expect(withBoth(11.6, 0.05, 8).worst).toBe('scrap');
  });
});

describe('two calibrated instruments at one place', () => {
  const gauge = (name: string) => ({ name, calibrationDue: '2030-01-01', expired: false });
  const withBoth = (a: number, aU: number, b: number, bU: number) => {
    const evidence = soundEvidence();
    const base = part(evidence, 'rim base');
    base.readings = [
      ...base.readings.filter((one) => one.clock !== 6 || one.characteristic !== 'gutter depth'),
      reading({ id: 'a', valueMm: a, uMm: aU, instrument: gauge('Tape') }),
      reading({ id: 'b', valueMm: b, uMm: bU, instrument: gauge('Digital gauge') }),
    ];
    return verdictOf(evidence, 'rim base');
  };
  const depthOf = (verdict: PartVerdict) => {
    const found = verdict.findings.find(
      (one) => one.about === 'limit' && one.characteristic === 'gutter depth',
    );
    if (found?.about !== 'limit') throw new Error('no finding of the gutter depth');
    return found;
  };

  test('that contradict each other: the worst governs, and which they are is told', () => {
    // 2.6 mm apart at u = 0.29 mm: 9 standard deviations.
    const verdict = withBoth(8, 0.29, 10.6, 0.003);
    expect(verdict.result).toBe('scrap');
    expect(depthOf(verdict).governing).toMatchObject({
      clock: 6,
      value: 8,
      u: 0.29,
      counted: ['a'],
      disagree: true,
    });
    expect(verdict.missing).toMatchObject([
      { what: 'disagreement', characteristic: 'gutter depth', clock: 6, zone: 'gutter groove' },
    ]);
    expect(verdict.missing[0]?.text).toContain('Digital gauge and Tape disagree');
    expect(depthOf(verdict).sentence).toContain('by Tape alone, for the instruments disagree)');
  });

  test('that both say keep and yet contradict each other hold the part', () => {
    expect(withBoth(14, 0.05, 12, 0.05)).toMatchObject({ result: 'hold', worst: 'keep' });
    expect(withBoth(12.1, 0.05, 12, 0.05)).toMatchObject({ result: 'keep', missing: [] });
  });

  test('that agree are put together, and are no milder than the mildest of them alone', () => {
    const verdict = withBoth(10.7, 0.1, 10.8, 0.1);
    expect(depthOf(verdict)).toMatchObject({ class: 'keep', governing: { value: 10.75, repeats: 2 } });
    // Each alone is beyond keep with 6.7 %, both together with 1.7 %: that their errors are independent is not known.
    const doubtful = withBoth(10.65, 0.1, 10.65, 0.1);
    expect(depthOf(doubtful)).toMatchObject({ class: 'repair', governing: { counted: ['b'], u: 0.1 } });
    expect(depthOf(doubtful).sentence).toContain('by Digital gauge alone)');
  });
});

describe('the answer as a whole', () => {
  test('the sound example is fit, and says that it rests on demonstration limits', () => {
    const verdict = evaluate(soundEvidence(), demonstration);
    expect(verdict.assembly).toMatchObject({ fit: true, reasons: [] });
    expect(verdict.demonstration).toBe(true);
    expect(verdict.parts.every((one) => one.demonstration)).toBe(true);
  });

  test('one doubtful fact makes the set not fit', () => {
    const doubts: ((e: Evidence) => void)[] = [
      (e) => e.assembly.pop(),
      (e) => Object.assign(e.assembly[0] ?? {}, { answer: 'no' }),
      (e) => Object.assign(part(e, 'lock ring'), { series: '' }),
      (e) => Object.assign(part(e, 'lock ring'), { series: 'other' }),
      (e) => part(e, 'lock ring').looks.pop(),
    ];
    for (const doubt of doubts) {
      const evidence = soundEvidence();
      doubt(evidence);
      const { assembly } = evaluate(evidence, demonstration);
      expect(assembly.fit).toBe(false);
      expect(assembly.reasons.length).toBeGreaterThan(0);
    }
  });

  test('replaying the stored inputs gives the identical bytes', () => {
    const first = evaluate(soundEvidence(), withRules);
    const stored = JSON.parse(canonicalJson(first));
    expect(canonicalJson(evaluate(stored.inputs, withRules))).toBe(canonicalJson(first));
  });

  test('a scrap finding decides whatever else is missing', () => {
    const evidence = soundEvidence();
    evidence.gateOpen.push('tyre deflated');
    part(evidence, 'lock ring').defects.push(defect({ defect: 'broken', zone: 'ring body' }));
    expect(verdictOf(evidence, 'lock ring').result).toBe('scrap');
  });
});

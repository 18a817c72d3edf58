import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { type Evidence, evaluate, type Missing } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { defect, part, soundEvidence, tableOf, testSource } from '../support/evidence.ts';

const demonstration = tablesNamed(['demonstration-quillmoor']).tables;

/** What is missing for a part once something is changed in sound evidence, under more rows. */
function missingOf(
  slot: string,
  change: (evidence: Evidence) => void,
  ...rows: object[]
): readonly Missing[] {
  const evidence = soundEvidence();
  change(evidence);
  const tables = rows.length === 0 ? demonstration : [...demonstration, tableOf(rows)];
  return must(
    evaluate(evidence, tables).parts.find((one) => one.slot === slot),
    slot,
  ).missing;
}
const nothing = () => {};

/** What a full inspection asks for, and how it is said, is our own specification, no source. */
describe('what is missing of the inspection as a whole', () => {
  test.each<[string, (e: Evidence) => void, Missing]>([
    [
      'open gate questions, all of them',
      (e) => e.gateOpen.push('valve core out', 'tyre deflated'),
      {
        what: 'gate',
        text: 'Walk-around only: the safety gate is open at "tyre deflated", "valve core out".',
      },
    ],
    [
      'entries of a newer version',
      (e) => Object.assign(e, { unreadable: 3 }),
      { what: 'record', text: '3 entries come from a newer version and cannot be read here.' },
    ],
    [
      'one entry of a newer version',
      (e) => Object.assign(e, { unreadable: 1 }),
      { what: 'record', text: '1 entry comes from a newer version and cannot be read here.' },
    ],
    [
      'findings about a component that is in no slot, each sort once',
      (e) =>
        e.elsewhere.push(
          { component: 'a', what: 'photo' },
          { component: 'b', what: 'mark' },
          { component: 'b', what: 'photo' },
        ),
      {
        what: 'record',
        text: 'This inspection holds findings (photo, mark) about a component that is not in the wheel now. Put the part back in the book, or withdraw them with a reason.',
      },
    ],
    [
      'two components in one slot',
      (e) => Object.assign(part(e, 'lock ring'), { claims: 2 }),
      { what: 'part', text: '2 components are said to be the lock ring. Take out those that are not.' },
    ],
    [
      'a part that was not found',
      (e) => Object.assign(part(e, 'lock ring'), { absent: true }),
      { what: 'part', text: 'The lock ring was not found at the wheel.' },
    ],
    [
      'a part that nobody has named',
      (e) => Object.assign(part(e, 'lock ring'), { component: null }),
      { what: 'part', text: 'Nobody has said which lock ring is fitted.' },
    ],
  ])('%s', (_name, change, missing) => {
    expect(missingOf('lock ring', change)).toEqual([missing]);
  });
});

describe('looks and photos', () => {
  const looks = (change: (list: Evidence['parts'][number]['looks']) => unknown) =>
    missingOf('lock ring', (e) => change(part(e, 'lock ring').looks));
  const at = (list: { zone: string; result: string }[], zone: string) =>
    must(
      list.find((one) => one.zone === zone),
      zone,
    );

  test('a zone not looked at, not to be seen, or with a defect that is not recorded', () => {
    const said = (text: string) => [{ what: 'look', text, zone: 'ring body' }];
    const drop = (list: { zone: string }[]) =>
      list.splice(
        list.findIndex((one) => one.zone === 'ring body'),
        1,
      );
    expect(looks(drop)).toEqual(said('ring body: not looked at yet.'));
    expect(looks((list) => Object.assign(at(list, 'ring body'), { result: 'could not be seen' }))).toEqual(
      said('ring body: could not be seen.'),
    );
    expect(looks((list) => Object.assign(at(list, 'ring body'), { result: 'defect recorded' }))).toEqual(
      said('ring body: a defect is said to be recorded, and none is. Record it, or look again.'),
    );
  });

  test('a recorded defect shows that its zone was looked at, and no other', () => {
    const both = (e: Evidence) => {
      const ring = part(e, 'lock ring');
      ring.looks = ring.looks.filter((one) => one.zone === 'ring ends');
      ring.defects.push(defect({ defect: 'broken', zone: 'ring body', clock: null }));
    };
    expect(missingOf('lock ring', both)).toEqual([
      { what: 'look', text: 'ring seat face: not looked at yet.', zone: 'ring seat face' },
    ]);
  });

  test('photos of the zones that are photographed, one of each', () => {
    expect(
      missingOf('lock ring', (e) => {
        part(e, 'lock ring').photos = [{ id: 'p', zone: 'ring body' }];
      }),
    ).toEqual([{ what: 'photo', text: 'ring ends: no photo yet.', zone: 'ring ends' }]);
  });
});

describe('readings', () => {
  const reading = (text: string, clock: number | null, over: object = {}) => ({
    what: 'reading',
    text,
    zone: 'gutter groove',
    characteristic: 'gutter depth',
    clock,
    state: null,
    ...over,
  });

  test('each place of each quantity', () => {
    const without = missingOf('rim base', (e) => {
      const base = part(e, 'rim base');
      base.readings = base.readings.filter(
        (one) => one.characteristic !== 'gutter depth' || one.clock === 12,
      );
    });
    expect(without).toEqual([
      reading("Gutter depth at 3 o'clock: not measured yet.", 3),
      reading("Gutter depth at 6 o'clock: not measured yet.", 6),
      reading("Gutter depth at 9 o'clock: not measured yet.", 9),
    ]);
  });

  test('each state where there are states, anywhere', () => {
    const ring = { zone: 'ring ends', characteristic: 'lock-ring gap' };
    const without = missingOf('lock ring', (e) => {
      part(e, 'lock ring').readings = [];
    });
    expect(without).toEqual([
      reading('Lock-ring end gap, free: not measured yet.', null, { ...ring, state: 'free' }),
      reading('Lock-ring end gap, fitted: not measured yet.', null, { ...ring, state: 'fitted' }),
    ]);
  });

  test('without a limit there is a rule missing, with the state in its text', () => {
    expect(
      missingOf('lock ring', (e) => Object.assign(part(e, 'lock ring'), { maker: 'Unknown Works' })),
    ).toEqual([
      {
        what: 'rule',
        text: 'Lock-ring end gap (fitted), ring ends: no limit on file.',
        zone: 'ring ends',
        characteristic: 'lock-ring gap',
        state: 'fitted',
      },
      {
        what: 'rule',
        text: 'Lock-ring end gap (free), ring ends: no limit on file.',
        zone: 'ring ends',
        characteristic: 'lock-ring gap',
        state: 'free',
      },
    ]);
  });

  test('a limit that asks for another way of measuring', () => {
    const row = {
      row: 'r',
      type: 'limit',
      components: ['lock ring'],
      characteristic: 'lock-ring gap',
      states: ['free'],
      keep: { max: 100 },
      repair: null,
      methods: ['photo'],
      source: testSource,
    };
    expect(missingOf('lock ring', nothing, row)).toEqual([
      {
        what: 'reading',
        text: 'Lock-ring end gap (free), ring ends: the limit asks for a reading by photo.',
        zone: 'ring ends',
        characteristic: 'lock-ring gap',
        state: 'free',
      },
    ]);
    const neither = (e: Evidence) => {
      for (const one of part(e, 'lock ring').readings) one.method = 'x' as never;
    };
    const texts = missingOf('lock ring', neither, { ...row, methods: ['gauge', 'photo'] }).map(
      (one) => one.text,
    );
    expect(texts).toContain(
      'Lock-ring end gap (free), ring ends: the limit asks for a reading by gauge or photo.',
    );
  });

  test('readings that cannot support keep: no instrument, no date, or run out', () => {
    const instruments = [
      null,
      { name: 'DG-1', calibrationDue: null, expired: true },
      { name: 'DG-2', calibrationDue: '2026-01-01', expired: true },
    ];
    const missing = missingOf('rim base', (e) => {
      const depths = part(e, 'rim base').readings.filter((one) => one.characteristic === 'gutter depth');
      instruments.forEach((instrument, i) => {
        Object.assign(must(depths[i], 'reading'), { clock: [null, 3, 6][i], instrument });
      });
      part(e, 'rim base').readings.push({ ...must(depths[3], 'fourth'), id: 'x', clock: 12 });
    });
    const said = (clock: number | null, text: string) => ({ ...reading(text, clock), what: 'instrument' });
    expect(missing).toEqual([
      said(
        null,
        'Gutter depth: no instrument is named, so the reading cannot support keep. Name it or measure again.',
      ),
      said(
        3,
        "Gutter depth at 3 o'clock: the calibration of DG-1 has no date that covers the day, so the reading cannot support keep. Measure again with a calibrated instrument.",
      ),
      said(
        6,
        "Gutter depth at 6 o'clock: the calibration of DG-2 ran out on 2026-01-01, so the reading cannot support keep. Measure again with a calibrated instrument.",
      ),
    ]);
  });
});

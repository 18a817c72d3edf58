import { describe, expect, it } from 'vitest';
import { type Entry, foldInspection, foldRegister, kinds } from '../../lib/record/index.ts';
import { pairInRegister, pairsOf } from '../../lib/review/index.ts';
import { BASE, depthBody, entry, INSPECTION, RING, thing, WHEEL } from '../support/entries.ts';

const GAUGE = thing(200);
const verdict = {
  parts: [
    { slot: 'rim base', component: BASE, result: 'repair' },
    { slot: 'lock ring', component: RING, result: 'keep' },
    { slot: 'side flange', component: null, result: 'hold' },
  ],
};
const read = (author: string, reading: number, valueMm: number, clock = 3, ms = 2000) =>
  entry(
    kinds.readingEntered,
    INSPECTION,
    { ...depthBody(thing(reading), BASE, valueMm), clock, instrument: GAUGE },
    { author, ms },
  );
const again = (one: Entry) =>
  entry(
    kinds.secondMeasured,
    INSPECTION,
    { of: one.kind, v: one.v, body: one.body, seenIn: null },
    { author: one.author, ms: 5000 },
  );
const call = (author: string, component: string, word: 'keep' | 'repair' | 'scrap') =>
  entry(kinds.callMade, INSPECTION, { component, call: word, reason: '' }, { author, ms: 2500 });

const opened = entry(kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'yearly' }, { ms: 0 });
const evidence = [
  opened,
  read('inspector-1', 110, 10.2),
  read('inspector-1', 111, 10.4),
  read('inspector-1', 112, 9.5, 6),
  call('inspector-1', BASE, 'scrap'),
];
const submitted = entry(
  kinds.inspectionSubmitted,
  INSPECTION,
  { covers: evidence.map((one) => one.id), verdict },
  { ms: 4000 },
);
const second = (who: string, ms = 6000) => [
  again(read(who, 120, 10.1)),
  again(read(who, 121, 7, 9)),
  again(call(who, BASE, 'repair')),
  again(call(who, RING, 'keep')),
  entry(
    kinds.secondHandedIn,
    INSPECTION,
    { submission: submitted.id, notReadable: [thing(112)] },
    { author: who, ms },
  ),
];
const concluded = (outcome: 'agreed' | 'sent back') =>
  entry(
    kinds.reviewConcluded,
    INSPECTION,
    { submission: submitted.id, outcome, reason: 'seen', calls: [], signed: 'signed in' },
    { author: 'rey', ms: 8000 },
  );
const of = (...more: Entry[]) => pairsOf(foldInspection([...evidence, submitted, ...more]));

describe('pairs of an inspection', () => {
  it('are the places that both read; repeats at a place are averaged', () => {
    const { readings } = of(...second('rey'), concluded('agreed'));
    expect(readings).toHaveLength(1);
    expect(readings[0]).toMatchObject({
      inspection: INSPECTION,
      component: BASE,
      characteristic: 'gutter depth',
      clock: 3,
      inspector: 'inspector-1',
      reviewer: 'rey',
      blind: true,
      first: { valueMm: expect.closeTo(10.3, 9), instrument: GAUGE, stepMm: 0.1, markUMm: null },
      second: { valueMm: 10.1, instrument: GAUGE },
    });
  });

  it('are the calls on every part that both called: without a call of their own the inspector called what was submitted', () => {
    const { calls } = of(...second('rey'), concluded('agreed'));
    expect(calls.map(({ slot, inspector, first, second: then }) => [slot, inspector, first, then])).toEqual([
      ['rim base', 'inspector-1', 'scrap', 'repair'],
      ['lock ring', 'inspector-1', 'keep', 'keep'],
    ]);
  });

  it('come from every reviewer who handed in', () => {
    const { readings } = of(...second('rey'), ...second('ria'), concluded('agreed'));
    expect(readings.map((one) => one.reviewer).sort()).toEqual(['rey', 'ria']);
  });

  it.each([
    ['before the conclusion', second('rey')],
    ['after sending back', [...second('rey'), concluded('sent back')]],
    ['of somebody who has not handed in', [...second('rey').slice(0, -1), concluded('agreed')]],
    [
      'while late evidence is open',
      [...second('rey'), concluded('agreed'), read('inspector-1', 113, 9, 7, 9000)],
    ],
  ])('are none %s', (_, more) => {
    expect(of(...more)).toEqual({ readings: [], calls: [] });
  });

  it('say when the second was not measured blind: looked early, or handed in for an earlier submission', () => {
    const early = entry(
      kinds.figuresLookedAt,
      INSPECTION,
      { reason: 'blurred' },
      { author: 'rey', ms: 4500 },
    );
    expect(of(early, ...second('rey'), concluded('agreed')).readings[0]?.blind).toBe(false);
    const before = entry(
      kinds.secondHandedIn,
      INSPECTION,
      { submission: thing(999), notReadable: [] },
      { author: 'rey', ms: 3000 },
    );
    expect(of(before, ...second('rey'), concluded('agreed')).calls[0]?.blind).toBe(false);
  });

  it('get their uncertainty from the instruments of the site; none where the instrument is not known', () => {
    const [pair] = of(...second('rey'), concluded('agreed')).readings;
    if (pair === undefined) throw new Error('no pair');
    const { instruments } = foldRegister([
      entry(kinds.instrumentDescribed, GAUGE, {
        name: 'Depth gauge',
        kind: 'depth gauge',
        serial: '',
        resolutionMm: 0.05,
        certificateUMm: 0.03,
        calibratedOn: null,
        calibrationDue: null,
      }),
    ]);
    // Typed to a tenth: 0.1/√12 with the certificate’s 0.03.
    expect(pairInRegister(pair, instruments).first.uMm).toBeCloseTo(Math.hypot(0.1 / Math.sqrt(12), 0.03), 9);
    expect(pairInRegister(pair, new Map()).first.uMm).toBeNull();
    const marked = { ...pair, second: { ...pair.second, markUMm: 0.4 } };
    expect(pairInRegister(marked, new Map()).second.uMm).toBeCloseTo(Math.hypot(0.4, 0.1 / Math.sqrt(12)), 9);
  });
});

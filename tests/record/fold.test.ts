import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { canonicalJson } from '../../lib/base/index.ts';
import {
  bodyOf,
  byTimeThenId,
  checkEntry,
  type Entry,
  foldInspection,
  foldRegister,
  kinds,
  mergeEntries,
} from '../../lib/record/index.ts';
import {
  BASE,
  depthBody,
  entry,
  FITTING,
  INSPECTION,
  RING,
  SITE,
  STAMPS,
  testId,
  thing,
  WHEEL,
} from '../support/entries.ts';

const PHOTO = 'a'.repeat(64);

const readingBody = (reading: string, valueMm: number, component = BASE) =>
  depthBody(reading, component, valueMm);

const markBody = (mark: string, x: number) => ({
  mark,
  photo: PHOTO,
  shape: {
    form: 'trace' as const,
    branches: [
      [
        [x, 1],
        [5, 6],
      ] as [number, number][],
    ],
  },
  defect: 'crack' as const,
  component: BASE,
  zone: 'gutter groove' as const,
  clock: 3,
  method: 'visual' as const,
  note: '',
});

/** A random inspection: every kind that changes state, from two devices, times that collide. */
const someEntries: fc.Arbitrary<Entry[]> = fc
  .array(
    fc.record({
      what: fc.nat(14),
      ms: fc.nat(6).map((n) => n * 1000),
      which: fc.nat(2),
      value: fc.integer({ min: 5, max: 20 }),
      device: fc.constantFrom('phone-1', 'phone-2'),
      author: fc.constantFrom('inspector-1', 'inspector-2'),
    }),
    { minLength: 1, maxLength: 40 },
  )
  .map((steps) => {
    const entries: Entry[] = [];
    for (const { what, ms, which, value, device, author } of steps) {
      const over = { ms, device, author };
      const id = thing(100 + which);
      const made = [
        () => entry(kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: `reason ${value}` }, over),
        () =>
          entry(
            kinds.gateAnswered,
            INSPECTION,
            { question: 'valve core out', answer: value % 2 ? 'yes' : 'no', by: '', doneAt: null },
            over,
          ),
        () => entry(kinds.readingEntered, INSPECTION, readingBody(id, value), over),
        () => entry(kinds.readingCorrected, INSPECTION, readingBody(id, value + 0.5), over),
        () => entry(kinds.readingWithdrawn, INSPECTION, { reading: id, reason: 'slip' }, over),
        () => entry(kinds.markDrawn, INSPECTION, markBody(id, value), over),
        () => entry(kinds.markRedrawn, INSPECTION, markBody(id, value), over),
        () => entry(kinds.markWithdrawn, INSPECTION, { mark: id, reason: '' }, over),
        () =>
          entry(
            kinds.zoneLookedAt,
            INSPECTION,
            { component: BASE, zone: 'butt weld', result: 'nothing seen', note: `${value}` },
            over,
          ),
        () => entry(kinds.callMade, INSPECTION, { component: BASE, call: 'hold', reason: `${value}` }, over),
        () => entry(kinds.noteWritten, INSPECTION, { text: `note ${value}` }, over),
        () =>
          entry(
            kinds.inspectionSubmitted,
            INSPECTION,
            {
              covers: entries
                .slice(0, value)
                .map((one) => one.id)
                .concat(id),
              verdict: {},
            },
            over,
          ),
        () =>
          entry(
            kinds.reviewConcluded,
            INSPECTION,
            {
              submission: entries.find((one) => one.kind === 'inspection submitted')?.id ?? thing(9),
              outcome: value % 2 ? 'agreed' : 'sent back',
              reason: 'because',
              calls: [],
              signed: 'password entered again',
            },
            { ...over, author: 'reviewer-1' },
          ),
        () =>
          entry(
            kinds.secondMeasured,
            INSPECTION,
            { of: 'reading entered', v: 1, body: readingBody(id, value), seenIn: null },
            { ...over, author: `reviewer-${value % 3}` },
          ),
        () =>
          entry(
            kinds.secondHandedIn,
            INSPECTION,
            { submission: id, notReadable: [] },
            { ...over, author: `reviewer-${value % 3}` },
          ),
        () =>
          entry(
            kinds.figuresLookedAt,
            INSPECTION,
            { reason: `${value}` },
            { ...over, author: `reviewer-${value % 3}` },
          ),
        () =>
          entry(
            kinds.questionAsked,
            INSPECTION,
            { question: id, pin: { on: 'inspection' }, wants: 'an answer', text: `${value}` },
            { ...over, author: 'reviewer-1' },
          ),
        () => entry(kinds.questionAnswered, INSPECTION, { question: id, text: `${value}` }, over),
        () => ({
          ...entry(kinds.noteWritten, INSPECTION, { text: 'x' }, over),
          kind: 'drawn by a newer version',
          v: 3,
          body: { any: value },
        }),
        () =>
          entry(
            kinds.reviewAssigned,
            INSPECTION,
            { to: value % 3 ? `reviewer-${value}` : null, note: '' },
            { ...over, author: 'reviewer-1' },
          ),
      ][what];
      if (made !== undefined) entries.push(made());
    }
    return entries;
  });

/** Text of a state in which maps and sets count by content, not by order of insertion. */
function stateText(value: unknown): string {
  return JSON.stringify(value, (_key, inner) =>
    inner instanceof Map ? [...inner.entries()].sort(([a], [b]) => (a < b ? -1 : 1)) : inner,
  );
}

describe('merging entries', () => {
  test('is a union by id: idempotent, commutative, associative', () => {
    fc.assert(
      fc.property(someEntries, fc.nat(), (entries, cut) => {
        const a = entries.slice(0, cut % entries.length);
        const b = entries.slice((cut % entries.length) / 2);
        const c = entries.filter((_, i) => i % 3 === 0);
        const ids = (list: Entry[]) => list.map((one) => one.id);
        expect(ids(mergeEntries(a, a))).toEqual(ids(mergeEntries(a)));
        expect(ids(mergeEntries(a, b))).toEqual(ids(mergeEntries(b, a)));
        expect(ids(mergeEntries(mergeEntries(a, b), c))).toEqual(ids(mergeEntries(a, mergeEntries(b, c))));
      }),
      { seed: 21, numRuns: 200 },
    );
  });

  test('one id with two contents ends in the same content on both devices', () => {
    const one = entry(kinds.noteWritten, INSPECTION, { text: 'a' });
    const other = { ...one, body: { text: 'b' } };
    expect(canonicalJson(mergeEntries([one], [other]))).toBe(canonicalJson(mergeEntries([other], [one])));
  });
});

describe('folding an inspection', () => {
  test('does not depend on the order nor the repetition of the entries', () => {
    fc.assert(
      fc.property(
        someEntries,
        fc.infiniteStream(fc.double({ min: 0, max: 1, noNaN: true })),
        (entries, order) => {
          const keyed = [...entries, ...entries.slice(0, 5)].map((one) => ({
            one,
            key: order.next().value ?? 0,
          }));
          const shuffled = keyed.sort((a, b) => a.key - b.key).map(({ one }) => one);
          expect(stateText(foldInspection(shuffled))).toBe(stateText(foldInspection(entries)));
        },
      ),
      { seed: 22, numRuns: 300 },
    );
  });

  test('two devices that exchange their entries see the same inspection', () => {
    fc.assert(
      fc.property(someEntries, (entries) => {
        const phone = entries.filter((one) => one.device === 'phone-1');
        const other = entries.filter((one) => one.device === 'phone-2');
        expect(stateText(foldInspection(mergeEntries(phone, other)))).toBe(
          stateText(foldInspection(mergeEntries(other, phone))),
        );
      }),
      { seed: 23, numRuns: 100 },
    );
  });

  test('the newest word counts: a correction replaces the reading, a withdrawal removes it', () => {
    const id = thing(100);
    const entered = entry(kinds.readingEntered, INSPECTION, readingBody(id, 10));
    const corrected = entry(kinds.readingCorrected, INSPECTION, readingBody(id, 11));
    expect(foldInspection([entered, corrected]).readings.get(id)?.value.valueMm).toBe(11);
    const withdrawn = entry(kinds.readingWithdrawn, INSPECTION, { reading: id, reason: 'wrong part' });
    expect(foldInspection([entered, corrected, withdrawn]).readings.size).toBe(0);
  });

  test('a correction made on a device whose clock runs behind still counts', () => {
    const id = thing(100);
    const entered = entry(kinds.readingEntered, INSPECTION, readingBody(id, 10), { ms: 9000 });
    const corrected = entry(kinds.readingCorrected, INSPECTION, readingBody(id, 11), {
      ms: 2000,
      device: 'phone-2',
    });
    expect(foldInspection([entered, corrected]).readings.get(id)?.value.valueMm).toBe(11);
  });

  test('status follows submission, conclusion and what came late', () => {
    const opened = entry(kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'yearly' });
    const covers = [opened.id];
    const submitted = entry(kinds.inspectionSubmitted, INSPECTION, { covers, verdict: {} });
    const conclude = (outcome: 'agreed' | 'sent back' | 'overruled', submission: string) =>
      entry(
        kinds.reviewConcluded,
        INSPECTION,
        { submission, outcome, reason: 'because', calls: [], signed: 'password entered again' },
        { author: 'reviewer-1' },
      );
    const agreed = conclude('agreed', submitted.id);
    const back = conclude('sent back', submitted.id);
    const late = entry(kinds.readingEntered, INSPECTION, readingBody(thing(100), 10));
    const again = entry(kinds.inspectionSubmitted, INSPECTION, { covers: [...covers, late.id], verdict: {} });
    expect(foldInspection([opened]).status).toBe('open');
    expect(foldInspection([opened, submitted]).status).toBe('submitted');
    expect(foldInspection([opened, submitted, agreed]).status).toBe('concluded');
    expect(foldInspection([opened, submitted, back]).status).toBe('sent back');
    expect(foldInspection([opened, submitted, agreed, late])).toMatchObject({
      status: 'reopened',
      late: [late.id],
    });
    expect(foldInspection([opened, submitted, back, late, again]).status).toBe('submitted');
    expect(foldInspection([opened, submitted, agreed]).inspectors).toEqual(['inspector-1']);
  });

  test('entries of an unknown newer kind are kept, counted and covered', () => {
    const known = entry(kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'yearly' });
    const newer: Entry = { ...known, id: testId(99_000, 99), kind: 'something new', v: 4 };
    const state = foldInspection([known, newer]);
    expect(state.unreadable).toEqual([newer.id]);
    expect(state.coverable).toContain(newer.id);
    expect(checkEntry(newer)).toEqual({ ok: true, value: newer });
  });
});

describe('folding the registers', () => {
  test('a component moves between wheels and its history goes with it', () => {
    const described = entry(kinds.componentDescribed, RING, {
      componentKind: 'lock ring',
      maker: 'm',
      series: 's',
      stamp: '1',
      ...STAMPS,
    });
    const fitted = entry(kinds.componentFitted, RING, { wheel: WHEEL, slot: 'lock ring', ...FITTING });
    const moved = entry(kinds.componentFitted, RING, { wheel: thing(50), slot: 'lock ring', ...FITTING });
    const entries = [moved, described, fitted];
    const ring = foldRegister(entries).components.get(RING);
    expect(ring?.fitments.map((stay) => [stay.wheel, stay.until])).toEqual([
      [WHEEL, moved.at],
      [thing(50), null],
    ]);
    expect(stateText(foldRegister(entries))).toBe(stateText(foldRegister([...entries].reverse())));
  });
});

describe('checking entries', () => {
  const good = entry(kinds.gateAnswered, INSPECTION, {
    question: 'valve core out',
    answer: 'yes',
    by: 'A',
    doneAt: null,
  });
  const faults: [string, (e: Record<string, unknown>) => void, string][] = [
    ['an id that is no UUIDv7', (e) => Object.assign(e, { id: thing(5) }), 'id'],
    ['a time without zone', (e) => Object.assign(e, { at: '2026-01-01T10:00:00' }), 'at'],
    ['a wrong subject', (e) => Object.assign(e, { subject: { type: 'wheel', id: WHEEL } }), 'subject.type'],
    [
      'a wrong body',
      (e) =>
        Object.assign(e, { body: { question: 'valve core out', answer: 'perhaps', by: '', doneAt: null } }),
      'body.answer',
    ],
    ['an extra field', (e) => Object.assign(e, { admin: true }), 'admin'],
    ['no body', (e) => Object.assign(e, { body: undefined }), 'body'],
  ];
  test.each(faults)('%s is refused with the field named', (_name, change, field) => {
    const bad = structuredClone(good) as unknown as Record<string, unknown>;
    change(bad);
    expect(checkEntry(bad)).toMatchObject({ ok: false, error: { field } });
  });

  test('a mark drawn before angles were known reads as it was; one of an angle is checked point by point', () => {
    const body = {
      mark: thing(1),
      photo: 'a'.repeat(64),
      shape: { form: 'spot', at: [1, 1] },
      defect: null,
      component: thing(2),
      zone: 'gutter lip',
      clock: null,
      method: 'visual',
      note: '',
    };
    const old = { ...good, kind: 'mark drawn', v: 1, body } as Entry;
    expect(checkEntry(old)).toMatchObject({ ok: true });
    expect(bodyOf(old)).toEqual(body);
    const arms = [
      [9, 1],
      [1, 9],
    ];
    const angle = { ...old, v: 2, body: { ...body, shape: { form: 'angle', vertex: [1, 1], arms } } };
    expect(checkEntry(angle)).toMatchObject({ ok: true });
    const oneArm = { ...angle, body: { ...body, shape: { form: 'angle', vertex: [1, 1], arms: [[9, 1]] } } };
    expect(checkEntry(oneArm)).toMatchObject({ ok: false, error: { field: 'body.shape.arms' } });
  });

  test('every kind says its line and is its own current version', () => {
    for (const kind of Object.values(kinds)) {
      expect(kind.upgrades).toHaveLength(kind.v - 1);
      expect(kind.kind).toBe(kind.kind.toLowerCase().replace('o-ring', 'O-ring'));
    }
    expect(new Set(Object.values(kinds).map((kind) => kind.kind)).size).toBe(Object.keys(kinds).length);
    expect(good.site).toBe(SITE);
    expect([good].sort(byTimeThenId)).toHaveLength(1);
  });
});

describe('an instrument described several times', () => {
  const gauge = thing(20);
  const body = (calibrationDue: string | null) => ({
    name: 'DG-1',
    kind: 'depth gauge' as const,
    serial: '',
    resolutionMm: 0.05,
    certificateUMm: null,
    calibratedOn: null,
    calibrationDue,
  });
  const dues = ['2024-06-01', null, '2026-06-01', '2027-06-01'];
  const entries = dues.map((due, i) => entry(kinds.instrumentDescribed, gauge, body(due), { ms: i * 1000 }));

  test('counts as described last, and keeps what was said before, the newest first', () => {
    const [first, second, third, last] = dues.map(body);
    expect(foldRegister(entries).instruments.get(gauge)).toEqual({
      ...last,
      id: gauge,
      earlier: [third, second, first],
    });
    expect(foldRegister(entries.slice(0, 1)).instruments.get(gauge)).toEqual({
      ...first,
      id: gauge,
      earlier: [],
    });
  });

  test('whatever the order in which the entries arrive, and however often', () => {
    fc.assert(
      fc.property(
        fc.shuffledSubarray([...entries, ...entries], { minLength: 8, maxLength: 8 }),
        (shuffled) => {
          expect(foldRegister(shuffled)).toEqual(foldRegister(entries));
        },
      ),
      { seed: 51, numRuns: 50 },
    );
  });
});

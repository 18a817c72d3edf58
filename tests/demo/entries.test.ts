import { describe, expect, test } from 'vitest';
import { canonicalJson, must, parseTag } from '../../lib/base/index.ts';
import { checkReading, Reading } from '../../lib/readings/index.ts';
import {
  checkEntry,
  componentsIn,
  type Entry,
  foldInspection,
  foldRegister,
  isReadable,
  kinds,
} from '../../lib/record/index.ts';
import { dangerOf, mayConclude, settledParts, submittedParts } from '../../lib/review/index.ts';
import { evaluate, gatherEvidence, type Verdict } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { constructionOf, constructions, parseDesignation } from '../../lib/wheel/index.ts';
import { tellDemo } from '../../tools/demo/entries.ts';
import { daysAgo, entries, inspections, photos, register, setting, told } from './told.ts';

/** The entries of an inspection up to the one with this id, without it. */
function entriesUntil(own: readonly Entry[], id: string): readonly Entry[] {
  return own.slice(
    0,
    own.findIndex((entry) => entry.id === id),
  );
}

/** The registers as they were when an entry was written. */
function registerBefore(id: string) {
  return foldRegister(entriesUntil(entries, id).filter((entry) => entry.subject.type !== 'inspection'));
}

describe('the entries of the demonstration', () => {
  test('are thousands, all accepted and readable', () => {
    expect(entries.length).toBeGreaterThan(6000);
    for (const entry of entries) {
      expect(checkEntry(entry)).toEqual({ ok: true, value: entry });
      expect(isReadable(entry)).toBe(true);
    }
  });

  test('have ids of their own, in the order of time, over three years and all in the past', () => {
    expect(new Set(entries.map((entry) => entry.id)).size).toBe(entries.length);
    const times = entries.map((entry) => entry.at);
    expect(times).toEqual([...times].sort());
    expect(daysAgo(must(times[0], 'first time'))).toBe(1100);
    expect(must(times.at(-1), 'last time') < setting.today).toBe(true);
  });

  test('are the same bytes each time', () => {
    expect(canonicalJson(tellDemo(setting, photos).entries)).toBe(canonicalJson(entries));
  });

  test('differ in nothing but ids and dates on another day', () => {
    const later = tellDemo({ ...setting, today: '2027-02-03' }, photos).entries;
    expect(later.map((entry) => entry.kind)).toEqual(entries.map((entry) => entry.kind));
    expect(later[0]?.at).not.toBe(entries[0]?.at);
  });

  test('hold readings that are what was typed', () => {
    const readings = entries.filter((entry) => entry.kind === kinds.readingEntered.kind);
    expect(readings.length).toBeGreaterThan(2000);
    for (const { body } of readings)
      expect(checkReading(Reading.parse(body))).toEqual({ ok: true, value: true });
  });
});

describe('the quarry', () => {
  const wheels = [...register.wheels.values()];
  const parts = [...register.components.values()];

  test('says of itself and of every limit in force that it is a demonstration or a regulation', () => {
    const site = must(register.sites.get(setting.site), 'site');
    expect(site).toMatchObject({ name: 'Demonstration quarry', demonstration: true });
    const { tables, unknown } = tablesNamed(site.tables);
    expect(unknown).toEqual([]);
    for (const row of tables.flatMap((table) => table.rows)) {
      const numbers = row.type === 'limit' || row.type === 'test';
      expect(numbers ? ['demonstration'] : ['demonstration', 'published']).toContain(row.source.kind);
    }
  });

  test('has six machines with 28 wheels of all constructions from 25 to 57 inch, with valid tags', () => {
    expect([new Set(wheels.map((wheel) => wheel.machine)).size, wheels.length]).toEqual([6, 28]);
    expect(new Set(wheels.map((wheel) => wheel.construction)).size).toBe(constructions.length);
    expect(wheels.filter((wheel) => wheel.dual)).toHaveLength(8);
    expect(new Set(wheels.map((wheel) => wheel.tag)).size).toBe(28);
    const codes = wheels.map((wheel) => {
      expect(parseTag(wheel.tag)).toEqual({ ok: true, value: wheel.tag });
      const size = parseDesignation(wheel.designation);
      return size.ok ? size.value.diameterCode : undefined;
    });
    expect([Math.min(...codes.map(Number)), Math.max(...codes.map(Number))]).toEqual([25, 57]);
  });

  test('began with all parts but two known, one of which was found out later', () => {
    const openAt = (at?: string) =>
      wheels.flatMap((wheel) => {
        const fitted = componentsIn(wheel.id, register, at);
        return constructionOf(wheel.construction)
          .slots.filter((slot) => slot.inspected && !fitted.has(slot.slot))
          .map((slot) => `${wheel.machine.slice(-5)} ${wheel.position}, ${slot.slot}`);
      });
    const first = must(
      entries.find((entry) => entry.kind === kinds.inspectionOpened.kind),
      'first inspection',
    );
    expect(openAt(first.at)).toEqual([
      'HT-01 rear left inner, back side flange',
      'WL-03 rear right, rear bead seat band',
    ]);
    expect(openAt()).toEqual(['WL-03 rear right, rear bead seat band']);
  });

  test('has stamped parts, some without their age, some of another maker', () => {
    const fitted = wheels.flatMap((wheel) => [...componentsIn(wheel.id, register).values()]);
    expect(fitted.filter((part) => part.componentKind !== 'O-ring').length).toBeGreaterThanOrEqual(130);
    expect(new Set(parts.map((part) => part.stamp)).size).toBe(parts.length);
    expect(parts.filter((part) => part.made.how === 'unknown').length).toBeGreaterThan(5);
    expect(parts.filter((part) => part.maker !== 'Quillmoor Rimworks')).toHaveLength(4);
  });

  test('has parts that moved, that left for good, and no slot with two parts', () => {
    const moved = parts.filter((part) => new Set(part.fitments.map((stay) => stay.wheel)).size > 1);
    expect(moved.map((part) => part.componentKind)).toEqual(['lock ring']);
    const gone = parts.filter((part) => part.fitments.every((stay) => stay.until !== null));
    expect(gone.length).toBeGreaterThan(12);
    const standing = parts.flatMap((part) =>
      part.fitments.filter((stay) => stay.until === null).map((stay) => `${stay.wheel}|${stay.slot}`),
    );
    expect(new Set(standing).size).toBe(standing.length);
  });

  test('takes every part out that was settled as scrap', () => {
    const still = inspections.flatMap(({ key, state }) =>
      (settledParts(state) ?? [])
        .filter((part) => part.settled === 'scrap')
        .filter(({ component }) => {
          const stays = register.components.get(component ?? '')?.fitments ?? [];
          return stays.some((stay) => stay.wheel === state.wheel && stay.until === null);
        })
        .map((part) => `${key}: ${part.slot}`),
    );
    expect(still).toEqual([]);
  });

  test('has seven instruments, calibrated each year but one, and yearly tests of most rim bases', () => {
    const instruments = [...register.instruments.values()];
    expect(instruments).toHaveLength(7);
    const over = instruments.filter((one) => (one.calibrationDue ?? '') < setting.today);
    expect(over.map((one) => one.name)).toEqual(['Depth gauge 2']);
    const bases = wheels.map((wheel) => componentsIn(wheel.id, register).get('rim base'));
    const inDate = bases.filter((base) => base?.tests.some((one) => one.on > '2025-11-25'));
    expect(inDate.length).toBeGreaterThan(20);
    expect(inDate.length).toBeLessThan(bases.length);
  });

  test('used no instrument out of calibration but once', () => {
    const used = entries.filter((entry) => entry.kind === kinds.readingEntered.kind);
    const late = used.filter((entry) => {
      const gauge = register.instruments.get(String(entry.body.instrument));
      // The due dates grow with each calibration, so an early reading is checked by the newest date only.
      return (gauge?.calibrationDue ?? '') < entry.at.slice(0, 10);
    });
    expect(new Set(late.map((entry) => entry.subject.id)).size).toBe(1);
    expect(late[0]?.subject.id).toBe(told('GR-06 front right, now').state.id);
  });
});

describe('the inspections', () => {
  test('are some two hundred, every wheel several times', () => {
    expect(inspections.length).toBeGreaterThan(190);
    const perWheel = [...register.wheels.keys()].map(
      (wheel) => inspections.filter(({ state }) => state.wheel === wheel).length,
    );
    expect(Math.min(...perWheel)).toBeGreaterThanOrEqual(7);
  });

  test('carry the verdict that the rules give again', () => {
    let again = 0;
    for (const { own, state } of inspections.filter((_, index) => index % 5 === 0 || index > 160)) {
      const submission = state.submission;
      if (submission === null) continue;
      const then = registerBefore(submission.entry);
      const wheel = must(then.wheels.get(state.wheel ?? ''), 'wheel');
      const before = foldInspection(entriesUntil(own, submission.entry));
      const evidence = gatherEvidence(before, wheel, then, submission.at);
      const { tables } = tablesNamed(then.sites.get(setting.site)?.tables ?? []);
      expect(canonicalJson(submission.value.verdict)).toBe(canonicalJson(evaluate(evidence, tables)));
      again += 1;
    }
    expect(again).toBeGreaterThan(60);
  });

  test('were reviewed by others, as the rules of review allow, never milder', () => {
    let reviews = 0;
    for (const { own } of inspections) {
      for (const entry of own.filter((one) => one.kind === kinds.reviewConcluded.kind)) {
        const open = foldInspection(entriesUntil(own, entry.id));
        const conclusion = kinds.reviewConcluded.body.parse(entry.body);
        expect(mayConclude(open, conclusion, entry.author)).toEqual({ ok: true, value: true });
        reviews += 1;
      }
    }
    expect(reviews).toBeGreaterThan(180);
  });

  test('end reviewed but for seven that wait, one that was sent back, two that are being made', () => {
    const standing = (status: string) =>
      inspections.filter(({ state }) => state.status === status).map(({ key }) => key);
    expect(standing('submitted')).toHaveLength(7);
    expect(standing('sent back')).toEqual(['GR-06 front right, now']);
    expect(standing('open')).toEqual(['WC-05 front right, now', 'GR-06 rear right, now']);
    expect(standing('reopened')).toEqual([]);
    for (const { state } of inspections) expect(state.late).toEqual([]);
  });

  test('wait with several dangers, one of them with nothing but keep', () => {
    const waiting = inspections.filter(({ state }) => state.status === 'submitted');
    const dangers = waiting.map(({ state }) => {
      const { at, value } = must(state.submission, 'submission');
      return dangerOf({
        verdict: value.verdict as unknown as Verdict,
        calls: new Map([...state.calls].map(([component, { value: made }]) => [component, made.call])),
        recommendedKpa: state.pressure?.value.recommendedKpa ?? null,
        submittedAt: at,
      }).rank;
    });
    expect(new Set(dangers).size).toBeGreaterThanOrEqual(4);
    expect(
      waiting.filter(({ state }) => submittedParts(state).every((part) => part.result === 'keep')),
    ).toHaveLength(1);
  });

  test('were overruled and sent back now and then', () => {
    const outcomes = inspections.flatMap(({ state }) =>
      [...state.earlierConclusions, ...(state.conclusion === null ? [] : [state.conclusion])].map(
        ({ value }) => value.outcome,
      ),
    );
    const count = (outcome: string) => outcomes.filter((one) => one === outcome).length;
    expect([count('overruled'), count('sent back')]).toEqual([3, 4]);
  });

  test('find keep where everything was photographed, and hold where something is missing', () => {
    const results = inspections.flatMap(({ state }) =>
      (settledParts(state) ?? []).map((part) => part.settled),
    );
    const count = (call: string) => results.filter((one) => one === call).length;
    expect(count('keep')).toBeGreaterThan(60);
    expect(count('scrap')).toBeGreaterThan(12);
    expect(count('repair')).toBeGreaterThan(0);
    expect(count('hold')).toBeGreaterThan(100);
  });
});

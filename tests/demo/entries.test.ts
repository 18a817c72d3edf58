import { describe, expect, test } from 'vitest';
import { canonicalJson, must, parseTag } from '../../lib/base/index.ts';
import { knownRectangles, measureShape } from '../../lib/photo/index.ts';
import { checkReading, Reading } from '../../lib/readings/index.ts';
import {
  checkEntry,
  componentsIn,
  type Entry,
  foldInspection,
  foldRegister,
  isReadable,
} from '../../lib/record/index.ts';
import { mayConclude, settledParts, submittedParts } from '../../lib/review/index.ts';
import { evaluate, gatherEvidence } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { constructionOf, parseDesignation } from '../../lib/wheel/index.ts';
import { demoEntries } from '../../tools/demo/entries.ts';
import { demoWheels } from '../../tools/demo/fleet.ts';
import type { Setting } from '../../tools/demo/log.ts';
import { demoPictures } from '../../tools/demo/pictures.ts';
import { thing } from '../support/entries.ts';

const setting: Setting = {
  site: thing(1),
  people: {
    administrator: 'person-0',
    lead: 'person-1',
    'inspector 1': 'person-2',
    'inspector 2': 'person-3',
    'reviewer 1': 'person-4',
    'reviewer 2': 'person-5',
  },
  today: '2026-11-25',
};
const pictures = demoPictures();
const entries = demoEntries(setting, pictures);
const register = foldRegister(entries.filter((entry) => entry.subject.type !== 'inspection'));
const inspected = entries.filter((entry) => entry.subject.type === 'inspection');
const inspections = [...new Set(inspected.map((entry) => entry.subject.id))].map((id) => {
  const own = inspected.filter((entry) => entry.subject.id === id);
  return { own, state: foldInspection(own) };
});

/** The entries of an inspection up to one of a kind, without it. */
function entriesUntil(own: readonly Entry[], kind: string): readonly Entry[] {
  return own.slice(
    0,
    own.findIndex((entry) => entry.kind === kind),
  );
}

describe('the entries of the demonstration', () => {
  test('are all accepted and readable', () => {
    for (const entry of entries) {
      expect(checkEntry(entry)).toEqual({ ok: true, value: entry });
      expect(isReadable(entry)).toBe(true);
    }
  });

  test('have ids of their own, in the order of time, all in the past', () => {
    expect(new Set(entries.map((entry) => entry.id)).size).toBe(entries.length);
    const times = entries.map((entry) => entry.at);
    expect(times).toEqual([...times].sort());
    expect(must(times.at(-1), 'last time') < setting.today).toBe(true);
  });

  test('are the same bytes each time', () => {
    expect(canonicalJson(demoEntries(setting, pictures))).toBe(canonicalJson(entries));
  });

  test('differ in nothing but ids and dates on another day', () => {
    const later = demoEntries({ ...setting, today: '2027-02-03' }, pictures);
    expect(later.map((entry) => entry.kind)).toEqual(entries.map((entry) => entry.kind));
    expect(later[0]?.at).not.toBe(entries[0]?.at);
  });

  test('hold readings that are what was typed', () => {
    const readings = entries.filter((entry) => entry.kind === 'reading entered');
    expect(readings.length).toBeGreaterThan(40);
    for (const { body } of readings)
      expect(checkReading(Reading.parse(body))).toEqual({ ok: true, value: true });
  });
});

describe('the quarry', () => {
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

  test('has eight wheels of all constructions from 25 to 57 inch, two of them dual, with valid tags', () => {
    const wheels = [...register.wheels.values()];
    expect(wheels).toHaveLength(8);
    expect(new Set(wheels.map((wheel) => wheel.construction)).size).toBe(3);
    expect(wheels.filter((wheel) => wheel.dual)).toHaveLength(2);
    const codes = wheels.map((wheel) => {
      expect(parseTag(wheel.tag)).toEqual({ ok: true, value: wheel.tag });
      const size = parseDesignation(wheel.designation);
      return size.ok ? size.value.diameterCode : undefined;
    });
    expect([Math.min(...codes.map(Number)), Math.max(...codes.map(Number))]).toEqual([25, 57]);
    expect(new Set(wheels.map((wheel) => wheel.machine)).size).toBe(3);
  });

  test('knows every part except one, some without their age, one of another maker', () => {
    const open = [...register.wheels.values()].flatMap((wheel) => {
      const fitted = componentsIn(wheel.id, register);
      return constructionOf(wheel.construction)
        .slots.filter((slot) => slot.inspected && !fitted.has(slot.slot))
        .map((slot) => slot.slot);
    });
    expect(open).toEqual(['rear lock ring']);
    const parts = [...register.components.values()];
    expect(parts.filter((part) => part.madeOn === null).length).toBeGreaterThan(3);
    expect(parts.filter((part) => part.maker !== 'Quillmoor Rimworks')).toHaveLength(1);
  });

  test('has six instruments, one of them out of calibration, and yearly tests of most rim bases', () => {
    const instruments = [...register.instruments.values()];
    expect(instruments).toHaveLength(6);
    expect(instruments.filter((one) => (one.calibrationDue ?? '') < setting.today)).toHaveLength(1);
    const bases = [...register.components.values()].filter((part) => part.componentKind === 'rim base');
    const inDate = bases.filter((base) => base.tests.some((one) => one.on > '2025-11-25'));
    expect([bases.length, inDate.length]).toEqual([demoWheels.length, 6]);
  });
});

describe('the past inspections', () => {
  test('stand as concluded, concluded, sent back and submitted', () => {
    expect(inspections.map(({ state }) => [state.status, state.conclusion?.value.outcome ?? null])).toEqual([
      ['concluded', 'agreed'],
      ['concluded', 'overruled'],
      ['sent back', 'sent back'],
      ['submitted', null],
    ]);
    for (const { state } of inspections) expect(state.late).toEqual([]);
  });

  test('carry the verdict that the rules give again', () => {
    for (const { own, state } of inspections) {
      const submission = must(state.submission, 'submission');
      const site = must(register.sites.get(setting.site), 'site');
      const wheel = must(register.wheels.get(state.wheel ?? ''), 'wheel');
      const evidence = gatherEvidence(
        foldInspection(entriesUntil(own, 'inspection submitted')),
        wheel,
        register,
        submission.at,
      );
      const again = evaluate(evidence, tablesNamed(site.tables).tables);
      expect(canonicalJson(submission.value.verdict)).toBe(canonicalJson(again));
      expect(again.demonstration).toBe(true);
    }
  });

  test('keep nothing but the sound wheel, and scrap the cracked ring and the worn gutter', () => {
    const results = inspections.map(({ state }) => submittedParts(state).map((part) => part.result));
    expect(results[0]).toEqual(['keep', 'keep', 'keep']);
    expect(results[3]).toEqual(['scrap', 'hold', 'hold', 'hold', 'scrap']);
    expect(results.slice(1).flat()).not.toContain('keep');
  });

  test('were reviewed by others, as the rules of review allow', () => {
    for (const { own, state } of inspections) {
      const review = own.find((entry) => entry.kind === 'review concluded');
      if (review === undefined || state.conclusion === null) continue;
      expect(state.inspectors).not.toContain(review.author);
      const open = foldInspection(entriesUntil(own, 'review concluded'));
      expect(mayConclude(open, state.conclusion.value, review.author)).toEqual({ ok: true, value: true });
    }
    const settled = settledParts(must(inspections[1], 'overruled').state);
    expect(settled?.filter((part) => part.overruled).map((part) => [part.slot, part.settled])).toEqual([
      ['rim base', 'scrap'],
    ]);
  });
});

describe('the pictures', () => {
  test('have a scale that gives the true size of what is marked within a tenth', () => {
    let measured = 0;
    for (const { state } of inspections) {
      for (const { value: mark } of state.marks.values()) {
        const picture = must(
          [...pictures.values()].find((one) => one.sha256 === mark.photo),
          'picture',
        );
        const truth = picture.cracks[0]?.lengthMm ?? picture.patches[0]?.areaMm2 ?? Number.NaN;
        const size = measureShape(mark.shape, must(state.scales.get(mark.photo), 'scale').value);
        expect(Math.abs((size.ok ? size.value.value : Number.NaN) / truth - 1)).toBeLessThan(0.1);
        measured += 1;
      }
    }
    expect(measured).toBe(4);
  });

  test('show every mark and scale inside the frame, with cards of a standard size', () => {
    for (const { widthPx, heightPx, cracks, patches, scale } of pictures.values()) {
      const corners = scale === null ? [] : scale.source === 'rectangle' ? scale.corners : scale.ends;
      const lines = [
        ...cracks.flatMap((crack) => crack.branches),
        ...patches.map((patch) => patch.outline),
        corners,
      ];
      for (const [x = Number.NaN, y = Number.NaN] of lines.flat()) {
        expect([x >= 0 && x <= widthPx - 1, y >= 0 && y <= heightPx - 1]).toEqual([true, true]);
      }
      if (scale?.source !== 'rectangle') continue;
      const { what, widthMm, heightMm } = scale;
      expect(knownRectangles).toContainEqual({ what, widthMm, heightMm });
    }
  });
});

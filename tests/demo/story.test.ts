import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { kinds } from '../../lib/record/index.ts';
import { settledParts, submittedParts } from '../../lib/review/index.ts';
import { TRY_FIRST, welcome } from '../../tools/demo/people.ts';
import { daysAgo, entries, inspections, photos, register, setting, told, wheelKeyOf } from './told.ts';

const WHEEL = 'HT-02 front left';

function resultOf(key: string, slot: string) {
  const { state } = told(key);
  const submitted = submittedParts(state).find((part) => part.slot === slot);
  const settled = settledParts(state)?.find((part) => part.slot === slot);
  return [submitted?.result, settled?.settled];
}

function baseOf(key: string): string {
  const { state } = told(key);
  return must(submittedParts(state).find((part) => part.slot === 'rim base')?.component ?? undefined, key);
}

/** Crack marks of an inspection. */
function cracksOf(key: string): number {
  return [...told(key).state.marks.values()].filter(({ value }) => value.defect === 'crack').length;
}

describe('the story of HT-02 front left', () => {
  test('passes a crack over, sees it a year later on the photo, and finds the base back in the wheel', () => {
    expect(resultOf(`${WHEEL}, year 1`, 'rim base')).toEqual(['keep', 'keep']);
    expect([cracksOf(`${WHEEL}, year 2`), ...resultOf(`${WHEEL}, year 2`, 'rim base')]).toEqual([
      0,
      'keep',
      'keep',
    ]);
    expect([cracksOf(`${WHEEL}, year 3`), ...resultOf(`${WHEEL}, year 3`, 'rim base')]).toEqual([
      0,
      'hold',
      'scrap',
    ]);
    expect([cracksOf(`${WHEEL}, now`), ...resultOf(`${WHEEL}, now`, 'rim base')]).toEqual([
      2,
      'scrap',
      'scrap',
    ]);
    expect(settledParts(told(`${WHEEL}, after`).state)?.map((part) => part.settled)).toEqual(
      Array.from({ length: 5 }, () => 'keep'),
    );
  });

  test('is about one and the same base, which was out of the wheel while its crack was known', () => {
    const bases = ['year 1', 'year 2', 'year 3', 'now'].map((round) => baseOf(`${WHEEL}, ${round}`));
    expect(new Set(bases).size).toBe(1);
    const base = must(register.components.get(bases[0] ?? ''), 'the base');
    expect(
      base.fitments.map((stay) => [daysAgo(stay.from), stay.until === null ? null : daysAgo(stay.until)]),
    ).toEqual([
      [1100, 327],
      [262, 17],
    ]);
    expect(base.tests.map((one) => one.result)).toEqual(['no indication', 'indication']);
    expect(baseOf(`${WHEEL}, after`)).not.toBe(bases[0]);
  });

  test('has photos of groove and weld on the days on which they were made', () => {
    for (const round of ['year 1', 'year 2', 'year 3', 'now']) {
      const { state } = told(`${WHEEL}, ${round}`);
      const days = daysAgo(must(state.opened, 'opened').at);
      const shown = [...photos.pictures.values()].filter(
        (picture) => picture.wheel === WHEEL && picture.daysAgo === days,
      );
      expect(shown.map(({ zone }) => zone).sort()).toEqual(['gutter groove', 'gutter weld']);
      for (const { sha256 } of shown) expect(state.photos.has(sha256)).toBe(true);
    }
  });

  test('measures a gutter that wears on from round to round', () => {
    const depths = ['year 1', 'year 2', 'year 3', 'now'].map((round) => {
      const readings = [...told(`${WHEEL}, ${round}`).state.readings.values()];
      return Math.min(
        ...readings
          .filter(({ value }) => value.characteristic === 'gutter depth')
          .map(({ value }) => value.valueMm),
      );
    });
    expect(depths).toEqual([...depths].sort((a, b) => b - a));
    expect((depths[0] ?? 0) - (depths[3] ?? 0)).toBeGreaterThan(0.6);
  });
});

describe('the wear of WL-04 front right', () => {
  test('goes on until the flange is beyond its limit', () => {
    const steps = ['year 1', 'year 2', 'year 3', 'now'].map((round) => {
      const { state } = told(`WL-04 front right, ${round}`);
      const flange = must(
        submittedParts(state).find((part) => part.slot === 'gutter side flange')?.component ?? undefined,
        'flange',
      );
      return Math.max(
        ...[...state.readings.values()]
          .filter(({ value }) => value.component === flange)
          .map(({ value }) => value.valueMm),
      );
    });
    expect(steps).toEqual([...steps].sort((a, b) => a - b));
    expect(resultOf('WL-04 front right, year 3', 'gutter side flange')).toEqual(['keep', 'keep']);
    expect(resultOf('WL-04 front right, now', 'gutter side flange')).toEqual(['scrap', 'scrap']);
  });

  test('shows the rust patch larger from round to round', () => {
    const marked = ['year 1', 'year 2', 'year 3', 'now'].map((round) =>
      [...told(`WL-04 front right, ${round}`).state.marks.values()].filter(
        ({ value }) => value.defect === 'corrosion',
      ),
    );
    expect(marked.map((list) => list.length)).toEqual([1, 1, 1, 1]);
  });
});

describe('wear over three years', () => {
  test('is seen in the readings of the same part by the same inspector, with scatter but in the right direction', () => {
    const first = new Map<string, number>();
    const last = new Map<string, number>();
    for (const { state } of inspections) {
      for (const { value } of state.readings.values()) {
        if (value.characteristic !== 'flange wear' || value.clock === null) continue;
        const key = `${value.component} ${value.clock}`;
        if (!first.has(key)) first.set(key, value.valueMm);
        last.set(key, value.valueMm);
      }
    }
    const grown = [...first].map(([key, value]) => (last.get(key) ?? value) - value);
    const mean = grown.reduce((sum, one) => sum + one, 0) / grown.length;
    expect(grown.length).toBeGreaterThan(150);
    expect(mean).toBeGreaterThan(0.1);
    expect(grown.filter((one) => one < -0.3)).toEqual([]);
  });

  test('is read differently by each inspector', () => {
    const authors = new Set(
      entries.filter((entry) => entry.kind === kinds.readingEntered.kind).map((entry) => entry.author),
    );
    const { people } = setting;
    expect(authors).toEqual(new Set([people['inspector 1'], people['inspector 2'], people['inspector 3']]));
  });
});

describe('what to try first', () => {
  test('names only wheels that are there, as they stand', () => {
    expect(TRY_FIRST.length).toBeGreaterThanOrEqual(4);
    const text = welcome('http://localhost:3000');
    for (const line of TRY_FIRST) expect(text).toContain(line);
    const named = [
      ...text.matchAll(/\b(?:HT|WL|WC|GR)-0\d (?:front|rear) (?:left|right)(?: (?:outer|inner))?/g),
    ];
    expect(named.length).toBeGreaterThan(4);
    const known = new Set(inspections.map(({ state }) => wheelKeyOf(state)));
    for (const [key] of named) expect(known).toContain(key);
  });
});

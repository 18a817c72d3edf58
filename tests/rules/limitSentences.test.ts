import { describe, expect, test } from 'vitest';
import { type Class, type LimitFinding, sentenceOf } from '../../lib/rules/index.ts';
import { cited, limitFinding, place, source } from './findings.ts';

const says = (over: Partial<LimitFinding> = {}, units: 'metric' | 'imperial' = 'metric') =>
  sentenceOf(limitFinding(over), units);
const LIMITS = 'Keep: at least 10.50 mm; repair: at least 9.00 mm (Test, demonstration).';
const CHANCES = 'Beyond keep with probability 3.0 %, beyond repair under 0.1 %.';

/** How a comparison with a limit reads is our own specification; k = 2 after JCGM 100 6.2. */
describe('a comparison with a limit in words', () => {
  const two = [place(), place({ clock: 3, value: 12 })];
  const group = {
    method: 'gauge',
    instrument: 'A',
    value: 10.5,
    u: 0.1,
    repeats: 1,
    readings: ['a'],
  } as const;
  test.each<[string, Partial<LimitFinding>, string]>([
    [
      'one reading at one place',
      {},
      `Gutter depth at 6 o'clock is 10.55 mm ± 0.20 mm (k = 2). ${LIMITS} ${CHANCES}`,
    ],
    [
      'the worst of several places',
      { positions: two },
      `Gutter depth at 6 o'clock is 10.55 mm ± 0.20 mm (k = 2), the worst of 2 places. ${LIMITS} ${CHANCES}`,
    ],
    [
      'repeats with one instrument',
      { governing: place({ repeats: 3, readings: ['a', 'b', 'c'] }) },
      `Gutter depth at 6 o'clock is 10.55 mm ± 0.20 mm (k = 2, mean of 3). ${LIMITS} ${CHANCES}`,
    ],
    [
      'readings by several instruments',
      { governing: place({ repeats: 3, groups: [group, { ...group, instrument: 'B', repeats: 2 }] }) },
      `Gutter depth at 6 o'clock is 10.55 mm ± 0.20 mm (k = 2, weighted mean of 3 readings by 2 instruments). ${LIMITS} ${CHANCES}`,
    ],
    [
      'nowhere in particular, in a state, without repair',
      {
        characteristic: 'lock-ring gap',
        zone: 'ring ends',
        state: 'fitted',
        governing: place({ clock: null, value: -1 }),
        keep: { min: 4, max: 16 },
        repair: null,
        beyondKeep: 1,
      },
      'Lock-ring end gap, fitted is −1.00 mm ± 0.20 mm (k = 2). Keep: 4.00 mm to 16.00 mm (Test, demonstration). Beyond keep with probability over 99.9 %.',
    ],
    [
      'a quantity that is taken in several zones names its zone',
      {
        characteristic: 'pitting depth',
        zone: 'gutter lip',
        keep: { max: 0.8 },
        repair: null,
        beyondKeep: 0.5,
      },
      "Pitting depth, gutter lip at 6 o'clock is 10.55 mm ± 0.20 mm (k = 2). Keep: at most 0.80 mm (Test, demonstration). Beyond keep with probability 50 %.",
    ],
    [
      'an area',
      {
        characteristic: 'corrosion area',
        zone: 'centre band',
        governing: place({ value: 3900, u: 50 }),
        keep: { max: 4000 },
        repair: { max: 40000 },
      },
      `Corrosion area, centre band at 6 o'clock is 39.0 cm² ± 1.0 cm² (k = 2). Keep: at most 40.0 cm²; repair: at most 400.0 cm² (Test, demonstration). ${CHANCES}`,
    ],
  ])('%s', (_name, over, sentence) => {
    expect(says(over)).toBe(sentence);
  });

  test('in inches: 1 in = 25.4 mm', () => {
    const over = { governing: place({ value: 12.7, u: 0.127 }), keep: { min: 10.16 }, repair: null };
    expect(says(over, 'imperial')).toBe(
      "Gutter depth at 6 o'clock is 0.5000 in ± 0.0100 in (k = 2). Keep: at least 0.4000 in (Test, demonstration). Beyond keep with probability 3.0 %.",
    );
  });

  test('a rule against rework is said at the end', () => {
    const noRework = {
      ...cited('ban'),
      source: source({ title: 'Rules', section: '(f)', kind: 'published' }),
    };
    expect(says({ noRework })).toMatch(/under 0\.1 %\. Rework is not on offer \(Rules \(f\)\)\.$/);
  });
});

describe('bounds counted from the new size', () => {
  const nominal = { value: 12.5, u: 0 };
  const within = (relative: LimitFinding['relative'], units: 'metric' | 'imperial' = 'metric') =>
    / (\[.*\]) /.exec(says({ relative }, units))?.[1];

  test('in percent lost', () => {
    expect(
      within({ boundsOf: 'percent lost', nominal, keep: { max: 10 }, repair: { min: -2, max: 20.25 } }),
    ).toBe('[keep at most 10.0 %, repair −2.0 % to 20.3 %, lost of the new size of 12.50 mm]');
  });

  test('from the new size, without repair', () => {
    expect(within({ boundsOf: 'from nominal', nominal, keep: { min: -2 }, repair: null })).toBe(
      '[keep at least −2.00 mm, from the new size of 12.50 mm]',
    );
  });

  test('in inches: 1 in = 25.4 mm', () => {
    const relative = {
      boundsOf: 'from nominal',
      nominal: { value: 25.4, u: 0 },
      keep: { min: -2.54 },
      repair: null,
    };
    expect(within(relative as LimitFinding['relative'], 'imperial')).toBe(
      '[keep at least −0.1000 in, from the new size of 1.0000 in]',
    );
  });
});

describe('the other decision rule', () => {
  const differs = (
    decisionRule: LimitFinding['decisionRule'],
    guardedClass: Class,
    simpleClass: Class,
    over: Partial<LimitFinding> = {},
  ) => says({ decisionRule, guardedClass, simpleClass, ...over }).split('beyond repair under 0.1 %.')[1];

  test.each<[LimitFinding['decisionRule'], Class, Class, string]>([
    ['guarded', 'keep', 'keep', ''],
    [
      'guarded',
      'repair',
      'keep',
      ' By the reading alone it would be keep: a better measurement is worth the walk.',
    ],
    [
      'guarded',
      'scrap',
      'repair',
      ' By the reading alone it would be repair: a better measurement is worth the walk.',
    ],
    [
      'simple acceptance',
      'repair',
      'keep',
      ' With a guard band for a risk of 5.0 % it would be repair: a better measurement is worth the walk.',
    ],
  ])('%s, guarded %s, by the value alone %s', (rule, guarded, simple, text) => {
    expect(differs(rule, guarded, simple)).toBe(text);
  });

  test('where rework is not on offer repair is no gain over scrap, but keep still is', () => {
    const forbidden = { reworkForbidden: true } as const;
    expect(differs('guarded', 'scrap', 'repair', forbidden)).toBe(
      ' By the reading alone it would be repair, for which rework is not on offer.',
    );
    expect(differs('simple acceptance', 'scrap', 'repair', forbidden)).toBe(
      ' With a guard band for a risk of 5.0 % it would be scrap.',
    );
    expect(differs('guarded', 'repair', 'keep', forbidden)).toContain('worth the walk');
  });
});

import { describe, expect, test } from 'vitest';
import { type Settling, type SettlingAction, settlingSentences } from '../../lib/rules/index.ts';
import { limitFinding } from './findings.ts';

const finding = limitFinding();
const action = (over: Partial<SettlingAction> = {}): SettlingAction => ({
  places: [6],
  instrument: 'DG-2',
  repeats: 1,
  settled: 0.7,
  as: { keep: 0.5, repair: 0.1, scrap: 0.1 },
  ...over,
});
const settling = (over: Partial<Settling> = {}): Settling => ({
  doubtful: [6],
  actions: [],
  neededU: 0.02,
  newSizeInDoubt: false,
  ...over,
});

/** What a person is told of settling a finding is our own specification, no source. */
describe('what would settle a finding, in words', () => {
  test.each<[string, Partial<SettlingAction>, string]>([
    [
      'one place once',
      {},
      "Measure the gutter depth again at 6 o'clock with DG-2: 70 % likely to settle it (keep 50 %, repair 10 %, scrap 10 %).",
    ],
    [
      'one place several times',
      { repeats: 3, as: { keep: 0.1, repair: 0.1, scrap: 0.5 } },
      "Measure the gutter depth again at 6 o'clock with DG-2, 3 times: 70 % likely to settle it (scrap 50 %, keep 10 %, repair 10 %).",
    ],
    [
      'several places, several times each',
      { places: [3, 6, 9], repeats: 2, settled: 0.05, as: { keep: 0, repair: 0.05, scrap: 0 } },
      "Measure the gutter depth again at 3, 6 and 9 o'clock with DG-2, 2 times each: 5.0 % likely to settle it (repair 5.0 %).",
    ],
    [
      'two places once',
      { places: [3, 6] },
      "Measure the gutter depth again at 3 and 6 o'clock with DG-2: 70 % likely to settle it (keep 50 %, repair 10 %, scrap 10 %).",
    ],
    [
      'no place in particular',
      { places: [null] },
      'Measure the gutter depth again with DG-2: 70 % likely to settle it (keep 50 %, repair 10 %, scrap 10 %).',
    ],
  ])('%s', (_name, over, sentence) => {
    expect(settlingSentences(finding, settling({ actions: [action(over)] }))).toEqual([sentence]);
  });

  test('classes of 1 % and more are said, the likeliest first', () => {
    const of = (as: SettlingAction['as']) =>
      /\((.*)\)/.exec(settlingSentences(finding, settling({ actions: [action({ as })] }))[0] ?? '')?.[1];
    expect(of({ keep: 0.01, repair: 0.0099, scrap: 0.6 })).toBe('scrap 60 %, keep 1.0 %');
  });

  test('the three best actions, in their order', () => {
    const actions = ['A', 'B', 'C', 'D'].map((instrument) => action({ instrument }));
    expect(
      settlingSentences(finding, settling({ actions })).map((one) => /with (.):/.exec(one)?.[1]),
    ).toEqual(['A', 'B', 'C']);
  });

  test('the quantity stands with its state and zone', () => {
    const gap = { ...finding, characteristic: 'lock-ring gap', zone: 'ring ends', state: 'fitted' } as const;
    expect(settlingSentences(gap, settling({ actions: [action({ places: [null] })] }))[0]).toMatch(
      /^Measure the lock-ring end gap, fitted again with/,
    );
  });

  test('where nothing at hand would do: the u that would, at the doubtful places', () => {
    expect(settlingSentences(finding, settling({ doubtful: [3, 6] }))).toEqual([
      "Nothing at hand would settle it. A measurement at 3 and 6 o'clock with a standard uncertainty of 0.020 mm would, with a chance of 80 %.",
    ]);
    expect(settlingSentences(finding, settling({ doubtful: [null], neededU: 0.0254 }), 'imperial')).toEqual([
      'Nothing at hand would settle it. A measurement with a standard uncertainty of 0.00100 in would, with a chance of 80 %.',
    ]);
  });

  test('the chance of each class stands beside that of settling it', () => {
    const as = { keep: 0.51, repair: 0, scrap: 0.46 };
    expect(settlingSentences(finding, settling({ actions: [action({ settled: 0.97, as })] }))).toEqual([
      "Measure the gutter depth again at 6 o'clock with DG-2: 97 % likely to settle it (keep 51 %, scrap 46 %).",
    ]);
  });

  test('where no measurement is exact enough because of the size of the new part, and where that is not why', () => {
    const words = (newSizeInDoubt: boolean) =>
      settlingSentences(finding, settling({ neededU: null, newSizeInDoubt }));
    expect(words(true)).toEqual([
      'Nothing at hand would settle it, and no gauge could: the size of the new part is not known well enough.',
    ]);
    expect(words(false)).toEqual([
      'Nothing at hand would settle it, and no one measurement would with a chance of 80 %: what was read there before still counts.',
    ]);
  });

  test('what is at hand is named, whatever is not known of the new size', () => {
    const both = settling({ actions: [action()], neededU: null, newSizeInDoubt: true });
    expect(settlingSentences(finding, both)[0]).toMatch(/^Measure the gutter depth again/);
  });
});

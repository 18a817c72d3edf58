import { describe, expect, it } from 'vitest';
import { must, uniformFrom } from '../../lib/base/index.ts';
import {
  type Entry,
  foldStudy,
  kinds,
  nextTurn,
  type StudyPlan,
  studyCell,
  studyHiddenFrom,
  studyOrder,
} from '../../lib/record/index.ts';
import { entry, thing } from '../support/entries.ts';

const STUDY = thing(40);
const PARTS = ['A', 'B', 'C', 'D', 'E'].map((label, i) => ({ part: thing(41 + i), label }));
const plan: StudyPlan = {
  name: 'Depth gauge 3',
  characteristic: 'gutter depth',
  state: null,
  instrument: thing(50),
  parts: PARTS,
  people: ['ina', 'rey'],
  trials: 3,
  tolerance: null,
  seed: 7,
};
const part = (i: number) => must(PARTS[i], 'a part').part;

const opened = (over: Partial<StudyPlan> = {}, ms = 0, author = 'lin') =>
  entry(kinds.studyOpened, STUDY, { ...plan, ...over }, { ms, author });
const read = (author: string, reading: number, i: number, trial: number, valueMm: number, ms: number) =>
  entry(
    kinds.studyReadingEntered,
    STUDY,
    {
      reading: thing(reading),
      part: part(i),
      trial,
      typed: `${valueMm}`,
      defaultUnit: 'mm',
      valueMm,
      confirmed: false,
      overlap: false,
    },
    { ms, author },
  );
const withdrawn = (author: string, reading: number, ms: number) =>
  entry(kinds.studyReadingWithdrawn, STUDY, { reading: thing(reading), reason: 'slip' }, { ms, author });
const closed = (ms: number) => entry(kinds.studyClosed, STUDY, { reason: 'all read' }, { ms, author: 'lin' });

describe('the fold of a gauge study', () => {
  it('counts the first reading of a person at a part and trial', () => {
    const state = foldStudy([opened(), read('ina', 60, 0, 1, 10.1, 1000), read('ina', 61, 0, 1, 10.4, 2000)]);
    expect(state.readings.get(studyCell('ina', part(0), 1))?.value.valueMm).toBe(10.1);
    expect(state.surplus.map((one) => one.value.valueMm)).toEqual([10.4]);
  });

  it('lets another reading take the place of a withdrawn one', () => {
    const entries = [
      opened(),
      read('ina', 60, 0, 1, 10.1, 1000),
      withdrawn('ina', 60, 2000),
      read('ina', 61, 0, 1, 10.4, 3000),
    ];
    expect(foldStudy(entries).readings.get(studyCell('ina', part(0), 1))?.value.valueMm).toBe(10.4);
  });

  it('lets nobody withdraw what another has read', () => {
    const state = foldStudy([opened(), read('ina', 60, 0, 1, 10.1, 1000), withdrawn('rey', 60, 2000)]);
    expect(state.readings.size).toBe(1);
  });

  it.each([
    ['a person not named', read('sol', 60, 0, 1, 10, 1000)],
    ['a trial beyond the last', read('ina', 60, 0, 4, 10, 1000)],
  ])('does not count %s', (_, one) => {
    expect(foldStudy([opened(), one])).toMatchObject({ readings: new Map(), surplus: [{ entry: one.id }] });
  });

  it('counts no reading of a part that is not in the plan', () => {
    const state = foldStudy([opened({ parts: PARTS.slice(1) }), read('ina', 60, 0, 1, 10, 1000)]);
    expect(state.readings.size).toBe(0);
  });

  it('keeps the first plan and the first closing', () => {
    const again = opened({ name: 'Another' }, 500);
    const state = foldStudy([closed(9000), again, opened(), closed(8000)]);
    expect(state.plan?.value.name).toBe('Depth gauge 3');
    expect(state.closed?.at).toBe(closed(8000).at);
  });

  it('gives the same state whatever the order and repetition of the entries', () => {
    const entries: Entry[] = [
      opened(),
      opened({ trials: 2 }, 10),
      read('ina', 60, 0, 1, 10.1, 1000),
      read('ina', 61, 0, 1, 10.2, 1000),
      withdrawn('ina', 60, 900),
      read('rey', 62, 1, 2, 11, 1500),
      read('sol', 63, 1, 2, 11, 1600),
      withdrawn('rey', 61, 1700),
      closed(4000),
      closed(3000),
      { ...read('rey', 64, 2, 1, 9, 2000), v: 99 },
    ];
    const expected = foldStudy(entries);
    expect(expected.readings.size).toBe(2);
    expect(expected.unreadable).toHaveLength(1);
    const next = uniformFrom(5);
    for (let run = 0; run < 40; run += 1) {
      const mixed = [...entries, ...entries.filter(() => next() < 0.5)]
        .map((one) => ({ one, key: next() }))
        .sort((a, b) => a.key - b.key)
        .map(({ one }) => one);
      expect(foldStudy(mixed)).toEqual(expected);
    }
  });
});

describe('the order of a gauge study', () => {
  it('gives every person every part once in each trial, trial by trial', () => {
    for (const person of plan.people) {
      const order = studyOrder(plan, person);
      expect(order.map((one) => one.trial)).toEqual([1, 2, 3].flatMap((trial) => PARTS.map(() => trial)));
      for (const trial of [1, 2, 3]) {
        const parts = order.filter((one) => one.trial === trial).map((one) => one.part);
        expect(parts.sort()).toEqual(PARTS.map((one) => one.part).sort());
      }
    }
  });

  it('is the same each time, another for each person, trial and seed', () => {
    const words = (seed: number, person: string) =>
      studyOrder({ ...plan, seed }, person)
        .map((one) => one.part)
        .join();
    expect(words(7, 'ina')).toBe(words(7, 'ina'));
    expect(words(7, 'ina')).not.toBe(words(7, 'rey'));
    expect(words(7, 'ina')).not.toBe(words(8, 'ina'));
    const trials = [1, 2, 3].map((trial) =>
      studyOrder(plan, 'ina')
        .filter((one) => one.trial === trial)
        .map((one) => one.part)
        .join(),
    );
    expect(new Set(trials).size).toBe(3);
  });

  it('never asks for the same part twice in a row, with two parts neither', () => {
    for (let seed = 0; seed < 200; seed += 1) {
      for (const parts of [PARTS, PARTS.slice(0, 2)]) {
        const order = studyOrder({ ...plan, parts, seed, trials: 5 }, 'ina').map((one) => one.part);
        expect(order.every((one, i) => one !== order[i - 1])).toBe(true);
        expect(new Set(order).size).toBe(parts.length);
      }
    }
  });

  it('puts every part at every place about equally often', () => {
    const first = new Map<string, number>();
    for (let seed = 0; seed < 2000; seed += 1) {
      const one = must(studyOrder({ ...plan, seed }, 'ina')[0], 'a turn').part;
      first.set(one, (first.get(one) ?? 0) + 1);
    }
    // 400 expected, standard deviation 18; five of them either way.
    for (const count of first.values()) expect(Math.abs(count - 400)).toBeLessThan(90);
  });

  it('goes on where the readings end, back to a withdrawn one, and ends with the study', () => {
    const [one, two] = studyOrder(plan, 'ina');
    const at = (turn: typeof one) => PARTS.findIndex((each) => each.part === turn?.part);
    const first = read('ina', 60, at(one), 1, 10, 1000);
    expect(nextTurn(foldStudy([opened()]), 'ina')).toEqual(one);
    expect(nextTurn(foldStudy([opened(), first]), 'ina')).toEqual(two);
    expect(nextTurn(foldStudy([opened(), first, withdrawn('ina', 60, 2000)]), 'ina')).toEqual(one);
    expect(nextTurn(foldStudy([opened(), closed(2000)]), 'ina')).toBeNull();
    expect(nextTurn(foldStudy([opened()]), 'sol')).toBeNull();
    expect(nextTurn(foldStudy([first]), 'ina')).toBeNull();
  });
});

describe('what is kept from whom in a gauge study', () => {
  const open = foldStudy([opened()]);
  const over = foldStudy([opened(), closed(9000)]);
  const theirs = read('rey', 60, 0, 1, 10, 1000);
  const unknown = { author: 'rey', kind: 'study reading entered better' };

  it.each([
    ['another who measures', { id: 'ina', lead: false }, theirs, true],
    ['a lead who measures', { id: 'ina', lead: true }, theirs, true],
    ['somebody who does not measure', { id: 'sol', lead: false }, theirs, true],
    ['a lead who does not measure', { id: 'lin', lead: true }, theirs, false],
    ['the person who read it', { id: 'rey', lead: false }, theirs, false],
    ['anybody, of the plan', { id: 'sol', lead: false }, opened(), false],
    ['another who measures, of a kind not known here', { id: 'ina', lead: false }, unknown, true],
    ['another who measures, of a withdrawal', { id: 'ina', lead: false }, withdrawn('rey', 60, 2000), true],
  ])('while it is open: %s', (_, person, one, hidden) => {
    expect(studyHiddenFrom(person, open, one)).toBe(hidden);
  });

  it('tells everybody everything once it is closed', () => {
    expect(studyHiddenFrom({ id: 'sol', lead: false }, over, theirs)).toBe(false);
    expect(studyHiddenFrom({ id: 'ina', lead: false }, over, unknown)).toBe(false);
  });

  it('keeps readings of a study whose plan is not here even from a lead', () => {
    expect(studyHiddenFrom({ id: 'lin', lead: true }, foldStudy([theirs]), theirs)).toBe(true);
  });
});

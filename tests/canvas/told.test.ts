import { expect, test } from 'vitest';
import { Told } from '../../app/_canvas/told.ts';
import type { PhotoMark } from '../../app/_canvas/types.ts';

const MARK: PhotoMark = { mark: 'm', defect: null, shape: { form: 'spot', at: [1, 1] } };
const MOVED = { form: 'spot', at: [5, 5] } as const;

test('a redrawn mark is shown as the hand left it until the record answers', () => {
  const told = new Told();
  told.note({ kind: 'redrawn', mark: 'm', shape: { form: 'spot', at: [5, 5] } }, [MARK]);
  expect(told.applied([MARK])[0]?.shape).toEqual(MOVED);
  told.answered([MARK]);
  expect(told.applied([MARK])[0]?.shape).toEqual(MOVED);
  const answer: PhotoMark = { ...MARK, shape: { form: 'spot', at: [6, 6] } };
  told.answered([answer]);
  expect(told.applied([answer])[0]?.shape).toEqual(answer.shape);
});

test('forgetting what was told shows the mark as the record has it', () => {
  const told = new Told();
  const forget = told.note({ kind: 'redrawn', mark: 'm', shape: { form: 'spot', at: [5, 5] } }, [MARK]);
  forget();
  expect(told.applied([MARK])).toEqual([MARK]);
});

test('an older answer does not take back what was told after it', () => {
  const told = new Told();
  const forgetFirst = told.note({ kind: 'redrawn', mark: 'm', shape: { form: 'spot', at: [3, 3] } }, [MARK]);
  told.note({ kind: 'redrawn', mark: 'm', shape: { form: 'spot', at: [5, 5] } }, [MARK]);
  forgetFirst();
  expect(told.applied([MARK])[0]?.shape).toEqual(MOVED);
});

test('a withdrawn mark is gone at once, a drawn one is there at once, until the marks change', () => {
  const told = new Told();
  told.note({ kind: 'withdrawn', mark: 'm' }, [MARK]);
  told.note({ kind: 'drawn', shape: { form: 'spot', at: [5, 5] }, tool: 'spot' }, [MARK]);
  expect(told.applied([MARK])).toEqual([]);
  expect(told.drawn).toHaveLength(1);
  told.answered([MARK]);
  expect(told.applied([MARK])).toEqual([MARK]);
  expect(told.drawn).toEqual([]);
});

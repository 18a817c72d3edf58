import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type Append,
  type Change,
  change,
  forgetMark,
  type History,
  type Mark,
  type MarkSet,
  NO_HISTORY,
  redo,
  type Turned,
  undo,
} from '../../lib/marks/index.ts';
import { anyShape, markOf, SEED } from './make.ts';

const SPOT = markOf(1, { form: 'spot', at: [5, 5] });
const SPOT_MOVED = markOf(1, { form: 'spot', at: [9, 9] });
const SPAN = markOf(2, {
  form: 'span',
  ends: [
    [0, 0],
    [9, 9],
  ],
});
const EMPTY: MarkSet = new Map();

function done(result: ReturnType<typeof change>): Turned {
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
}

/** What a reader of the record ends up with after all that was appended. */
function recorded(start: MarkSet, appended: readonly Append[]): MarkSet {
  const marks = new Map(start);
  for (const entry of appended) {
    if (entry.kind === 'withdrawn') marks.delete(entry.mark);
    else marks.set(entry.mark.mark, entry.mark);
  }
  return marks;
}

function plain(marks: MarkSet): [string, Mark][] {
  return [...marks].sort(([a], [b]) => (a < b ? -1 : 1));
}

describe('what the record must append', () => {
  test('undoing a drawn mark withdraws it, redoing draws it again under the same id', () => {
    const drawn = done(change(EMPTY, NO_HISTORY, { kind: 'drawn', mark: SPOT }));
    expect(drawn.append).toEqual({ kind: 'drawn', mark: SPOT });
    const undone = done(undo(drawn.marks, drawn.history));
    expect(undone.append).toEqual({ kind: 'withdrawn', mark: SPOT.mark });
    const redone = done(redo(undone.marks, undone.history));
    expect(redone.append).toEqual({ kind: 'drawn', mark: SPOT });
  });

  test('undoing a withdrawal draws the mark again under the same id', () => {
    const start: MarkSet = new Map([[SPOT.mark, SPOT]]);
    const gone = done(change(start, NO_HISTORY, { kind: 'withdrawn', mark: SPOT }));
    expect(gone.append).toEqual({ kind: 'withdrawn', mark: SPOT.mark });
    expect(done(undo(gone.marks, gone.history)).append).toEqual({ kind: 'drawn', mark: SPOT });
  });

  test('undoing a redrawing redraws the mark as it was', () => {
    const start: MarkSet = new Map([[SPOT.mark, SPOT]]);
    const moved = done(change(start, NO_HISTORY, { kind: 'redrawn', before: SPOT, after: SPOT_MOVED }));
    expect(moved.append).toEqual({ kind: 'redrawn', mark: SPOT_MOVED });
    expect(done(undo(moved.marks, moved.history)).append).toEqual({ kind: 'redrawn', mark: SPOT });
  });
});

describe('what is refused', () => {
  test('there is nothing to undo or redo at the start', () => {
    expect(undo(EMPTY, NO_HISTORY)).toMatchObject({ ok: false, error: { code: 'nothing-to-undo' } });
    expect(redo(EMPTY, NO_HISTORY)).toMatchObject({ ok: false, error: { code: 'nothing-to-redo' } });
  });

  test('a new change ends what could be redone', () => {
    const drawn = done(change(EMPTY, NO_HISTORY, { kind: 'drawn', mark: SPOT }));
    const undone = done(undo(drawn.marks, drawn.history));
    const other = done(change(undone.marks, undone.history, { kind: 'drawn', mark: SPAN }));
    expect(redo(other.marks, other.history)).toMatchObject({ error: { code: 'nothing-to-redo' } });
  });

  test('a mark changed elsewhere since is not undone over, and can be forgotten', () => {
    const drawn = done(change(EMPTY, NO_HISTORY, { kind: 'drawn', mark: SPAN }));
    const both = done(change(drawn.marks, drawn.history, { kind: 'drawn', mark: SPOT }));
    const elsewhere = new Map(both.marks).set(SPOT.mark, SPOT_MOVED);
    const refused = undo(elsewhere, both.history);
    expect(refused).toMatchObject({ ok: false, error: { code: 'changed-since', value: SPOT.mark } });
    const rest = done(undo(elsewhere, forgetMark(both.history, SPOT.mark)));
    expect(rest.append).toEqual({ kind: 'withdrawn', mark: SPAN.mark });
  });

  test.each<[string, Change]>([
    ['drawing a mark that is there', { kind: 'drawn', mark: SPOT }],
    ['redrawing a mark that is not as thought', { kind: 'redrawn', before: SPOT_MOVED, after: SPOT }],
    ['withdrawing a mark that is not there', { kind: 'withdrawn', mark: SPAN }],
  ])('%s', (_, next) => {
    const start: MarkSet = new Map([[SPOT.mark, SPOT]]);
    expect(change(start, NO_HISTORY, next)).toMatchObject({ error: { code: 'changed-since' } });
  });
});

const anyStep = fc.record({
  kind: fc.constantFrom('draw', 'redraw', 'withdraw', 'undo', 'redo'),
  pick: fc.nat(1000),
  shape: anyShape,
});

test('any steps, then as many undos, give the start back; redos restore; the record agrees throughout', () => {
  fc.assert(
    fc.property(fc.array(anyStep, { maxLength: 40 }), (steps) => {
      const start: MarkSet = new Map([
        [SPOT.mark, SPOT],
        [SPAN.mark, SPAN],
      ]);
      let marks = start;
      let history: History = NO_HISTORY;
      const appended: Append[] = [];
      const take = (turned: Turned): void => {
        marks = turned.marks;
        history = turned.history;
        appended.push(turned.append);
        expect(plain(recorded(start, appended))).toEqual(plain(marks));
      };
      steps.forEach(({ kind, pick, shape }, index) => {
        const present = [...marks.values()];
        const chosen = present[pick % Math.max(1, present.length)];
        if (kind === 'draw')
          take(done(change(marks, history, { kind: 'drawn', mark: markOf(100 + index, shape) })));
        else if (kind === 'undo' && history.done.length > 0) take(done(undo(marks, history)));
        else if (kind === 'redo' && history.undone.length > 0) take(done(redo(marks, history)));
        else if (kind === 'withdraw' && chosen)
          take(done(change(marks, history, { kind: 'withdrawn', mark: chosen })));
        else if (kind === 'redraw' && chosen) {
          take(
            done(change(marks, history, { kind: 'redrawn', before: chosen, after: { ...chosen, shape } })),
          );
        }
      });
      const after = plain(marks);
      const count = history.done.length;
      for (let i = 0; i < count; i += 1) take(done(undo(marks, history)));
      expect(plain(marks)).toEqual(plain(start));
      for (let i = 0; i < count; i += 1) take(done(redo(marks, history)));
      expect(plain(marks)).toEqual(after);
    }),
    { seed: SEED, numRuns: 300 },
  );
});

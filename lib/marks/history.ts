import { assertNever, canonicalJson, fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import type { Mark } from './shape.ts';

/** The marks on one photo by their id. */
export type MarkSet = ReadonlyMap<string, Mark>;

/** A step that can be taken back; it keeps what it needs for both ways. */
export type Change =
  | { readonly kind: 'drawn'; readonly mark: Mark }
  | { readonly kind: 'redrawn'; readonly before: Mark; readonly after: Mark }
  | { readonly kind: 'withdrawn'; readonly mark: Mark };

/** What the record must append for a step, an undo or a redo: nothing is ever taken out of it. */
export type Append =
  | { readonly kind: 'drawn'; readonly mark: Mark }
  | { readonly kind: 'redrawn'; readonly mark: Mark }
  | { readonly kind: 'withdrawn'; readonly mark: string };

/** Changes done, oldest first, and changes undone, the next to be redone last. */
export interface History {
  readonly done: readonly Change[];
  readonly undone: readonly Change[];
}

export const NO_HISTORY: History = { done: [], undone: [] };

/** The marks and the history after a step, and what the record must append. */
export interface Turned {
  readonly marks: MarkSet;
  readonly history: History;
  readonly append: Append;
}

function inverse(change: Change): Change {
  switch (change.kind) {
    case 'drawn':
      return { kind: 'withdrawn', mark: change.mark };
    case 'withdrawn':
      return { kind: 'drawn', mark: change.mark };
    case 'redrawn':
      return { kind: 'redrawn', before: change.after, after: change.before };
    default:
      return assertNever(change);
  }
}

function idOf(change: Change): string {
  return change.kind === 'redrawn' ? change.after.mark : change.mark.mark;
}

/** Whether the set is as the change expects to find it; another device may have changed the mark meanwhile. */
function fits(marks: MarkSet, change: Change): boolean {
  const now = marks.get(idOf(change));
  if (change.kind === 'drawn') return now === undefined;
  const expected = change.kind === 'redrawn' ? change.before : change.mark;
  return now !== undefined && canonicalJson(now) === canonicalJson(expected);
}

function carryOut(marks: MarkSet, change: Change): { marks: MarkSet; append: Append } {
  const next = new Map(marks);
  switch (change.kind) {
    case 'drawn':
      next.set(change.mark.mark, change.mark);
      return { marks: next, append: { kind: 'drawn', mark: change.mark } };
    case 'redrawn':
      next.set(change.after.mark, change.after);
      return { marks: next, append: { kind: 'redrawn', mark: change.after } };
    case 'withdrawn':
      next.delete(change.mark.mark);
      return { marks: next, append: { kind: 'withdrawn', mark: change.mark.mark } };
    default:
      return assertNever(change);
  }
}

function changedSince(change: Change): Problem {
  return problem(
    'changed-since',
    'mark',
    idOf(change),
    'The mark has been changed elsewhere since this step',
    'Look at the mark as it is now and change it by hand.',
  );
}

/**
 * Does a change: draws, redraws or withdraws a mark. What had been undone can no longer be redone.
 * Fails when the set is not as the change expects it.
 */
export function change(marks: MarkSet, history: History, next: Change): Result<Turned, Problem> {
  if (!fits(marks, next)) return fail(changedSince(next));
  return ok({ ...carryOut(marks, next), history: { done: [...history.done, next], undone: [] } });
}

/**
 * Takes the last change back: a drawn mark is withdrawn, a withdrawn one is drawn again under the same id.
 * Fails when there is nothing to undo, or the mark has been changed elsewhere since.
 */
export function undo(marks: MarkSet, history: History): Result<Turned, Problem> {
  const last = history.done.at(-1);
  if (!last) {
    return fail(
      problem('nothing-to-undo', 'history', '', 'There is nothing to undo', 'Draw or change a mark.'),
    );
  }
  const back = inverse(last);
  if (!fits(marks, back)) return fail(changedSince(last));
  return ok({
    ...carryOut(marks, back),
    history: { done: history.done.slice(0, -1), undone: [...history.undone, last] },
  });
}

/** Does the last undone change again. Fails when there is none, or the mark has been changed elsewhere since. */
export function redo(marks: MarkSet, history: History): Result<Turned, Problem> {
  const next = history.undone.at(-1);
  if (!next) {
    return fail(
      problem('nothing-to-redo', 'history', '', 'There is nothing to redo', 'Undo a change first.'),
    );
  }
  if (!fits(marks, next)) return fail(changedSince(next));
  return ok({
    ...carryOut(marks, next),
    history: { done: [...history.done, next], undone: history.undone.slice(0, -1) },
  });
}

/**
 * The history without steps on marks that were changed elsewhere, so that undo never sticks on one.
 * `mark` is the id named by the refusal.
 */
export function forgetMark(history: History, mark: string): History {
  const others = (changes: readonly Change[]): Change[] => changes.filter((item) => idOf(item) !== mark);
  return { done: others(history.done), undone: others(history.undone) };
}

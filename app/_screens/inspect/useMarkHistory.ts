'use client';
import { useRef, useState } from 'react';
import type { Problem, Result } from '../../../lib/base/index.ts';
import {
  type Change,
  change,
  forgetMark,
  type History,
  type Mark,
  NO_HISTORY,
  redo,
  type Turned,
  undo,
} from '../../../lib/marks/index.ts';
import { kinds } from '../../../lib/record/index.ts';
import { useWriting } from '../../_client/hand.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';

/** Changes of the marks on one photo as entries, with undo and redo by further entries. */
export function useMarkHistory(view: InspectionView, photo: string, onProblem: (problem: Problem) => void) {
  const { store } = useWorkplace();
  const write = useWriting(view);
  const [history, setHistory] = useState<History>(NO_HISTORY);
  const latest = useRef(history);
  const queue = useRef<Promise<void>>(Promise.resolve());
  const keep = (next: History) => {
    latest.current = next;
    setHistory(next);
  };
  /** One step after the other, each on the marks as the record has them then. */
  const turn = (
    step: (marks: ReadonlyMap<string, Mark>, history: History) => Result<Turned, Problem>,
  ): Promise<void> => {
    queue.current = queue.current.then(async () => {
      const marks = await marksNow(store, view, photo);
      const turned = step(marks, latest.current);
      if (!turned.ok) {
        if (turned.error.code === 'changed-since') keep(forgetMark(latest.current, turned.error.value));
        onProblem(turned.error);
        return;
      }
      const { append } = turned.value;
      if (append.kind === 'withdrawn') await write(kinds.markWithdrawn, { mark: append.mark, reason: '' });
      else await write(append.kind === 'drawn' ? kinds.markDrawn : kinds.markRedrawn, append.mark);
      keep(turned.value.history);
    });
    return queue.current;
  };
  return {
    canUndo: history.done.length > 0,
    canRedo: history.undone.length > 0,
    change: (next: Change) => turn((marks, before) => change(marks, before, next)),
    undo: () => turn(undo),
    redo: () => turn(redo),
  };
}

async function marksNow(
  store: ReturnType<typeof useWorkplace>['store'],
  { state: { id }, fold }: InspectionView,
  photo: string,
): Promise<ReadonlyMap<string, Mark>> {
  const state = fold(await store.entriesOf('inspection', id));
  return new Map(
    [...state.marks].filter(([, { value }]) => value.photo === photo).map(([id, { value }]) => [id, value]),
  );
}

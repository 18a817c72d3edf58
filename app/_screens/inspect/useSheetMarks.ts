import { useMemo } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import { type DrawingTool, type Mark, type Shape, TOOL_MAKES } from '../../../lib/marks/index.ts';
import { newId } from '../../_client/device.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { useMarkHistory } from './useMarkHistory.ts';

/** The marks of one photo, and what the hand does to them, each as an entry. */
export function useSheetMarks(
  view: InspectionView,
  photo: string,
  on: { onProblem(problem: Problem): void; onDrawn(mark: string): void; onWithdrawn(): void },
) {
  const all = view.state.marks;
  const list = useMemo(
    () => [...all.values()].map(({ value }) => value).filter((mark) => mark.photo === photo),
    [all, photo],
  );
  const history = useMarkHistory(view, photo, on.onProblem);
  const attached = view.state.photos.get(photo)?.value;
  const named = (id: string) => list.find(({ mark }) => mark === id);
  return {
    list,
    history,
    drawn(shape: Shape, by: DrawingTool) {
      if (attached === undefined) return undefined;
      const { component, zone, clock } = attached;
      const { defect } = TOOL_MAKES[by];
      const mark: Mark = {
        mark: newId(),
        photo,
        shape,
        defect,
        component,
        zone,
        clock,
        method: 'visual',
        note: '',
      };
      on.onDrawn(mark.mark);
      return history.change({ kind: 'drawn', mark });
    },
    redrawn(id: string, shape: Shape) {
      const before = named(id);
      return before === undefined
        ? undefined
        : history.change({ kind: 'redrawn', before, after: { ...before, shape } });
    },
    withdraw(id: string) {
      const mark = named(id);
      on.onWithdrawn();
      return mark === undefined ? undefined : history.change({ kind: 'withdrawn', mark });
    },
  };
}

'use client';
import { useMemo } from 'react';
import type { Mark } from '../../../../lib/marks/index.ts';
import { type PhotoScene, type Placed, sceneOfPhoto, sectionOfWheel } from '../../../../lib/photo/index.ts';
import type { Entry, InspectionState, WheelState } from '../../../../lib/record/index.ts';
import {
  compareParts,
  inSecondNumbers,
  type MarkSize,
  type PartCompared,
  secondState,
} from '../../../../lib/review/index.ts';
import type { Evidence, Verdict } from '../../../../lib/rules/index.ts';
import { type InspectionView, useDecide, useSized } from '../../../_client/inspection.ts';
import { sizeKnown } from '../../../_client/measuring.ts';
import { useTaken } from '../../../_client/useTaken.ts';

/** Two people's measurements of one inspection, side by side. */
export interface Comparison {
  readonly parts: readonly PartCompared[];
  readonly own: InspectionState;
  /** The verdict in the second person's numbers. */
  readonly second: Verdict;
  /** Readings that the second person does not have, so that the inspector's stand in that verdict too. */
  readonly filled: number;
}

interface Wanted {
  readonly mark: Mark;
  readonly scene: PhotoScene;
  readonly placed: Placed;
}

/** Marks with what their size is taken from; marks on photos without a scale have no size. */
function wantedSizes(
  state: InspectionState,
  wheel: WheelState,
  slots: ReadonlyMap<string, string>,
): Wanted[] {
  const section = sectionOfWheel(wheel);
  return [...state.marks.values()].flatMap(({ value: mark }) => {
    const scene = sceneOfPhoto(state, mark.photo, section);
    if (scene === null || mark.shape.form === 'spot') return [];
    const near = state.looksAtMarks.get(mark.mark)?.value ?? null;
    return [
      {
        mark,
        scene,
        placed: { shape: mark.shape, zone: mark.zone, slot: slots.get(mark.component) ?? null, near },
      },
    ];
  });
}

function sizesOf(wanted: readonly Wanted[]): ReadonlyMap<Mark, MarkSize> {
  return new Map(
    wanted.flatMap(({ mark, scene, placed }) => {
      const size = sizeKnown(scene, placed);
      if (!size.ok) return [];
      const { quantity, value, u } = size.value;
      return [[mark, { quantity, value, u }] as const];
    }),
  );
}

/** The comparison of what `reviewer` measured with what was submitted; null while sizes are being taken. */
export function useComparison(
  view: InspectionView,
  entries: readonly Entry[],
  reviewer: string,
): Comparison | null {
  const decideNow = useDecide();
  const { state, wheel, parts } = view;
  const own = useMemo(() => secondState(entries, reviewer), [entries, reviewer]);
  const numbers = useMemo(() => inSecondNumbers(entries, reviewer), [entries, reviewer]);
  const slots = useMemo(() => new Map([...parts].map(([slot, { id }]) => [id, slot])), [parts]);
  const firstMarks = useMemo(() => wantedSizes(state, wheel, slots), [state, wheel, slots]);
  const ownMarks = useMemo(() => wantedSizes(own, wheel, slots), [own, wheel, slots]);
  const takenFirst = useTaken(firstMarks);
  const takenOwn = useTaken(ownMarks);
  const sized = useSized(numbers.state, wheel);
  return useMemo(() => {
    if (!takenFirst || !takenOwn || !sized || state.submission === null) return null;
    const { verdict } = decideNow(numbers.state, wheel);
    const submitted = state.submission.value.verdict as unknown as Verdict;
    const [first, second] = [sizesOf(firstMarks), sizesOf(ownMarks)];
    return {
      own,
      second: verdict,
      filled: numbers.filled,
      parts: compareParts({
        state,
        own,
        first: submitted.inputs as Evidence,
        second: verdict.inputs as Evidence,
        classes: new Map(verdict.parts.map(({ slot, result }) => [slot, result])),
        sizeOf: (mark, person) => (person === 'first' ? first : second).get(mark) ?? null,
      }),
    };
  }, [takenFirst, takenOwn, sized, state, own, numbers, wheel, decideNow, firstMarks, ownMarks]);
}

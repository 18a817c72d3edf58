import { useEffect, useRef, useState } from 'react';
import { errorText, type Problem, problem } from '../../../lib/base/index.ts';
import { linesOf, type Mark } from '../../../lib/marks/index.ts';
import { kinds } from '../../../lib/record/index.ts';
import { useWriting } from '../../_client/hand.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { lookNear } from '../../_client/vision.ts';

/**
 * Takes how the photo shows each mark as it is drawn now, in the worker, and keeps it in the record, so that a size is
 * refused alike on every screen and by the limits where the photo is too poor. Returns why marks could not be looked at.
 */
export function useLooksAtMarks(
  view: InspectionView,
  photo: string,
  bytes: () => Promise<Blob>,
  may: boolean,
): ReadonlyMap<string, Problem> {
  const write = useWriting(view);
  const [failed, setFailed] = useState<ReadonlyMap<string, Problem>>(new Map());
  /** Shapes that were looked at, or are being looked at, by mark. */
  const asked = useRef(new Map<string, Mark['shape']>());
  const newest = useRef(view.state);
  newest.current = view.state;
  // biome-ignore lint/correctness/useExhaustiveDependencies: runs when the record changes; the ways to read and write are new at each rendering.
  useEffect(() => {
    if (!may) return;
    const look = async ({ mark, shape }: Mark): Promise<void> => {
      const points = linesOf(shape).flatMap((line) => line.points);
      const near = await lookNear(await bytes(), photo, points);
      if (!near.ok) setFailed((before) => new Map(before).set(mark, near.error));
      // Moved meanwhile: it is looked at again as it is now.
      else if (newest.current.marks.get(mark)?.value.shape === shape)
        await write(kinds.markLookedAt, { mark, near: near.value });
    };
    for (const { value } of view.state.marks.values()) {
      const { mark, shape } = value;
      const sized = shape.form !== 'spot';
      if (
        !sized ||
        value.photo !== photo ||
        view.state.looksAtMarks.has(mark) ||
        asked.current.get(mark) === shape
      )
        continue;
      asked.current.set(mark, shape);
      look(value).catch((error: unknown) =>
        setFailed((before) => new Map(before).set(mark, notLookedAt(photo, error))),
      );
    }
  }, [view.state, photo, may]);
  return failed;
}

function notLookedAt(photo: string, error: unknown): Problem {
  return problem(
    'mark-not-looked-at',
    'photo',
    photo.slice(0, 8),
    `Focus and light at the mark could not be told: ${errorText(error)}`,
    'Look yourself whether the mark is sharp and well lit.',
  );
}

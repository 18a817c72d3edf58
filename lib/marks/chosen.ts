import { pointStillThere, removePoint, shapeProblem } from './edit.ts';
import { nudge } from './editing.ts';
import { pointRefs, sameRef } from './lines.ts';
import type { PointPx, Shape } from './shape.ts';
import { only, type Scene, type Step, selectedShape, tells, type Work } from './work.ts';

function unchanged(a: Shape, b: Shape): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

/** Ends a change: tells it, or refuses and restores when the record could not take the shape. */
export function endEdit(work: Work): Step {
  const { edit } = work;
  if (edit === null) return only(work);
  const rest: Work = { ...work, edit: null };
  if (unchanged(edit.before, edit.shape)) return only(rest);
  const problem = shapeProblem(edit.shape);
  if (problem !== null) {
    const stays = pointStillThere(edit.before, work.point?.ref ?? null);
    return tells({ ...rest, point: stays && work.point }, { kind: 'refused', problem });
  }
  return tells(rest, { kind: 'redrawn', mark: edit.mark, shape: edit.shape });
}

/** Removes the chosen point, or the selected mark when no point is chosen. */
export function removeChosen(work: Work, scene: Scene): Step {
  const rest: Work = { ...work, edit: null, press: null };
  const chosen = selectedShape(rest, scene);
  if (chosen === null || scene.readOnly) return only(rest);
  const ref = work.point?.mark === chosen.mark ? pointStillThere(chosen.shape, work.point.ref) : null;
  if (ref === null) return tells({ ...rest, point: null }, { kind: 'withdrawn', mark: chosen.mark });
  const without = removePoint(chosen.shape, ref);
  if (!without.ok) return tells(rest, { kind: 'refused', problem: without.error });
  const problem = shapeProblem(without.value);
  if (problem !== null) return tells(rest, { kind: 'refused', problem });
  return tells({ ...rest, point: null }, { kind: 'redrawn', mark: chosen.mark, shape: without.value });
}

/** Shifts the chosen point or the selected mark by `byPx`; told to the record only when it settles. */
export function nudgeSelected(work: Work, byPx: PointPx, scene: Scene): Step {
  const chosen = selectedShape(work, scene);
  if (chosen === null || scene.readOnly || work.draft !== null || work.edit?.grip) return only(work);
  const ref = work.point?.mark === chosen.mark ? pointStillThere(chosen.shape, work.point.ref) : null;
  const going = work.edit?.mark === chosen.mark ? work.edit : null;
  const edit = nudge(going, chosen.mark, chosen.shape, ref, byPx, scene.frame);
  return only({ ...work, edit });
}

/** Chooses the next or previous point of the selected mark, going round. */
export function choosePoint(work: Work, by: 1 | -1, scene: Scene): Step {
  const chosen = selectedShape(work, scene);
  if (chosen === null) return only(work);
  const refs = pointRefs(chosen.shape);
  const held = work.point?.mark === chosen.mark ? work.point.ref : null;
  const now = held === null ? (by === 1 ? -1 : 0) : refs.findIndex((ref) => sameRef(ref, held));
  const ref = refs[(now + by + refs.length) % refs.length];
  return only({ ...work, point: ref ? { mark: chosen.mark, ref } : null });
}

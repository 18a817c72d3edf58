import { type GreyPicture, homographyFrom, mapPoint, markerCells, type Point } from '../../photo/index.ts';
import { intensityAt } from './refine.ts';

/** Cells of a marker with its black border, along one side. */
const SIDE_CELLS = 6;
/** Cells that may read wrong: dirt, glare and blur at this size; a marker of another id differs in four or more. */
const WRONG_MAX = 3;
/** Least difference between what is dark and what is light, grey values. */
const CONTRAST_MIN = 18;

/**
 * Whether the picture shows this marker where the rest of its card says it must be: the mean of each cell is compared
 * with what is printed there. The detector reads a marker without knowing which to expect, and gives up earlier.
 */
export function showsMarker(
  picture: GreyPicture,
  corners: readonly [Point, Point, Point, Point],
  id: number,
): boolean {
  const toPx = homographyFrom(
    [
      [0, 0],
      [SIDE_CELLS, 0],
      [SIDE_CELLS, SIDE_CELLS],
      [0, SIDE_CELLS],
    ],
    corners,
  );
  if (!toPx.ok) return false;
  const inner = markerCells(id);
  const light: number[] = [];
  const dark: number[] = [];
  const cells: { value: number; white: boolean }[] = [];
  for (let row = 0; row < SIDE_CELLS; row += 1) {
    for (let column = 0; column < SIDE_CELLS; column += 1) {
      const white = inner[row - 1]?.[column - 1] ?? false;
      let value = 0;
      for (const [dx, dy] of WITHIN) {
        const [x, y] = mapPoint(toPx.value, [column + dx, row + dy]);
        value += intensityAt(picture, x, y) / WITHIN.length;
      }
      cells.push({ value, white });
      (white ? light : dark).push(value);
    }
  }
  const middle = (list: number[]) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)] ?? 0;
  const [high, low] = [middle(light), middle(dark)];
  if (high - low < CONTRAST_MIN) return false;
  const threshold = (high + low) / 2;
  return cells.filter(({ value, white }) => value > threshold !== white).length <= WRONG_MAX;
}

/** Places within a cell that are looked at. */
const WITHIN = [
  [0.5, 0.5],
  [0.35, 0.35],
  [0.65, 0.35],
  [0.35, 0.65],
  [0.65, 0.65],
] as const;

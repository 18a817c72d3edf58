import {
  clipLine,
  distanceToLine,
  distanceToPiece,
  isInside,
  type Line,
  midpointOf,
  type Point,
  type Section,
  type ZoneId,
} from '../../lib/wheel/index.ts';
import { HEIGHT_LINE_X, heightLabels, type Label, nameLabels, widthLabel } from './labels.ts';
import { type Sheet, SIDE_PX, toPx, type View } from './views.ts';

/** The mark of a zone's standing on the sheet: where it stands and which place of the metal it points at. px. */
export interface PlacedMark {
  readonly slot: string;
  readonly zone: ZoneId;
  readonly at: Point;
  readonly anchor: Point;
}

export const MARK_PX = 16;
export const MARKS_APART_PX = MARK_PX + 4;
const CLEAR_OF_METAL_PX = 10;
const DIRECTIONS = 24;
const DISTANCES = [13, 17, 22, 28, 35, 43, 52, 62, 74, 88, 104, 122];
const CROSSING_COST = 45;
const COVERING_COST = 70;

interface Wish {
  readonly slot: string;
  readonly zone: ZoneId;
  readonly anchor: Point;
  readonly outward: Point;
}

/** What is in the way of a mark on the sheet. */
interface Obstacles {
  readonly metal: readonly Line[];
  readonly texts: readonly Label[];
  /** Lines that a mark should not sit on: the height's dimension. */
  readonly lines: readonly Line[];
  readonly view: View;
}

/**
 * Where the marks of a view stand: off the metal, off the text and apart, as near to their zones as that allows.
 * Zones with free room straight in front of them go first; those in the joints look for room further off.
 */
export function placeMarks(section: Section, view: View, sheet: Sheet): PlacedMark[] {
  const obstacles = obstaclesOf(section, view, sheet);
  const wishes = wishesOf(section, view);
  const easy = (wish: Wish) => isFree(straight(wish), obstacles, []);
  const placed: PlacedMark[] = [];
  for (const wish of [...wishes.filter(easy), ...wishes.filter((one) => !easy(one))]) {
    placed.push({
      slot: wish.slot,
      zone: wish.zone,
      anchor: wish.anchor,
      at: bestPlace(wish, obstacles, placed),
    });
  }
  return placed;
}

function straight({ anchor, outward: [nx, ny] }: Wish): Point {
  const distance = DISTANCES[0] ?? 0;
  return [anchor[0] + nx * distance, anchor[1] + ny * distance];
}

function bestPlace(wish: Wish, obstacles: Obstacles, placed: readonly PlacedMark[]): Point {
  let best: Point | null = null;
  let bestCost = Number.POSITIVE_INFINITY;
  const away = Math.atan2(wish.outward[1], wish.outward[0]);
  for (const distance of DISTANCES) {
    if (distance > bestCost) break;
    for (let step = 0; step < DIRECTIONS; step += 1) {
      const turn = ((step + 1) >> 1) * (step % 2 === 0 ? 1 : -1) * ((2 * Math.PI) / DIRECTIONS);
      const at: Point = [
        wish.anchor[0] + distance * Math.cos(away + turn),
        wish.anchor[1] + distance * Math.sin(away + turn),
      ];
      const least = distance + Math.abs(turn) * 4;
      if (least >= bestCost || !isFree(at, obstacles, placed)) continue;
      const cost = least + stemCost(wish.anchor, at, placed);
      if (cost < bestCost) [best, bestCost] = [at, cost];
    }
  }
  return best ?? leastCrowded(wish, placed);
}

/** Where nothing is free, metal or not, the straight place furthest from the marks already there. */
function leastCrowded(wish: Wish, placed: readonly PlacedMark[]): Point {
  const room = ([x, y]: Point) => Math.min(...placed.map(({ at }) => Math.hypot(at[0] - x, at[1] - y)));
  return DISTANCES.map((distance): Point => {
    return [wish.anchor[0] + wish.outward[0] * distance, wish.anchor[1] + wish.outward[1] * distance];
  }).reduce((best, at) => (room(at) > room(best) ? at : best));
}

function isFree(at: Point, { metal, texts, lines, view }: Obstacles, placed: readonly PlacedMark[]): boolean {
  const [x, y] = at;
  const inset = MARK_PX / 2 + 1;
  const leftEdge = view.cutAt === 'left' ? view.left + inset : view.left - SIDE_PX + inset;
  const rightEdge = view.left + view.width + (view.cutAt === 'right' ? -inset : SIDE_PX - inset);
  if (x < leftEdge || x > rightEdge) return false;
  if (y < view.top + inset || y > view.top + view.height - inset) return false;
  if (placed.some((other) => Math.hypot(other.at[0] - x, other.at[1] - y) < MARKS_APART_PX)) return false;
  const onText = texts.some(
    ({ middle, baseline, width }) =>
      Math.abs(x - middle) < width / 2 + inset && y > baseline - 12 - inset && y < baseline + 3 + inset,
  );
  if (onText || lines.some((line) => distanceToLine(at, line) < inset)) return false;
  return metal.every(
    (outline) => !isInside(at, outline) && distanceToLine(at, outline, true) >= CLEAR_OF_METAL_PX,
  );
}

/** What a stem costs that crosses another stem, runs under a mark, or whose mark covers another's stem. */
function stemCost(anchor: Point, at: Point, placed: readonly PlacedMark[]): number {
  return placed.reduce((sum, other) => {
    const crosses =
      turn(anchor, at, other.anchor) * turn(anchor, at, other.at) < 0 &&
      turn(other.anchor, other.at, anchor) * turn(other.anchor, other.at, at) < 0;
    const covers =
      distanceToPiece(other.at, anchor, at) < MARK_PX / 2 + 2 ||
      distanceToPiece(at, other.anchor, other.at) < MARK_PX / 2 + 2;
    return sum + (crosses ? CROSSING_COST : 0) + (covers ? COVERING_COST : 0);
  }, 0);
}

function turn([ax, ay]: Point, [bx, by]: Point, [cx, cy]: Point): number {
  return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
}

function obstaclesOf(section: Section, view: View, sheet: Sheet): Obstacles {
  const width = widthLabel(section, view, sheet);
  const heights = heightLabels(section, view);
  const [faceX, seatPx] = toPx(view, [section.gutterFaceX, section.seatY]);
  const [, topPx] = toPx(view, [0, section.flangeTopY]);
  const x = faceX - HEIGHT_LINE_X;
  return {
    metal: section.parts.flatMap((part) =>
      part.outlines.map((outline) => outline.map((point) => toPx(view, point))),
    ),
    texts: [...nameLabels(section, view, sheet), ...heights, ...(width === null ? [] : [width])],
    lines:
      heights.length === 0
        ? []
        : [
            [
              [x, topPx],
              [x, seatPx],
            ],
          ],
    view,
  };
}

function wishesOf(section: Section, view: View): Wish[] {
  return section.parts.flatMap((part) =>
    part.zones.flatMap(({ zone, lines }) =>
      onePerSide(lines, view).map((line): Wish => {
        const middle = midpointOf(line);
        const [nx, ny] = outward(line, middle, part.outlines);
        return { slot: part.slot, zone, anchor: toPx(view, middle), outward: [nx, -ny] };
      }),
    ),
  );
}

/** The outermost visible line of a zone on the left, in the middle and on the right of a view. */
function onePerSide(lines: readonly Line[], view: View): Line[] {
  const middle = (view.from + view.to) / 2;
  const bySide = new Map<number, { line: Line; y: number }>();
  for (const line of lines.flatMap((one) => clipLine(one, view.from, view.to))) {
    const [x, y] = midpointOf(line);
    const side = Math.abs(x - middle) < 1 ? 0 : Math.sign(x - middle);
    const known = bySide.get(side);
    if (known === undefined || y > known.y) bySide.set(side, { line, y });
  }
  return [...bySide.values()].map(({ line }) => line);
}

/** Unit vector in mm square to a line at its middle, pointing out of the metal it belongs to. */
function outward(line: Line, [x, y]: Point, outlines: readonly Line[]): Point {
  const pieces = line.slice(1).map((end, index) => [line[index] ?? end, end] as const);
  const away = ([from, to]: (typeof pieces)[number]) => distanceToPiece([x, y], from, to);
  const [first] = pieces;
  if (first === undefined) return [0, 1];
  const [[ax, ay], [bx, by]] = pieces.reduce((best, one) => (away(one) < away(best) ? one : best), first);
  const length = Math.hypot(bx - ax, by - ay);
  if (length === 0) return [0, 1];
  const [nx, ny] = [-(by - ay) / length, (bx - ax) / length];
  const inMetal = outlines.some((outline) => isInside([x + nx / 2, y + ny / 2], outline));
  return inMetal ? [-nx, -ny] : [nx, ny];
}

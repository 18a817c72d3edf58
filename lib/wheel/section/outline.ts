import { must } from '../../base/index.ts';
import type { ZoneId } from '../ids.ts';
import type { Line, Point } from './plane.ts';

/** A corner of an outline on its way round, with what begins there. */
export interface Corner {
  readonly x: number;
  readonly y: number;
  /** Radius of the fillet at this corner, mm; shortened where the edges are too short for it. */
  readonly r?: number;
  /** Zone of the edge from this corner to the next. */
  readonly zone?: ZoneId;
  /** Zone of the fillet itself. */
  readonly arcZone?: ZoneId;
}

/** A closed outline with the lines of its zones. */
export interface Traced {
  readonly outline: Line;
  readonly zones: ReadonlyMap<ZoneId, readonly Line[]>;
}

const STEPS_PER_ARC = 6;

/** A corner; short form for the drawings of parts. */
export function corner(x: number, y: number, more: Omit<Corner, 'x' | 'y'> = {}): Corner {
  return { x, y, ...more };
}

/** The same corners walked the other way; each edge keeps its zone. */
export function backwards(corners: readonly Corner[]): Corner[] {
  return corners
    .map((at, index): Corner => {
      const { zone: _, ...rest } = at;
      const before = corners[index - 1]?.zone;
      return before === undefined ? rest : { ...rest, zone: before };
    })
    .reverse();
}

/**
 * Corners given by distance outboard of a flange's inner face, brought to the section's own x. The gutter side
 * runs along x from `faceX`; the back side runs against it.
 */
export function placed(corners: readonly Corner[], faceX: number, outboard: 1 | -1): Corner[] {
  return corners.map((at) => ({ ...at, x: faceX + outboard * at.x }));
}

/** Points of the fillet at a corner, or the corner itself. Arc from tangent to tangent. */
function rounded(before: Corner, at: Corner, after: Corner): Point[] {
  const inX = before.x - at.x;
  const inY = before.y - at.y;
  const outX = after.x - at.x;
  const outY = after.y - at.y;
  const inLength = Math.hypot(inX, inY);
  const outLength = Math.hypot(outX, outY);
  if (at.r === undefined || at.r <= 0 || inLength === 0 || outLength === 0) return [[at.x, at.y]];
  const cosine = (inX * outX + inY * outY) / (inLength * outLength);
  const half = Math.acos(Math.max(-1, Math.min(1, cosine))) / 2;
  if (half > Math.PI / 2 - 0.01 || half < 0.01) return [[at.x, at.y]];
  const reach = Math.min(at.r / Math.tan(half), inLength * 0.49, outLength * 0.49);
  const radius = reach * Math.tan(half);
  const start: Point = [at.x + (inX / inLength) * reach, at.y + (inY / inLength) * reach];
  const end: Point = [at.x + (outX / outLength) * reach, at.y + (outY / outLength) * reach];
  const bisectX = inX / inLength + outX / outLength;
  const bisectY = inY / inLength + outY / outLength;
  const toCentre = radius / Math.sin(half) / Math.hypot(bisectX, bisectY);
  const centre: Point = [at.x + bisectX * toCentre, at.y + bisectY * toCentre];
  const from = Math.atan2(start[1] - centre[1], start[0] - centre[0]);
  const turn = shortTurn(Math.atan2(end[1] - centre[1], end[0] - centre[0]) - from);
  return Array.from({ length: STEPS_PER_ARC + 1 }, (_, step): Point => {
    const angle = from + (turn * step) / STEPS_PER_ARC;
    return [centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle)];
  });
}

function shortTurn(angle: number): number {
  if (angle > Math.PI) return angle - 2 * Math.PI;
  return angle < -Math.PI ? angle + 2 * Math.PI : angle;
}

/** Rounds the corners of a closed outline and gathers the lines of its zones. */
export function trace(corners: readonly Corner[]): Traced {
  const count = corners.length;
  const at = (index: number) => must(corners[(index + count) % count], 'a corner of the outline');
  const points = corners.map((one, index) => rounded(at(index - 1), one, at(index + 1)));
  const zones = new Map<ZoneId, Line[]>();
  const add = (zone: ZoneId, line: Line) => zones.set(zone, [...(zones.get(zone) ?? []), line]);
  const whole = corners[0]?.zone;
  if (whole !== undefined && corners.every((one) => one.zone === whole)) {
    const round = points.flat();
    add(whole, [...round, ...round.slice(0, 1)]);
  }
  corners.forEach((one, index) => {
    if (one.arcZone !== undefined) add(one.arcZone, must(points[index], 'points of a corner'));
    if (one.zone !== undefined && at(index - 1).zone !== one.zone) {
      add(one.zone, run(corners, points, index, one.zone));
    }
  });
  return { outline: points.flat(), zones };
}

/** The line of a zone from the corner where it starts, over as many edges as carry its name. */
function run(
  corners: readonly Corner[],
  points: readonly (readonly Point[])[],
  start: number,
  zone: ZoneId,
): Line {
  const count = corners.length;
  const line: Point[] = [must(points[start]?.at(-1), 'the end of a corner')];
  for (let step = 1; step <= count; step += 1) {
    const index = (start + step) % count;
    const here = must(points[index], 'points of a corner');
    if (step === count || corners[index]?.zone !== zone) {
      line.push(must(here[0], 'the start of a corner'));
      break;
    }
    line.push(...here);
  }
  return line;
}

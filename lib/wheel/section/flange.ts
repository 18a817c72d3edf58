import type { ZoneId } from '../ids.ts';
import { type Measures, seatHeight } from './measures.ts';
import { type Corner, corner } from './outline.ts';
import type { Point } from './plane.ts';

/** The two sides of a flange above its foot: towards the tyre going up, and the outer side coming down. */
interface Curl {
  readonly tyreSide: readonly Point[];
  readonly cap: readonly Point[];
  readonly outerSide: readonly Point[];
}

/** The curl runs from upright (180°) over its top (90°) down to here: a lip that turns a little downward. */
const CURL_END_DEGREES = 62;
const STEPS_TO_TOP = 10;
const STEPS_BEYOND = 4;
const CAP_STEPS = 5;

const ANGLES: readonly number[] = [
  ...Array.from({ length: STEPS_TO_TOP }, (_, step) => 180 - (90 * step) / STEPS_TO_TOP),
  ...Array.from(
    { length: STEPS_BEYOND + 1 },
    (_, step) => 90 - ((90 - CURL_END_DEGREES) * step) / STEPS_BEYOND,
  ),
].map((degrees) => (degrees * Math.PI) / 180);

function curlOfRadius(m: Measures, radiusX: number): Curl {
  const radiusY = Math.min(0.62 * m.flangeHeightMm, 1.1 * radiusX);
  const centreY = m.seatY + m.flangeHeightMm - radiusY;
  const tyreSide = ANGLES.map((angle): Point => {
    return [radiusX * (1 + Math.cos(angle)), centreY + radiusY * Math.sin(angle)];
  });
  const outerSide = ANGLES.map((angle, index): Point => {
    const normalX = Math.cos(angle) / radiusX;
    const normalY = Math.sin(angle) / radiusY;
    const length = Math.hypot(normalX, normalY);
    const [x, y] = tyreSide[index] ?? [0, 0];
    return [x - (normalX / length) * m.flangeWall, y - (normalY / length) * m.flangeWall];
  });
  const [topX, topY] = tyreSide.at(-1) ?? [0, 0];
  const [endX, endY] = outerSide.at(-1) ?? [0, 0];
  const from = Math.atan2(topY - endY, topX - endX);
  const cap = Array.from({ length: CAP_STEPS }, (_, step): Point => {
    const angle = from - (Math.PI * (step + 1)) / (CAP_STEPS + 1);
    const radius = m.flangeWall / 2;
    return [(topX + endX) / 2 + radius * Math.cos(angle), (topY + endY) / 2 + radius * Math.sin(angle)];
  });
  return { tyreSide, cap, outerSide: outerSide.reverse() };
}

/** The curl whose outermost point reaches exactly `flangeReach`; found by halving, the reach grows with the radius. */
function curlOf(m: Measures): Curl {
  let low = 0.2 * m.flangeReach;
  let high = m.flangeReach;
  for (let step = 0; step < 40; step += 1) {
    const middle = (low + high) / 2;
    const curl = curlOfRadius(m, middle);
    const reach = Math.max(...[...curl.tyreSide, ...curl.cap].map(([x]) => x));
    if (reach < m.flangeReach) low = middle;
    else high = middle;
  }
  return curlOfRadius(m, low);
}

function along(points: readonly Point[], zone: ZoneId): Corner[] {
  return points.map(([x, y]) => corner(x, y, { zone }));
}

/** Names of the zones up a flange; the fixed back flange is one zone, a loose flange has face and lip. */
interface FlangeZones {
  readonly face: ZoneId;
  readonly lip: ZoneId;
}

/**
 * Corners up the tyre side of a flange from the end of its heel radius, over the lip and down the outer side.
 * Schematic curl, our own choice; top and reach are to scale.
 */
export function flangeCorners(m: Measures, zones: FlangeZones): Corner[] {
  const { tyreSide, cap, outerSide } = curlOf(m);
  const beyondTop = tyreSide.slice(STEPS_TO_TOP + 1);
  const under = outerSide.slice(0, STEPS_BEYOND);
  const rest = outerSide.slice(STEPS_BEYOND);
  return [
    ...along(tyreSide.slice(0, STEPS_TO_TOP), zones.face),
    ...along([tyreSide[STEPS_TO_TOP] ?? [0, 0], ...beyondTop, ...cap, ...under.slice(0, 1)], zones.lip),
    ...[...under.slice(1), ...rest].map(([x, y]) => corner(x, y)),
  ];
}

/** Corners of the heel: seat end to flange face, as an arc of the heel radius. */
function heel(m: Measures): Corner[] {
  const r = m.heelRadius;
  const from: Point = [-r, seatHeight(m, -r)];
  return Array.from({ length: 7 }, (_, step): Corner => {
    const angle = (Math.PI / 2) * (step / 6);
    const [x, y] = [-r + r * Math.sin(angle), m.seatY + r - r * Math.cos(angle)];
    return step === 0 ? corner(from[0], from[1]) : corner(x, y);
  });
}

/** Heel corners with the zone of the arc and the zone of the face that rises from its end. */
export function heelCorners(m: Measures, zone: ZoneId, above: ZoneId): Corner[] {
  const arc = heel(m);
  return arc.map((at, index) => ({ ...at, zone: index === arc.length - 1 ? above : zone }));
}

/** Leg of the chamfer under a loose flange, which clears the fillet of the stop. */
export function footChamfer(m: Measures): number {
  return Math.min(5 * m.k, 0.7 * m.flangeWall);
}

/** A loose side flange: foot on its ledge and against its stop, heel radius, face, curl and lip. */
export function sideFlangeCorners(m: Measures): Corner[] {
  const zone = 'flange contact face';
  return [
    corner(-m.heelRadius, m.ledgeY),
    ...heelCorners(m, 'flange face', 'flange face'),
    ...flangeCorners(m, { face: 'flange face', lip: 'flange lip' }),
    corner(m.flangeWall, m.stopY, { zone }),
    corner(m.flangeWall, m.ledgeY + footChamfer(m), { zone }),
    corner(m.flangeWall - footChamfer(m), m.ledgeY, { zone }),
  ];
}

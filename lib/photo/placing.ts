import type { SurfaceChoice } from '../record/index.ts';
import type { Section, ZoneId } from '../wheel/index.ts';
import { rayThrough } from './camera.ts';
import type { Point } from './homography.ts';
import { type Ledge, ledgesNear, type Profile, type ProfilePiece, profileOf } from './profile.ts';
import type { Frame, View } from './reference.ts';
import { type Axle, lathe, plane, type Surface } from './surface.ts';
import { add, along, cross, dot, norm, rotated, scaled, subtract, unit, type Vec3 } from './vector.ts';

/** One thing that is not known about where a surface lies: its name in the budget, and its standard uncertainty. */
export interface Unknown {
  readonly name: string;
  readonly u: number;
}

/** A surface whose place depends on the reference and on unknowns, all 0 at their best values. */
export interface Placing {
  /** What the surface is, in words, for the screen and for the budget. */
  readonly what: string;
  readonly unknowns: readonly Unknown[];
  surfaceOf(view: View, unknowns: readonly number[]): Surface;
  /** The ledge the reference was taken to lie on; null for flat surfaces. */
  readonly ledge: Ledge | null;
}

/** All figures below are standard uncertainties of our own choice until trials on real rims replace them. */
const U = {
  /** The reference lies above the metal by its thickness and by what it bridges, mm. */
  restMm: 0.5,
  /** A card laid flat follows the metal within this, rad (about one degree). */
  restTurn: 0.02,
  /** From the reference’s long side to the direction round the rim, rad (about eight degrees). */
  turn: 0.14,
  /** Radius that a size designation gives: rolled sections, relative. */
  radiusShare: 0.005,
  /** The step in radius from the ledge to the zone: our sections are schematic; relative, and at least, mm. */
  stepShare: 0.06,
  stepMm: 0.5,
  /** Where along the ledge the reference lies, beside the play that its length leaves, mm. */
  slideMm: 2,
  /** A mark of which nothing is known but that it is near the reference: distance from its plane, mm, and tilt, rad. */
  unknownOffsetMm: 22,
  unknownTilt: 0.2,
  /** A mark said to lie in the reference’s plane, mm, and rad. */
  planeOffsetMm: 0.7,
  planeTilt: 0.02,
} as const;
/** A printed card lies above the metal by half a millimetre to one and a half, mm. */
const REST_MM = 0.8;

const OFFSET = 'how far the mark lies before or behind the reference';
const TILT = 'tilt of the surface against the reference';
const RADIUS = 'radius of the surface';
const PLACE = 'where the reference lies on the part';
const value = (list: readonly number[], i: number): number => list[i] ?? 0;

/** A plane parallel to the reference at a distance from it, towards the camera positive; with a small tilt. */
function flat(what: string, offsetMm: number, offsetU: number, tiltU: number): Placing {
  return {
    what,
    ledge: null,
    unknowns: [
      { name: OFFSET, u: offsetU },
      { name: TILT, u: tiltU },
      { name: TILT, u: tiltU },
    ],
    surfaceOf: ({ frame }, d) => {
      const turn = add(scaled(frame.x, value(d, 1)), scaled(frame.y, value(d, 2)));
      return plane(along(frame.origin, frame.normal, offsetMm + value(d, 0)), rotated(frame.normal, turn));
    },
  };
}

/** Turns the frame of a reference: round its normal by `turn`, then leaning by small angles about its axes. */
function leaning(
  frame: Frame,
  turn: number,
  lean: readonly [number, number],
): { round: Vec3; across: Vec3; normal: Vec3 } {
  const small = add(scaled(frame.x, lean[0]), scaled(frame.y, lean[1]));
  const round = rotated(rotated(frame.x, scaled(frame.normal, turn)), small);
  const normal = rotated(frame.normal, small);
  return { round, across: cross(normal, round), normal };
}

/** A cylinder that the reference lies on from outside. */
function cylinder(radiusMm: number, turn: number): Placing {
  return {
    what: `cylinder of radius ${Math.round(radiusMm)} mm`,
    ledge: null,
    unknowns: [
      { name: OFFSET, u: U.restMm },
      { name: PLACE, u: U.turn },
      { name: TILT, u: U.restTurn },
      { name: TILT, u: U.restTurn },
      { name: RADIUS, u: U.radiusShare },
    ],
    surfaceOf: ({ frame }, d) => {
      const { across, normal } = leaning(frame, turn + value(d, 1), [value(d, 2), value(d, 3)]);
      const radius = radiusMm * (1 + value(d, 4));
      const touching = along(frame.origin, normal, value(d, 0) - REST_MM);
      const piece: ProfilePiece = { from: [-1e4, radius], to: [1e4, radius], normal: [0, 1], zone: null };
      return lathe([piece], {
        point: along(touching, normal, -radius),
        axialMm: 0,
        direction: across,
        outward: normal,
      });
    },
  };
}

/** Where a profile stands when the reference lies on one of its ledges. `side` 1: the gutter side is at the reference’s top. */
function axleUnder(
  frame: Frame,
  ledge: Ledge,
  side: 1 | -1,
  turn: number,
  lean: readonly [number, number],
  restMm: number,
  slideMm: number,
): Axle {
  const { across, normal } = leaning(frame, turn, lean);
  // Seen from outside with y down, across = normal × round points to the top of the reference.
  const along1 = scaled(across, side);
  const [dx, dr] = [ledge.to[0] - ledge.from[0], ledge.to[1] - ledge.from[1]];
  // The ledge’s direction with its axial part towards the gutter side; on a face, outwards.
  const forward = Math.abs(dx) > 1e-3 * Math.abs(dr) ? Math.sign(dx) : Math.sign(dr);
  const tangent = [(dx / ledge.lengthMm) * forward, (dr / ledge.lengthMm) * forward] as const;
  const direction = add(scaled(along1, tangent[0]), scaled(normal, ledge.normal[0]));
  const outward = add(scaled(along1, tangent[1]), scaled(normal, ledge.normal[1]));
  const middle = [
    (ledge.from[0] + ledge.to[0]) / 2 + tangent[0] * slideMm,
    (ledge.from[1] + ledge.to[1]) / 2 + tangent[1] * slideMm,
  ] as const;
  const resting = along(frame.origin, normal, -restMm);
  return {
    point: along(resting, outward, -middle[1]),
    axialMm: middle[0],
    direction: unit(direction),
    outward: unit(outward),
  };
}

export interface ZonePlace {
  readonly section: Section;
  readonly slot: string;
  readonly zone: ZoneId;
  /** A point in the middle of the marks, px; the side that the gutter lies on is found from it. */
  readonly aroundPx: Point;
  /** Size of the reference across the direction round the rim, mm. */
  readonly depthMm: number;
}

type ByZone = Extract<SurfaceChoice, { form: 'zone of the mark' }>;

/** The surface of a zone of a part, located from a reference that lies on a ledge of the same part; null where the section has none. */
function byZone(choice: ByZone, place: ZonePlace, view: View): Placing | null {
  const part = place.section.parts.find((one) => one.slot === (choice.restsOn?.slot ?? place.slot));
  const marked = place.section.parts.find((one) => one.slot === place.slot);
  if (part === undefined || marked === undefined) return null;
  const resting = profileOf(place.section, part);
  const ledge = ledgeOf(choice, resting, place);
  const pieces = profileOf(place.section, marked).pieces.filter((piece) => piece.zone === place.zone);
  if (ledge === null || pieces.length === 0) return null;
  const turn = ((choice.turnDegrees ?? 0) * Math.PI) / 180;
  const play = Math.abs(ledge.lengthMm - place.depthMm) / 2 / Math.sqrt(3);
  const step = Math.abs(meanRadius(pieces) - (ledge.from[1] + ledge.to[1]) / 2);
  const sameZone = ledge.zone === place.zone && part === marked;
  const side =
    choice.gutterSide === null
      ? sideOf(view, ledge, pieces, place.aroundPx, turn)
      : choice.gutterSide === 'top'
        ? 1
        : -1;
  const isFace = Math.abs(meanNormal(pieces)[0]) > 0.7;
  return {
    what: `${place.zone}, ${describe(pieces)}`,
    ledge,
    unknowns: [
      { name: OFFSET, u: U.restMm },
      { name: OFFSET, u: sameZone ? 0 : Math.hypot(U.stepShare * step, U.stepMm) },
      { name: PLACE, u: U.turn },
      { name: TILT, u: U.restTurn },
      { name: TILT, u: U.restTurn },
      { name: PLACE, u: Math.hypot(play, U.slideMm) },
      { name: RADIUS, u: U.radiusShare },
    ],
    surfaceOf: ({ frame }, d) => {
      const [rest, stepBy, turnBy, leanX, leanY, slide, radiusBy] = [0, 1, 2, 3, 4, 5, 6].map((i) =>
        value(d, i),
      ) as [number, number, number, number, number, number, number];
      const axle = axleUnder(frame, ledge, side, turn + turnBy, [leanX, leanY], REST_MM + rest, slide);
      // A step moves the zone along its own normal; a wrong radius moves the axle away and the metal with it.
      const moved = pieces.map((piece): ProfilePiece => {
        const grown = (point: readonly [number, number]): [number, number] => [
          point[0] + (isFace ? stepBy : 0),
          point[1] * (1 + radiusBy) + (isFace ? 0 : stepBy),
        ];
        return { ...piece, from: grown(piece.from), to: grown(piece.to) };
      });
      const shift = ((ledge.from[1] + ledge.to[1]) / 2) * radiusBy;
      return lathe(moved, { ...axle, point: along(axle.point, axle.outward, -shift) });
    },
  };
}

function ledgeOf(choice: ByZone, profile: Profile, place: ZonePlace): Ledge | null {
  const ledges = ledgesNear(profile, place.zone, place.depthMm);
  const { restsOn } = choice;
  if (restsOn === null) return ledges[0] ?? null;
  const away = (ledge: Ledge) =>
    Math.hypot(
      (ledge.from[0] + ledge.to[0]) / 2 - restsOn.axialMm,
      (ledge.from[1] + ledge.to[1]) / 2 - restsOn.radiusMm,
    );
  return [...ledges].sort((a, b) => away(a) - away(b))[0] ?? null;
}

/** Mean direction out of the metal, by length; shorter than one where the pieces face different ways. */
function meanNormal(pieces: readonly ProfilePiece[]): [number, number] {
  const sum = pieces.reduce(
    (all, { from, to, normal }) => {
      const weight = Math.hypot(to[0] - from[0], to[1] - from[1]);
      return { x: all.x + normal[0] * weight, r: all.r + normal[1] * weight, weight: all.weight + weight };
    },
    { x: 0, r: 0, weight: 0 },
  );
  return [sum.x / sum.weight, sum.r / sum.weight];
}

function meanRadius(pieces: readonly ProfilePiece[]): number {
  const weights = pieces.map(({ from, to }) => Math.hypot(to[0] - from[0], to[1] - from[1]));
  const total = weights.reduce((sum, one) => sum + one, 0);
  return (
    pieces.reduce((sum, { from, to }, i) => sum + ((from[1] + to[1]) / 2) * (weights[i] ?? 0), 0) / total
  );
}

/** Which way the gutter side lies: the way round on which the zone is met nearest to where it was marked. */
function sideOf(
  view: View,
  ledge: Ledge,
  pieces: readonly ProfilePiece[],
  aroundPx: Point,
  turn: number,
): 1 | -1 {
  const sight = rayThrough(view.lens, aroundPx);
  const missed = ([1, -1] as const).map((side) => {
    const axle = axleUnder(view.frame, ledge, side, turn, [0, 0], REST_MM, 0);
    const meeting = plane(view.frame.origin, view.frame.normal).meet(sight);
    if (meeting === null) return { side, away: Number.POSITIVE_INFINITY };
    const from = subtract(meeting.point, axle.point);
    const axial = dot(from, axle.direction) + axle.axialMm;
    const radius = norm(along(from, axle.direction, -dot(from, axle.direction)));
    return { side, away: Math.min(...pieces.map((piece) => awayFrom(piece, axial, radius))) };
  });
  const [first, second] = missed as [{ side: 1 | -1; away: number }, { side: 1 | -1; away: number }];
  return second.away < first.away - 1 ? second.side : first.side;
}

function awayFrom({ from, to }: ProfilePiece, axial: number, radius: number): number {
  const [dx, dr] = [to[0] - from[0], to[1] - from[1]];
  const share = Math.min(
    1,
    Math.max(0, ((axial - from[0]) * dx + (radius - from[1]) * dr) / (dx * dx + dr * dr)),
  );
  return Math.hypot(axial - from[0] - share * dx, radius - from[1] - share * dr);
}

function describe(pieces: readonly ProfilePiece[]): string {
  const radii = pieces.flatMap(({ from, to }) => [from[1], to[1]]);
  const [least, most] = [Math.round(Math.min(...radii)), Math.round(Math.max(...radii))];
  return least === most ? `radius ${least} mm` : `radius ${least} to ${most} mm`;
}

/**
 * The surface that marks lie on. A zone of a part is placed from the reference, the ledge it rests on and the size
 * designation; where the size or the section does not tell, nothing is known of the surface, and the uncertainty says so.
 */
export function placingOf(choice: SurfaceChoice, place: ZonePlace | null, view: View): Placing {
  switch (choice.form) {
    case 'plane':
      return flat(
        choice.offsetMm === 0 ? 'plane of the reference' : `plane ${choice.offsetMm} mm from the reference`,
        choice.offsetMm,
        Math.hypot(choice.offsetUMm, U.planeOffsetMm),
        U.planeTilt,
      );
    case 'cylinder':
      return cylinder(choice.radiusMm, ((choice.turnDegrees ?? 0) * Math.PI) / 180);
    case 'zone of the mark': {
      const placed = place === null ? null : byZone(choice, place, view);
      return placed ?? unknownSurface();
    }
    case 'unknown':
      return unknownSurface();
  }
}

function unknownSurface(): Placing {
  return flat('not known, taken as the plane of the reference', 0, U.unknownOffsetMm, U.unknownTilt);
}

import type { SurfaceChoice } from '../record/index.ts';
import type { Section, ZoneId } from '../wheel/index.ts';
import { rayThrough } from './camera.ts';
import type { Point } from './homography.ts';
import { type Axle, movedRuns, runsOf, turned } from './lathe.ts';
import { meanNormal, meanRadius, radiiOf, turnedArea } from './pieces.ts';
import { leaning, OFFSET, PLACE, type Placing, RADIUS, REST_MM, TILT, U, value } from './placement.ts';
import { type Ledge, ledgesNear, type ProfilePiece, profileOf } from './profile.ts';
import type { Frame, View } from './reference.ts';
import type { Surface } from './surface.ts';
import { add, along, scaled, unit } from './vector.ts';

export interface ZonePlace {
  readonly section: Section;
  readonly slot: string;
  readonly zone: ZoneId;
  /** Points of the marks, px: where the zone was seen. */
  readonly marksPx: readonly Point[];
  /** Size of the reference across the direction round the rim, and along it, mm. */
  readonly depthMm: number;
  readonly widthMm: number;
}

type ByZone = Extract<SurfaceChoice, { form: 'zone of the mark' }>;

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

/** One way in which the reference may lie on the part. */
interface Lying {
  readonly ledge: Ledge;
  readonly side: 1 | -1;
}

/** How well a way of lying explains that the marks are in their zone. */
interface Explained extends Lying {
  readonly score: number;
  /** Way along the ledge from its middle to where the reference lies, mm, and its standard uncertainty. */
  readonly slideMm: number;
  readonly slideU: number;
}

/** Height of the reference’s middle over the metal: in a hollow it rests on its ends, a sagitta w²/8r higher. */
function restOn({ normal, from, to }: Ledge, widthMm: number): number {
  const hollow = Math.max(0, -normal[1]);
  return REST_MM + (hollow * widthMm * widthMm) / (4 * (from[1] + to[1]));
}

/** Steps in which the place along a ledge is tried, mm. */
const SLIDE_STEP_MM = 3;
/** Beyond the play of its ledge a reference is not laid, but for this, mm. */
const OVERHANG_MM = 10;
/** How a ledge is likelier: our own choice, tried on rendered pictures. Lost per metre away from the zone: */
const AWAY_COST = 2;
/** … gained where the whole reference rests, where that is on the marked zone itself, and where it faces its way. */
const RESTING_GAIN = 0.4;
const SAME_ZONE_GAIN = 0.4;
const FACING_GAIN = 0.3;
/** A difference in likeliness that makes one way of lying e times as likely as another. */
const E_FOLD = 0.06;
/** A point this far past the end of its zone counts as not in it at all, mm. */
const STRAY_MM = 30;
/** Metal that faces further round than this from a ledge is on its other side: cos 100°. */
const OTHER_SIDE = -0.17;
/** Ledges looked at, and points of the marks. */
const LEDGES_TRIED = 6;
const POINTS_TRIED = 9;

/**
 * Tries where along a ledge the reference may lie. The marks were drawn in their zone, so the best places are
 * those that put their points there or least far from it; all of them are equally likely (rectangular, JCGM 100, 4.3.7).
 */
function explained(
  lying: Lying,
  pieces: readonly ProfilePiece[],
  view: View,
  place: ZonePlace,
  turn: number,
): Explained {
  const { ledge, side } = lying;
  const play = Math.abs(ledge.lengthMm - place.depthMm) / 2 + OVERHANG_MM;
  const sights = place.marksPx.map((point) => rayThrough(view.lens, point));
  const runs = runsOf(pieces);
  const tries: { slide: number; share: number }[] = [];
  for (let slide = -play; slide <= play; slide += SLIDE_STEP_MM) {
    const surface = turned(
      runs,
      axleUnder(view.frame, ledge, side, turn, [0, 0], restOn(ledge, place.widthMm), slide),
    );
    const strays = sights.map((sight) => Math.min(1, (surface.meet(sight)?.strayMm ?? STRAY_MM) / STRAY_MM));
    tries.push({ slide, share: 1 - strays.reduce((sum, one) => sum + one, 0) / sights.length });
  }
  const most = Math.max(...tries.map(({ share }) => share));
  const best = tries.filter(({ share }) => share >= most - 0.01).map(({ slide }) => slide);
  const [first, last] = [best[0] ?? 0, best.at(-1) ?? 0];
  const resting = Math.min(1, ledge.lengthMm / place.depthMm);
  return {
    ...lying,
    score:
      most +
      RESTING_GAIN * resting +
      (ledge.zone === place.zone && resting > 0.9 ? SAME_ZONE_GAIN : 0) +
      (ledge.facesSo ? FACING_GAIN : 0) -
      (AWAY_COST * ledge.awayMm) / 1000,
    slideMm: (first + last) / 2,
    slideU: Math.hypot((last - first + SLIDE_STEP_MM) / Math.sqrt(12), U.slideMm),
  };
}

/** A few points spread over the marks. */
function spread(points: readonly Point[]): readonly Point[] {
  const step = Math.max(1, Math.floor(points.length / POINTS_TRIED));
  return points.filter((_, i) => i % step === 0);
}

/**
 * The surface of a zone of a part, located from a reference that lies on a ledge of the same part or of a named one;
 * null where the section has no such zone or ledge.
 */
export function zonePlacing(choice: ByZone, place: ZonePlace, view: View): Placing | null {
  const partOf = (slot: string) => place.section.parts.find((one) => one.slot === slot);
  const [part, marked] = [partOf(choice.restsOn?.slot ?? place.slot), partOf(place.slot)];
  if (part === undefined || marked === undefined) return null;
  const all = profileOf(place.section, marked).pieces.filter((piece) => piece.zone === place.zone);
  if (all.length === 0) return null;
  const turn = ((choice.turnDegrees ?? 0) * Math.PI) / 180;
  const ledges = ledgesOf(choice, ledgesNear(profileOf(place.section, part), place.zone, place.depthMm));
  const sides =
    choice.gutterSide === null
      ? ([1, -1] as const)
      : [choice.gutterSide === 'top' ? (1 as const) : (-1 as const)];
  const seen = { ...place, marksPx: spread(place.marksPx) };
  const ways = ledges
    .flatMap((ledge) => sides.map((side) => explained({ ledge, side }, facing(all, ledge), view, seen, turn)))
    .sort((a, b) => b.score - a.score);
  const [way, ...others] = ways;
  if (way === undefined) return null;
  const placed = (one: Explained) =>
    onLedge(one, facing(all, one.ledge), place, turn, part === marked && one.ledge.zone === place.zone);
  const weights = others.slice(0, OTHERS_KEPT).map(({ score }) => Math.exp((score - way.score) / E_FOLD));
  const total = 1 + weights.reduce((sum, weight) => sum + weight, 0);
  const alternatives = weights
    .map((weight, i) => ({ weight: weight / total, placing: placed(others[i] as Explained) }))
    .filter(({ weight }) => weight > 0.01);
  return { ...placed(way), alternatives };
}

/** Other ways of lying that are weighed against the likeliest. */
const OTHERS_KEPT = 3;

/**
 * Pieces of a zone on the side of the metal that a ledge is on: a weld shows on both sides of a wall, and of the two
 * the one with the reference is in the photo.
 */
function facing(pieces: readonly ProfilePiece[], ledge: Ledge): readonly ProfilePiece[] {
  const same = pieces.filter(
    ({ normal }) => normal[0] * ledge.normal[0] + normal[1] * ledge.normal[1] > OTHER_SIDE,
  );
  return same.length === 0 ? pieces : same;
}

function ledgesOf({ restsOn }: ByZone, ledges: readonly Ledge[]): readonly Ledge[] {
  if (restsOn === null) return ledges.slice(0, LEDGES_TRIED);
  const away = ({ from, to }: Ledge) =>
    Math.hypot((from[0] + to[0]) / 2 - restsOn.axialMm, (from[1] + to[1]) / 2 - restsOn.radiusMm);
  return [...ledges].sort((a, b) => away(a) - away(b)).slice(0, 1);
}

function onLedge(
  way: Explained,
  pieces: readonly ProfilePiece[],
  { zone, widthMm }: ZonePlace,
  turn: number,
  sameZone: boolean,
): Placing {
  const { ledge, side } = way;
  const ledgeRadius = (ledge.from[1] + ledge.to[1]) / 2;
  const step = Math.abs(meanRadius(pieces) - ledgeRadius);
  const isFace = Math.abs(meanNormal(pieces)[0]) > 0.7;
  const runs = runsOf(pieces);
  const unknowns = [
    { name: OFFSET, u: U.restMm },
    { name: OFFSET, u: sameZone ? 0 : Math.hypot(U.stepShare * step, U.stepMm) },
    { name: PLACE, u: U.turn },
    { name: TILT, u: Math.hypot(U.restTurn, ledge.rockTurn) },
    { name: TILT, u: U.restTurn },
    { name: PLACE, u: way.slideU },
    { name: RADIUS, u: U.radiusShare },
  ];
  return {
    what: `${zone}, ${radiiOf(pieces)}`,
    ledge,
    zoneAreaMm2: turnedArea(pieces),
    alternatives: [],
    unknowns,
    axleOf: ({ frame }) => axleUnder(frame, ledge, side, turn, [0, 0], restOn(ledge, widthMm), way.slideMm),
    surfaceOf: ({ frame }, d): Surface => {
      const [rest, stepBy, turnBy, leanX, leanY, slideBy, radiusBy] = unknowns.map((_, i) => value(d, i)) as [
        number,
        number,
        number,
        number,
        number,
        number,
        number,
      ];
      const axle = axleUnder(
        frame,
        ledge,
        side,
        turn + turnBy,
        [leanX, leanY],
        restOn(ledge, widthMm) + rest,
        way.slideMm + slideBy,
      );
      // A step moves a round zone outwards and a face along the axle; a wrong radius moves axle and metal alike.
      const moved = ([axial, radius]: readonly [number, number]): [number, number] => [
        axial + (isFace ? stepBy : 0),
        radius * (1 + radiusBy) + (isFace ? 0 : stepBy),
      ];
      return turned(stepBy === 0 && radiusBy === 0 ? runs : movedRuns(runs, moved), {
        ...axle,
        point: along(axle.point, axle.outward, -ledgeRadius * radiusBy),
      });
    },
  };
}

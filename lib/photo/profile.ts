import { isInside, type Section, type SectionPart, type ZoneId } from '../wheel/index.ts';

/** A point of a section: along the axle towards the gutter side, and its radius from the axle; mm. */
export type ProfilePoint = readonly [axialMm: number, radiusMm: number];

/** A straight piece of a part’s section, to be turned about the axle: a cylinder, a cone or a flat face. */
export interface ProfilePiece {
  readonly from: ProfilePoint;
  readonly to: ProfilePoint;
  /** Direction out of the metal. */
  readonly normal: ProfilePoint;
  readonly zone: ZoneId | null;
}

/** What a rim’s part looks like in section, at the radii that its size designation gives. */
export interface Profile {
  readonly slot: string;
  readonly pieces: readonly ProfilePiece[];
}

/** Radius of the nominal bead seat, mm: half the diameter code, which is in inches (TRA and ETRTO designations, from memory). */
function seatRadiusMm(section: Section): number {
  return (section.diameterCode * 25.4) / 2;
}

const near = (a: readonly [number, number], b: readonly [number, number]) =>
  Math.abs(a[0] - b[0]) + Math.abs(a[1] - b[1]) < 1e-6;

/** Profiles made before, by the part of a section. */
const made = new WeakMap<SectionPart, Profile>();

/** Section of one part with radii, each piece of its outline with its zone. */
export function profileOf(section: Section, part: SectionPart): Profile {
  const known = made.get(part);
  if (known !== undefined) return known;
  const profile = newProfile(section, part);
  made.set(part, profile);
  return profile;
}

function newProfile(section: Section, part: SectionPart): Profile {
  const lift = seatRadiusMm(section) - section.seatY;
  const zoneAt = (a: readonly [number, number], b: readonly [number, number]): ZoneId | null =>
    part.zones.find(({ lines }) =>
      lines.some((line) =>
        line.some(
          (point, i) =>
            i > 0 &&
            ((near(line[i - 1] ?? [0, 0], a) && near(point, b)) ||
              (near(line[i - 1] ?? [0, 0], b) && near(point, a))),
        ),
      ),
    )?.zone ?? null;
  const pieces = part.outlines.flatMap((outline) =>
    outline.flatMap((from, i): ProfilePiece[] => {
      const to = outline[(i + 1) % outline.length] ?? from;
      const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
      if (length < 1e-6) return [];
      const [nx, ny] = [-(to[1] - from[1]) / length, (to[0] - from[0]) / length];
      const middle = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2] as const;
      const within = isInside([middle[0] + nx * 0.01, middle[1] + ny * 0.01], outline);
      return [
        {
          from: [from[0], from[1] + lift],
          to: [to[0], to[1] + lift],
          normal: within ? [-nx, -ny] : [nx, ny],
          zone: zoneAt(from, to),
        },
      ];
    }),
  );
  return { slot: part.slot, pieces };
}

/** A flat stretch of a profile that a card can lie on. */
export interface Ledge {
  readonly zone: ZoneId | null;
  readonly from: ProfilePoint;
  readonly to: ProfilePoint;
  readonly normal: ProfilePoint;
  readonly lengthMm: number;
  /** Way along the outline from the marked zone, mm; 0 inside it. */
  readonly awayMm: number;
  /** Whether it faces the way the marked zone faces, within 60°. */
  readonly facesSo: boolean;
  /** How far a reference may rock on it across the part, standard uncertainty, rad; 0 where it lies flat. */
  readonly rockTurn: number;
}

/** Pieces whose directions differ by less than this make one ledge. */
const SAME_DIRECTION = Math.cos((2 * Math.PI) / 180);

/** Stretches of a profile in one direction, in the order of the outline; two pieces of one zone or without one join. */
function stretches(profile: Profile): ProfilePiece[] {
  const joined: ProfilePiece[] = [];
  for (const piece of profile.pieces) {
    const last = joined.at(-1);
    const along =
      last === undefined ? 0 : last.normal[0] * piece.normal[0] + last.normal[1] * piece.normal[1];
    if (last !== undefined && along > SAME_DIRECTION && near(last.to, piece.from)) {
      joined[joined.length - 1] = {
        ...last,
        to: piece.to,
        zone: last.zone === piece.zone ? last.zone : longer(last, piece).zone,
      };
    } else joined.push(piece);
  }
  return joined;
}

const lengthOf = ({ from, to }: ProfilePiece) => Math.hypot(to[0] - from[0], to[1] - from[1]);
const longer = (a: ProfilePiece, b: ProfilePiece) => (lengthOf(a) >= lengthOf(b) ? a : b);

/** A card may overhang, as on a lock ring: this share of its depth rests flat. Our own choice. */
const FLAT_SHARE = 0.25;
/** On a rounded edge that falls away on both sides this share is enough, and the card may rock. Our own choice. */
const ROUNDED_SHARE = 0.1;
/** Beyond this angle a ledge faces another way than the zone, and one picture does not show both well: cos 60°. */
const SAME_SIDE = 0.5;

/**
 * Ledges on which something `depthMm` deep can lie, the likeliest for a mark in `zone` first: those that face the same
 * way as the zone, the nearest along the outline of the part first.
 */
export function ledgesNear(profile: Profile, zone: ZoneId, depthMm: number): Ledge[] {
  const pieces = stretches(profile);
  const starts: number[] = [];
  let way = 0;
  for (const piece of pieces) {
    starts.push(way);
    way += lengthOf(piece);
  }
  const marks = profile.pieces
    .filter((piece) => piece.zone === zone)
    .map((piece) => ({ piece, at: wayOf(pieces, starts, piece) }));
  const facing = marks.reduce<[number, number]>(
    ([x, r], { piece }) => [
      x + piece.normal[0] * lengthOf(piece),
      r + Math.abs(piece.normal[1]) * lengthOf(piece),
    ],
    [0, 0],
  );
  const size = Math.hypot(...facing);
  const facesSo = (ledge: ProfilePiece) =>
    size === 0 || (ledge.normal[0] * facing[0] + ledge.normal[1] * facing[1]) / size > SAME_SIDE;
  const ledges = pieces.map((piece, i): Ledge => {
    const [start, end] = [starts[i] ?? 0, (starts[i] ?? 0) + lengthOf(piece)];
    const away = marks.map(({ at }) => {
      const gap = (from: number, to: number) => Math.max(0, from - at, at - to);
      return Math.min(gap(start, end), gap(start + way, end + way), gap(start - way, end - way));
    });
    return {
      ...piece,
      lengthMm: lengthOf(piece),
      awayMm: marks.length === 0 ? way : Math.min(...away),
      facesSo: facesSo(piece),
      rockTurn: lengthOf(piece) >= depthMm * FLAT_SHARE ? 0 : rockOn(pieces, i),
    };
  });
  return bridged(ledges, depthMm / 2)
    .filter(
      (ledge) =>
        ledge.lengthMm >= depthMm * FLAT_SHARE ||
        (ledge.rockTurn > 0 && ledge.lengthMm >= depthMm * ROUNDED_SHARE),
    )
    .sort((a, b) => Number(b.facesSo) - Number(a.facesSo) || a.awayMm - b.awayMm);
}

/** On a piece that falls away on both sides: a third of the angle between its neighbours; 0 elsewhere. */
function rockOn(pieces: readonly ProfilePiece[], index: number): number {
  const piece = pieces[index];
  const [before, after] = [pieces.at(index - 1), pieces[(index + 1) % pieces.length]];
  if (piece === undefined || before === undefined || after === undefined) return 0;
  const fallsAway = offLine(piece, before.from) < 0 && offLine(piece, after.to) < 0;
  const between = Math.acos(
    Math.max(-1, Math.min(1, before.normal[0] * after.normal[0] + before.normal[1] * after.normal[1])),
  );
  return fallsAway ? between / 3 : 0;
}

/** Joins ledges on one line with a gap that the reference bridges, such as the lands on both sides of a narrow groove. */
function bridged(ledges: readonly Ledge[], gapMm: number): Ledge[] {
  const joined: Ledge[] = [];
  for (const ledge of [...ledges].sort((a, b) => b.lengthMm - a.lengthMm)) {
    const index = joined.findIndex((one) => {
      if (one.normal[0] * ledge.normal[0] + one.normal[1] * ledge.normal[1] < SAME_DIRECTION) return false;
      const off = Math.max(...[ledge.from, ledge.to].map((point) => Math.abs(offLine(one, point))));
      const gap = Math.max(
        0,
        Math.min(wayOn(one, ledge.from), wayOn(one, ledge.to)) - one.lengthMm,
        -Math.max(wayOn(one, ledge.from), wayOn(one, ledge.to)),
      );
      return off < 0.5 && gap < gapMm;
    });
    const one = joined[index];
    if (one === undefined) {
      joined.push(ledge);
      continue;
    }
    const ends = [one.from, one.to, ledge.from, ledge.to].sort((a, b) => wayOn(one, a) - wayOn(one, b));
    const [from, to] = [ends[0] ?? one.from, ends.at(-1) ?? one.to];
    joined[index] = {
      ...one,
      from,
      to,
      lengthMm: wayOn(one, to) - wayOn(one, from),
      awayMm: Math.min(one.awayMm, ledge.awayMm),
      rockTurn: 0,
    };
  }
  return joined;
}

const offLine = (piece: ProfilePiece, point: ProfilePoint) =>
  (point[0] - piece.from[0]) * piece.normal[0] + (point[1] - piece.from[1]) * piece.normal[1];
const wayOn = (piece: ProfilePiece, point: ProfilePoint) =>
  ((point[0] - piece.from[0]) * (piece.to[0] - piece.from[0]) +
    (point[1] - piece.from[1]) * (piece.to[1] - piece.from[1])) /
  lengthOf(piece);

/** Way along the outline to the middle of a piece, mm. */
function wayOf(pieces: readonly ProfilePiece[], starts: readonly number[], piece: ProfilePiece): number {
  const index = pieces.findIndex((one) => covers(one, piece));
  const stretch = pieces[index];
  if (stretch === undefined) return 0;
  return (
    (starts[index] ?? 0) +
    Math.hypot(piece.from[0] - stretch.from[0], piece.from[1] - stretch.from[1]) +
    lengthOf(piece) / 2
  );
}

function covers(stretch: ProfilePiece, piece: ProfilePiece): boolean {
  const length = lengthOf(stretch);
  return [piece.from, piece.to].every(
    (point) =>
      Math.abs(offLine(stretch, point)) < 1 &&
      wayOn(stretch, point) > -0.1 &&
      wayOn(stretch, point) < length + 0.1,
  );
}

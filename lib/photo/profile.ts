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

/** Section of one part with radii, each piece of its outline with its zone. */
export function profileOf(section: Section, part: SectionPart): Profile {
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

/** A card may overhang: this share of its depth must rest. Our own choice. */
const RESTING_SHARE = 0.45;
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
  const facesSo = (ledge: Ledge) =>
    size === 0 || (ledge.normal[0] * facing[0] + ledge.normal[1] * facing[1]) / size > SAME_SIDE;
  return pieces
    .map((piece, i): Ledge => {
      const [start, end] = [starts[i] ?? 0, (starts[i] ?? 0) + lengthOf(piece)];
      const away = marks.map(({ at }) => {
        const gap = (from: number, to: number) => Math.max(0, from - at, at - to);
        return Math.min(gap(start, end), gap(start + way, end + way), gap(start - way, end - way));
      });
      return { ...piece, lengthMm: lengthOf(piece), awayMm: marks.length === 0 ? way : Math.min(...away) };
    })
    .filter((ledge) => ledge.lengthMm >= depthMm * RESTING_SHARE)
    .sort((a, b) => Number(facesSo(b)) - Number(facesSo(a)) || a.awayMm - b.awayMm);
}

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
  const onLine = (point: ProfilePoint) =>
    Math.abs(
      (point[0] - stretch.from[0]) * stretch.normal[0] + (point[1] - stretch.from[1]) * stretch.normal[1],
    ) < 1;
  const length = lengthOf(stretch);
  const along = (point: ProfilePoint) =>
    ((point[0] - stretch.from[0]) * (stretch.to[0] - stretch.from[0]) +
      (point[1] - stretch.from[1]) * (stretch.to[1] - stretch.from[1])) /
    length;
  return (
    onLine(piece.from) &&
    onLine(piece.to) &&
    [piece.from, piece.to].every((point) => along(point) > -0.1 && along(point) < length + 0.1)
  );
}

import type { ZoneId } from '../ids.ts';
import { flangeCorners, footChamfer, heelCorners } from './flange.ts';
import { type Measures, MOUNTING_TAPER_DEGREES, seatHeight } from './measures.ts';
import { type Corner, corner } from './outline.ts';

/**
 * Ends of the rim base as corners, measured outboard of the flange's inner face: from the plain centre along the
 * outer surface, round the end and back along the inner surface. Schematic, our own choice of shape.
 */
export interface GutterPlaces {
  /** Inboard and outboard wall of the lock-ring groove. */
  readonly grooveFrom: number;
  readonly grooveTo: number;
  readonly floorY: number;
  readonly lipY: number;
  readonly endX: number;
  /** Middle of the O-ring groove, its half width and its floor. */
  readonly sealX: number;
  readonly sealHalf: number;
  readonly sealFloorY: number;
}

/** Places of the gutter that the lock ring and the O-ring share with the rim base. */
export function gutterPlaces({ bandEnd, boreY, k }: Measures): GutterPlaces {
  const grooveFrom = bandEnd - 6 * k;
  const grooveTo = grooveFrom + 22 * k;
  return {
    grooveFrom,
    grooveTo,
    floorY: boreY - 13 * k,
    lipY: boreY - 3 * k,
    endX: grooveTo + 13 * k,
    sealX: bandEnd - 23 * k,
    sealHalf: 5.5 * k,
    sealFloorY: boreY - 7.5 * k,
  };
}

const RISE_PER_RUN = Math.tan((MOUNTING_TAPER_DEGREES * Math.PI) / 180);

/** Zones of the plain wall next to an end: the same pieces on the outer and the inner surface. */
interface WallPieces {
  readonly weld: ZoneId;
  /** A thing of the centre that is shown at this end. */
  readonly other: ZoneId | null;
}

/** Corners along the plain wall at height `y`, from the centre to the weld, both edges of each piece included. */
function wall(m: Measures, y: number, pieces: WallPieces): Corner[] {
  const at = (units: number, zone?: ZoneId) => corner(units * m.k, y, zone === undefined ? {} : { zone });
  return [
    at(-165),
    ...(pieces.other === null ? [] : [at(-156, pieces.other), at(-138)]),
    at(-128, pieces.weld),
    at(-116),
  ];
}

/** The same wall on the inner surface, walked back to the centre. */
function innerWall(m: Measures, pieces: WallPieces): Corner[] {
  const at = (units: number, zone?: ZoneId) => corner(units * m.k, 0, zone === undefined ? {} : { zone });
  return [
    at(-116, pieces.weld),
    at(-128),
    ...(pieces.other === null ? [] : [at(-138, pieces.other), at(-156)]),
    at(-165),
  ];
}

/** Places of the disc, measured as the ends are: its two faces, the stud hole through it and its inner end. */
export function discPlaces({ k }: Measures) {
  return { from: -44 * k, to: -32 * k, holeTopY: -20 * k, holeLowY: -38 * k, endY: -58 * k };
}

/** The disc as it hangs from the bore of the rim base, walked from its outboard face to its inboard one. */
function disc(m: Measures): Corner[] {
  const { from, to, holeTopY, holeLowY, endY } = discPlaces(m);
  const hole = { zone: 'stud holes' } as const;
  const r = 5 * m.k;
  return [
    corner(to, 0, { r }),
    corner(to, holeTopY, hole),
    corner(to, holeLowY),
    corner(to, endY),
    corner(from, endY),
    corner(from, holeLowY, hole),
    corner(from, holeTopY),
    corner(from, 0, { r }),
  ];
}

/**
 * The end with the gutter: thicker section, land under the band, O-ring groove, lock-ring groove, lip, taper, and the
 * disc where the base carries one.
 */
export function gutterEnd(m: Measures, other: ZoneId, carriesDisc = false): Corner[] {
  const { k, boreY } = m;
  const g = gutterPlaces(m);
  const pieces: WallPieces = { weld: 'gutter weld', other };
  const taperY = 9 * k;
  const seal = { zone: 'O-ring groove' } as const;
  const groove = { zone: 'gutter groove' } as const;
  const lip = { zone: 'gutter lip' } as const;
  return [
    ...wall(m, m.centreWall, pieces),
    corner(-102 * k, m.centreWall, { r: 24 * k }),
    corner(-72 * k, boreY, { r: 12 * k }),
    corner(g.sealX - g.sealHalf, boreY, { ...seal, r: 0.6 * k }),
    corner(g.sealX - g.sealHalf, g.sealFloorY, { ...seal, r: 2 * k }),
    corner(g.sealX + g.sealHalf, g.sealFloorY, { ...seal, r: 2 * k }),
    corner(g.sealX + g.sealHalf, boreY, { r: 0.6 * k }),
    corner(g.grooveFrom, boreY, { ...groove, r: 1 * k }),
    corner(g.grooveFrom, g.floorY, { ...groove, r: 4 * k }),
    corner(g.grooveTo, g.floorY, { ...groove, r: 4 * k }),
    corner(g.grooveTo, g.lipY, { ...lip, r: 1.5 * k }),
    corner(g.endX, g.lipY, { ...lip, r: 3 * k }),
    corner(g.endX, taperY + 4 * k),
    corner(g.endX, taperY, { zone: 'mounting taper' }),
    corner(g.endX - taperY / RISE_PER_RUN, 0),
    ...(carriesDisc ? disc(m) : []),
    ...innerWall(m, pieces),
  ];
}

/** Outer surface of the back section up to the toe of the bead seat; the seat begins at the last corner. */
function backRise(m: Measures, pieces: WallPieces): Corner[] {
  return [
    ...wall(m, m.centreWall, pieces),
    corner(-110 * m.k, m.centreWall, { r: 18 * m.k }),
    corner(-m.seatLength, seatHeight(m, -m.seatLength), { r: 7 * m.k, zone: 'back bead seat' }),
  ];
}

/** Inner surface of the back section from under the flange to the centre: the slope that the hub bears on. */
function backUnderside(m: Measures, pieces: WallPieces, endX: number): Corner[] {
  const { k } = m;
  const height = 24 * k;
  return [
    corner(endX, height, { r: 5 * k }),
    corner(-106 * k + height / RISE_PER_RUN, height, { zone: 'mounting taper', r: 2 * k }),
    corner(-106 * k, 0, { r: 2 * k }),
    ...innerWall(m, pieces),
  ];
}

const BACK_PIECES: WallPieces = { weld: 'back weld', other: 'butt weld' };

/** The back end of a rim base that carries its flange for good. */
export function fixedFlangeEnd(m: Measures): Corner[] {
  return [
    ...backRise(m, BACK_PIECES),
    ...heelCorners(m, 'back flange radius', 'back flange'),
    ...flangeCorners(m, { face: 'back flange', lip: 'back flange' }),
    ...backUnderside(m, BACK_PIECES, m.flangeWall),
  ];
}

/** The back end of a rim base with a ledge and a stop for a loose flange. */
export function stopEnd(m: Measures): Corner[] {
  const { k } = m;
  const stop = { zone: 'back flange' } as const;
  const endX = m.flangeWall + 13 * k;
  return [
    ...backRise(m, BACK_PIECES),
    corner(-m.heelRadius, seatHeight(m, -m.heelRadius)),
    corner(-m.heelRadius, m.ledgeY),
    corner(m.flangeWall, m.ledgeY, { ...stop, r: footChamfer(m) * 0.9, arcZone: 'back flange radius' }),
    corner(m.flangeWall, m.stopY, { ...stop, r: 2 * k }),
    corner(endX, m.stopY, { ...stop, r: 4 * k }),
    corner(endX, m.ledgeY),
    ...backUnderside(m, BACK_PIECES, endX),
  ];
}

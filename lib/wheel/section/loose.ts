import type { ZoneId } from '../ids.ts';
import { gutterPlaces } from './base.ts';
import { flangeCorners, footChamfer, heelCorners } from './flange.ts';
import { type Measures, seatHeight } from './measures.ts';
import { type Corner, corner } from './outline.ts';

/** The loose parts on a gutter, measured outboard of the flange's inner face. Schematic, our own choice of shape. */

/** Chamfer at the outboard end of band or flange, on which the lock ring bears: its leg along x and along y. */
function wedge({ k }: Measures): { readonly along: number; readonly up: number } {
  return { along: 7 * k, up: 8 * k };
}

/** Toe and tapered seat, from the bore outwards; the seat is the last edge begun. */
function toe(m: Measures): Corner[] {
  const top = seatHeight(m, -m.seatLength);
  return [
    corner(-m.seatLength, m.boreY, { r: 2 * m.k }),
    corner(-m.seatLength, top, { r: 3 * m.k, zone: 'bead seat' }),
  ];
}

/** The bead seat band: seat, ledge and stop for the flange, chamfer for the lock ring, bore over the gutter. */
export function bandCorners(m: Measures): Corner[] {
  const { along, up } = wedge(m);
  const contact = { zone: 'band contact face' } as const;
  return [
    ...toe(m),
    corner(-m.heelRadius, seatHeight(m, -m.heelRadius)),
    corner(-m.heelRadius, m.ledgeY),
    corner(m.flangeWall, m.ledgeY, { r: footChamfer(m) * 0.9 }),
    corner(m.flangeWall, m.stopY, { r: 2 * m.k }),
    corner(m.bandEnd, m.stopY, { r: 3 * m.k }),
    corner(m.bandEnd, m.boreY + up + 9 * m.k, contact),
    corner(m.bandEnd, m.boreY + up, contact),
    corner(m.bandEnd - along, m.boreY, contact),
    corner(m.bandEnd - along - 6 * m.k, m.boreY),
  ];
}

/** The gutter-side flange of a three-piece rim: flange and bead seat in one. */
export function seatFlangeCorners(m: Measures): Corner[] {
  const { along, up } = wedge(m);
  const contact = { zone: 'flange contact face' } as const;
  const shoulder = m.stopY - m.seatY;
  return [
    ...toe(m),
    ...heelCorners(m, 'flange face', 'flange face'),
    ...flangeCorners(m, { face: 'flange face', lip: 'flange lip' }),
    corner(m.flangeWall, m.stopY + 0.25 * shoulder, { r: 8 * m.k }),
    corner(m.bandEnd, m.seatY + 0.36 * shoulder, { r: 4 * m.k }),
    corner(m.bandEnd, m.boreY + up + 9 * m.k, contact),
    corner(m.bandEnd, m.boreY + up, contact),
    corner(m.bandEnd - along, m.boreY, contact),
    corner(m.bandEnd - along - 6 * m.k, m.boreY),
  ];
}

/** The split lock ring in its groove: against the gutter lip and under the chamfer of band or flange. */
export function lockRingCorners(m: Measures): Corner[] {
  const { k, boreY, bandEnd } = m;
  const { along, up } = wedge(m);
  const g = gutterPlaces(m);
  const left = g.grooveFrom + 1.5 * k;
  const meets = boreY + (up * (left - (bandEnd - along))) / along;
  const seat: { readonly zone: ZoneId } = { zone: 'ring seat face' };
  return [
    corner(left, meets, seat),
    corner(bandEnd, boreY + up, seat),
    corner(bandEnd, boreY + up + 9 * k, { zone: 'ring ends', r: 2.5 * k }),
    corner(bandEnd + 10 * k, boreY + up + 9 * k, { zone: 'ring body', r: 3 * k }),
    corner(g.grooveTo, g.lipY + 3 * k, { r: 4 * k }),
    corner(g.grooveTo, g.lipY - 1.5 * k, seat),
    corner(g.grooveTo, g.floorY, { ...seat, r: 5 * k }),
    corner(left, g.floorY, { r: 5 * k }),
  ];
}

/** The O-ring, pressed between groove floor and bore. */
export function oRingCorners(m: Measures): Corner[] {
  const g = gutterPlaces(m);
  const half = (m.boreY - g.sealFloorY) / 2;
  const steps = 20;
  return Array.from({ length: steps }, (_, step) => {
    const angle = (2 * Math.PI * step) / steps;
    return corner(g.sealX + 4.5 * m.k * Math.cos(angle), g.sealFloorY + half + half * Math.sin(angle), {
      zone: 'seal body',
    });
  });
}

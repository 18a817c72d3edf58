import type { SurfaceChoice } from '../record/index.ts';
import { type Axle, lathe } from './lathe.ts';
import { leaning, OFFSET, PLACE, type Placing, RADIUS, REST_MM, TILT, U, value } from './placement.ts';
import type { ProfilePiece } from './profile.ts';
import type { Frame, View } from './reference.ts';
import { plane } from './surface.ts';
import { add, along, rotated, scaled } from './vector.ts';
import { type ZonePlace, zonePlacing } from './zonePlacing.ts';

/** A plane parallel to the reference at a distance from it, towards the camera positive; with a small tilt. */
function flat(what: string, offsetMm: number, offsetU: number, tiltU: number): Placing {
  return {
    what,
    ledge: null,
    zoneAreaMm2: null,
    alternatives: [],
    unknowns: [
      { name: OFFSET, u: offsetU },
      { name: TILT, u: tiltU },
      { name: TILT, u: tiltU },
    ],
    axleOf: () => null,
    surfaceOf: ({ frame }, d) => {
      const turn = add(scaled(frame.x, value(d, 1)), scaled(frame.y, value(d, 2)));
      return plane(along(frame.origin, frame.normal, offsetMm + value(d, 0)), rotated(frame.normal, turn));
    },
  };
}

function axleAt(frame: Frame, radius: number, turn: number, d: readonly number[]): Axle {
  const { across, normal } = leaning(frame, turn + value(d, 1), [value(d, 2), value(d, 3)]);
  const touching = along(frame.origin, normal, value(d, 0) - REST_MM);
  return { point: along(touching, normal, -radius), axialMm: 0, direction: across, outward: normal };
}

/** A cylinder that the reference lies on from outside. */
function cylinder(radiusMm: number, turn: number): Placing {
  return {
    what: `cylinder of radius ${Math.round(radiusMm)} mm`,
    ledge: null,
    zoneAreaMm2: null,
    alternatives: [],
    unknowns: [
      { name: OFFSET, u: U.restMm },
      { name: PLACE, u: U.turn },
      { name: TILT, u: U.restTurn },
      { name: TILT, u: U.restTurn },
      { name: RADIUS, u: U.radiusShare },
    ],
    axleOf: ({ frame }) => axleAt(frame, radiusMm, turn, []),
    surfaceOf: ({ frame }, d) => {
      const radius = radiusMm * (1 + value(d, 4));
      const piece: ProfilePiece = { from: [-1e4, radius], to: [1e4, radius], normal: [0, 1], zone: null };
      return lathe([piece], axleAt(frame, radius, turn, d));
    },
  };
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
      const placed = place === null ? null : zonePlacing(choice, place, view);
      return placed ?? unknownSurface('not known');
    }
    case 'unknown':
      return unknownSurface('not known');
  }
}

/**
 * Whether the surface is the program’s own choice: then a mark that does not lie on it is measured without a surface,
 * where one that a person chose is taken at their word.
 */
export function isOwnChoice(choice: SurfaceChoice): boolean {
  return choice.form === 'zone of the mark' && choice.restsOn === null && choice.turnDegrees === null;
}

/**
 * For a mark that does not fit the surface that its zone and the reference give: its lines of sight miss it, or graze it
 * so that nobody would have drawn it there.
 */
export function unlikeItsZone(): Placing {
  return unknownSurface('not known, as the mark does not fit its zone where the reference places it');
}

function unknownSurface(why: string): Placing {
  return flat(`${why}; taken as the plane of the reference`, 0, U.unknownOffsetMm, U.unknownTilt);
}

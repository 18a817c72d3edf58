import type { Side, ZoneId } from '../ids.ts';
import type { Slot } from '../slot.ts';

/**
 * Building blocks of the constructions. Zones follow the trade's list of where multi-piece rims fail;
 * four clock positions, the photos asked for and the readings asked for: common practice, no source.
 */
const QUARTERS = [12, 3, 6, 9] as const;

function zones(photographed: readonly ZoneId[], lookedAt: readonly ZoneId[]): Slot['zones'] {
  return [
    ...photographed.map((zone) => ({ zone, photo: true })),
    ...lookedAt.map((zone) => ({ zone, photo: false })),
  ];
}

const GUTTER: readonly ZoneId[] = ['gutter groove', 'gutter lip'];

/** A rim base with one gutter and a back section that carries either a fixed flange or a loose one. */
export function rimBase(fixedBackFlange: boolean): Slot {
  return {
    slot: 'rim base',
    kind: 'rim base',
    side: 'both',
    inspected: true,
    zones: zones(
      [...GUTTER, 'back bead seat', ...(fixedBackFlange ? (['back flange radius'] as const) : [])],
      [
        'O-ring groove',
        'gutter weld',
        'centre band',
        'butt weld',
        'back weld',
        'back flange',
        ...(fixedBackFlange ? [] : (['back flange radius'] as const)),
        'mounting taper',
        'valve slot',
      ],
    ),
    readings: [
      { characteristic: 'gutter depth', positions: QUARTERS, states: [] },
      { characteristic: 'bead seat wear', positions: QUARTERS, states: [] },
    ],
  };
}

/** A rim base that carries a disc: its stud holes are looked at too. */
export function withDisc(base: Slot): Slot {
  return { ...base, zones: [...base.zones, { zone: 'stud holes', photo: false }] };
}

/** A rim base with a gutter at each side and no fixed back section. */
export function doubleGutterBase(): Slot {
  return {
    slot: 'rim base',
    kind: 'rim base',
    side: 'both',
    inspected: true,
    zones: zones(GUTTER, [
      'O-ring groove',
      'gutter weld',
      'centre band',
      'butt weld',
      'mounting taper',
      'valve slot',
    ]),
    readings: [{ characteristic: 'gutter depth', positions: QUARTERS, states: [] }],
  };
}

export function lockRing(side: Side, slot = 'lock ring'): Slot {
  return {
    slot,
    kind: 'lock ring',
    side,
    inspected: true,
    zones: zones(['ring ends', 'ring body'], ['ring seat face']),
    readings: [{ characteristic: 'lock-ring gap', positions: [], states: ['free', 'fitted'] }],
  };
}

/** A side flange; in a three-piece rim the gutter-side flange carries the bead seat too. */
export function sideFlange(side: Side, slot: string, carriesBeadSeat: boolean): Slot {
  return {
    slot,
    kind: 'side flange',
    side,
    inspected: true,
    zones: zones(
      ['flange contact face', ...(carriesBeadSeat ? (['bead seat'] as const) : [])],
      ['flange lip', 'flange face'],
    ),
    readings: [{ characteristic: 'flange wear', positions: QUARTERS, states: [] }],
  };
}

export function beadSeatBand(side: Side, slot = 'bead seat band'): Slot {
  return {
    slot,
    kind: 'bead seat band',
    side,
    inspected: true,
    zones: zones(['bead seat'], ['band contact face']),
    readings: [{ characteristic: 'bead seat wear', positions: QUARTERS, states: [] }],
  };
}

/** The sealing ring: new at every assembly, so it is recorded at assembly and never inspected for re-use. */
export function oRing(side: Side, slot = 'O-ring'): Slot {
  return {
    slot,
    kind: 'O-ring',
    side,
    inspected: false,
    zones: zones([], ['seal body']),
    readings: [],
  };
}

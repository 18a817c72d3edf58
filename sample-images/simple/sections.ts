import type { Corner } from './profile.ts';

/**
 * Invented cross-sections in the manner of the trade: axial place from the gutter edge, height over the part's
 * reference radius, rounding of the corner, all mm. They belong to no maker.
 */

/** Gutter side of a rim base: lip, lock-ring groove, land, O-ring groove, round weld, plain band. */
export function gutterSection(lipWear = 0, floorWear = 0): Corner[] {
  return [
    [0, -22, 2],
    [0, 7 - lipWear, 3],
    [3, 10 - lipWear, 3],
    [12, 10 - lipWear, 2.5],
    [14.5, -1, 5],
    ...(floorWear > 0
      ? ([
          [21, -1.2, 1.5],
          [22.5, -1 - floorWear, 1],
        ] as const)
      : []),
    [33, -1 - floorWear, 6],
    [37, 8, 3],
    [43, 14, 3],
    [58, 14, 1.2],
    [58.4, 8.5, 1.6],
    [66, 8.5, 1.6],
    [66.4, 14, 1.2],
    [84, 14, 4],
    [104, 1.5, 8],
    [118, 0, 2],
    [119.5, 1.6, 2],
    [127, 2, 3],
    [128.5, 0, 2],
    [420, 0, 2],
    [420, -14, 2],
    [100, -14, 4],
    [60, -22, 4],
  ];
}

/** Back side of a three-piece rim base: band, round weld, tapered seat, radius, fixed flange. */
export function backSection(): Corner[] {
  return [
    [-260, 0, 2],
    [-92, 0, 2],
    [-90.5, 1.8, 2],
    [-83, 2, 3],
    [-81, 0.4, 3],
    [-72, 3, 6],
    [-4, 9, 16],
    [13, 62, 14],
    [30, 70, 7],
    [44, 66, 6],
    [44, 52, 5],
    [32, 44, 8],
    [24, -6, 10],
    [-30, -16, 6],
    [-260, -16, 2],
  ];
}

/** A lock ring: tapered seat face outside, rounded foot that lies in the groove. */
export function ringSection(): Corner[] {
  return [
    [15, -0.6, 4],
    [13.5, 14, 3],
    [16, 21, 3],
    [30, 24, 3],
    [44, 17.5, 2.5],
    [41, 14.6, 2],
    [36, 9, 3],
    [32.5, -0.6, 4],
  ];
}

/** A loose side flange lying contact face up: bore edge, contact face with an optional worn step, curl of the flange. */
export function flangeSection(stepWear = 0): Corner[] {
  return [
    [0, -8, 3],
    [stepWear, -8, 1],
    ...(stepWear > 0
      ? ([
          [stepWear, 20, 0.8],
          [0, 21, 0.8],
        ] as const)
      : []),
    [0, 46, 12],
    [12, 78, 14],
    [-2, 104, 9],
    [6, 112, 5],
    [22, 100, 10],
    [30, 70, 16],
    [22, 40, 10],
    [18, -8, 3],
  ];
}

/** A bead seat band: thick edge towards the gutter, 5° seat, stop at its end. */
export function bandSection(): Corner[] {
  return [
    [0, -6, 3],
    [0, 12, 4],
    [8, 17, 4],
    [22, 13, 8],
    [150, 4.5, 3],
    [166, 3, 2],
    [166, -6, 2],
  ];
}

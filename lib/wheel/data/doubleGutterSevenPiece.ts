import type { Construction } from '../slot.ts';
import { beadSeatBand, doubleGutterBase, lockRing, oRing, sideFlange } from './slots.ts';

/** Rim base with a gutter at each side; a flange, a bead seat band and a lock ring at each side. */
export const doubleGutterSevenPiece: Construction = {
  id: 'double-gutter seven-piece',
  title: 'Double-gutter seven-piece rim',
  slots: [
    doubleGutterBase(),
    ...(['gutter side', 'back side'] as const).flatMap((side) => {
      const named = side === 'gutter side' ? 'front' : 'rear';
      return [
        sideFlange(side, `${named} side flange`, false),
        beadSeatBand(side, `${named} bead seat band`),
        lockRing(side, `${named} lock ring`),
        oRing(side, `${named} O-ring`),
      ];
    }),
  ],
};

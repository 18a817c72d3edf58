import type { Construction } from '../slot.ts';
import { beadSeatBand, lockRing, oRing, rimBase, sideFlange } from './slots.ts';

/** Rim base, two side flanges, bead seat band, lock ring. */
export const fivePiece: Construction = {
  id: 'five-piece',
  title: 'Five-piece rim',
  slots: [
    rimBase(false),
    sideFlange('back side', 'back side flange', false),
    sideFlange('gutter side', 'gutter side flange', false),
    beadSeatBand('gutter side'),
    lockRing('gutter side'),
    oRing('gutter side'),
  ],
};

import type { Construction } from '../slot.ts';
import { lockRing, oRing, rimBase, sideFlange } from './slots.ts';

/** Rim base with fixed back flange, gutter-side flange with the bead seat on it, lock ring. */
export const threePiece: Construction = {
  id: 'three-piece',
  title: 'Three-piece rim',
  slots: [
    rimBase(true),
    sideFlange('gutter side', 'side flange', true),
    lockRing('gutter side'),
    oRing('gutter side'),
  ],
};

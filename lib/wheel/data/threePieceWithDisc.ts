import type { Construction } from '../slot.ts';
import { lockRing, oRing, rimBase, sideFlange, withDisc } from './slots.ts';

/** A three-piece rim whose base carries a disc, so that it bolts to the hub by wheel studs. */
export const threePieceWithDisc: Construction = {
  id: 'three-piece with disc',
  title: 'Three-piece rim with disc',
  slots: [
    withDisc(rimBase(true)),
    sideFlange('gutter side', 'side flange', true),
    lockRing('gutter side'),
    oRing('gutter side'),
  ],
};

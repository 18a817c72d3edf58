import { must } from '../base/index.ts';
import { doubleGutterSevenPiece } from './data/doubleGutterSevenPiece.ts';
import { fivePiece } from './data/fivePiece.ts';
import { threePiece } from './data/threePiece.ts';
import { threePieceWithDisc } from './data/threePieceWithDisc.ts';
import type { ConstructionId } from './ids.ts';
import type { Construction, Slot } from './slot.ts';

const ALL: Readonly<Record<ConstructionId, Construction>> = {
  'three-piece': threePiece,
  'three-piece with disc': threePieceWithDisc,
  'five-piece': fivePiece,
  'double-gutter seven-piece': doubleGutterSevenPiece,
};

/** All constructions known here, in order of piece count. */
export const constructions: readonly Construction[] = Object.values(ALL);

/** The construction with this id. */
export function constructionOf(id: ConstructionId): Construction {
  return ALL[id];
}

/** The slot of this name in a construction, or undefined when it has none. */
export function slotOf(construction: Construction, slot: string): Slot | undefined {
  return construction.slots.find((candidate) => candidate.slot === slot);
}

/** Like `slotOf`, for names that are known to exist. */
export function mustSlot(construction: Construction, slot: string): Slot {
  return must(slotOf(construction, slot), `slot ${slot} of ${construction.id}`);
}

export * from './air/index.ts';
export { constructionOf, constructions, mustSlot, slotOf } from './construction.ts';
export { DIAMETER_CODES, parseDesignation, type SizeDesignation } from './designation.ts';
export {
  CharacteristicId,
  ClockPosition,
  ComponentKind,
  ConstructionId,
  RingState,
  Side,
  ZoneId,
} from './ids.ts';
export * from './section/index.ts';
export type { Construction, RequiredReading, Slot, SlotZone } from './slot.ts';
export { type ZoneInfo, zoneInfo } from './zones.ts';

export {
  type Change,
  type DatedMark,
  type DatedPhoto,
  type Growth,
  growthOf,
  type HoursNoted,
  hoursOn,
  type MarkSize,
  type Rate,
} from './growth.ts';
export { type LaidOver, mapOfEntry, otherWay, shapeOver, takenOver, type Way } from './laidOver.ts';

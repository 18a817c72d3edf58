export { type AssumedSize, MOUNTING_TAPER_DEGREES } from './measures.ts';
export { type Stretch, type ZoneNear, zonesNear } from './nearest.ts';
export {
  type Box,
  boxOf,
  clipLine,
  distanceToLine,
  distanceToPiece,
  isInside,
  type Line,
  midpointOf,
  type Point,
} from './plane.ts';
export {
  type Section,
  type SectionFeature,
  type SectionPart,
  type SectionZone,
  sectionOf,
} from './section.ts';

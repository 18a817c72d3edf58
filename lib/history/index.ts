export { type Band, edgeAt, type LineReach, whereBandReaches, whereLineReaches } from './crossing.ts';
export {
  FLEET_MIN,
  type FleetSlopes,
  fleetSlopes,
  type Prior,
  priorOf,
  type SlopeOf,
  shrunk,
} from './fleet.ts';
export { fitLine, type Line, type LinePoint, lineAt, spanOf } from './line.ts';
export { ROBUST_MIN, type RobustSlope, robustSlope } from './robust.ts';

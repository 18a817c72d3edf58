export { type CensoredMean, censoredMean, type MaybeBelow } from './censored.ts';
export { type DutyHours, dayAtHours, hoursOn, hoursPerDay, isoDay } from './clock.ts';
export {
  type Band,
  edgeAt,
  type LineReach,
  leastTold,
  whereBandReaches,
  whereLineReaches,
} from './crossing.ts';
export {
  FLEET_MIN,
  type FleetSlopes,
  fleetSlopes,
  type Prior,
  priorOf,
  type SlopeOf,
  shrunk,
} from './fleet.ts';
export {
  type Change,
  type DatedMark,
  type DatedPhoto,
  type Growth,
  growthOf,
  type MarkSize,
  type PerTime,
} from './growth.ts';
export { type LaidOver, mapOfEntry, otherWay, shapeOver, takenOver, type Way } from './laidOver.ts';
export { type LimitEnd, limitEnds } from './limitEnds.ts';
export { fitLine, type Line, type LinePoint, lineAt, spanOf } from './line.ts';
export { InspectionMeasured, measuredIn, WearMeasured } from './measured.ts';
export { type InspectionPolicy, type LookAgain, type NextLookFacts, nextLooks } from './nextLook.ts';
export { ownLine } from './ownLine.ts';
export { binomialShare, poissonRate, type Rate } from './rates.ts';
export {
  bandToward,
  byWorry,
  type Reach,
  reachFirst,
  type Silence,
  soonest,
  type TrendLine,
} from './reach.ts';
export { ROBUST_MIN, type RobustSlope, robustSlope } from './robust.ts';
export { seriesOf, type WearPoint, type WearSeries, worseWay } from './series.ts';
export { type Doubt, expectedOf, type Fleet, fleetKey, fleetOf, type Trend, trendOf } from './trend.ts';
export { Find, FindKind, Visit, VisitedPart, visitOf } from './visit.ts';
export { byUrgency, looksAt, type PartPlace, type Wear, type WearContext, wearOf, wearsOf } from './wear.ts';
export {
  FEW_LOOKS,
  type GroupRate,
  type PlacedVisit,
  ratesBy,
  visitsWithin,
  type WhereFilter,
  type ZoneCount,
  zoneCounts,
} from './where.ts';
export { basisSentences, quantityText, reachSentence, reachWords, slopeText, timeText } from './words.ts';

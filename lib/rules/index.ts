export { probabilityOlder } from './age.ts';
export { atHandFor } from './atHand.ts';
export { combine, groupsAt } from './combine.ts';
export {
  type Consequence,
  type Consequences,
  consequencesOf,
  inEffectAlways,
  withDraft,
} from './consequences.ts';
export { DAYS_A_YEAR, dayOf, monthsBefore } from './dates.ts';
export { type Decision, decide } from './decide.ts';
export {
  answersOf,
  ENGINE,
  evaluate,
  inEffectOn,
  type PartVerdict,
  type TableUsed,
  type Verdict,
} from './evaluate.ts';
export { Evidence, type PartEvidence, type ReadingEvidence } from './evidence.ts';
export { InspectionFile, readInspectionFile } from './file.ts';
export {
  type AgeFinding,
  CLASSES,
  type Class,
  type DefectFinding,
  type Finding,
  type LimitFinding,
  type Missing,
  type OtherAnswer,
  type PositionValue,
  type ReadingGroup,
  type Result,
  type RuleCited,
  worstClass,
} from './finding.ts';
export type { AssemblyVerdict, PairChecked } from './fit.ts';
export { fleetRisks, type Measured } from './fleetRisk.ts';
export { gatherEvidence, madeBetween, type SizeSource, sizesNeeded } from './gather.ts';
export { instrumentFacts } from './gauge.ts';
export { type GlobalRisks, globalRisks, type Process } from './globalRisk.ts';
export { dutyHoursAt, hoursFall } from './hours.ts';
export { sizeLimits } from './judgePlace.ts';
export { lookThrough } from './lookThrough.ts';
export { findWorseButMilder } from './milder.ts';
export { placesOf } from './place.ts';
export { acceptanceInterval, guardedClass, probabilityOutside, simpleClass } from './probability.ts';
export { rowText, scopeText } from './rowWords.ts';
export { sentenceOf } from './sentences.ts';
export { type InstrumentAtHand, type Settling, type SettlingAction, whatWouldSettle } from './settle.ts';
export { settlingSentences } from './settleWords.ts';
export { traceOf } from './trace.ts';
export type { TraceContext, TraceStep } from './traceSteps.ts';
export { diameterCodeOf } from './wheelSize.ts';
export { atClock, boundsText, sizeText, sourceText, uText } from './words.ts';

export {
  compareMarks,
  compareParts,
  compareReadings,
  type MarkCompared,
  type MarkSize,
  type PartCompared,
  type ReadingCompared,
  type SizeOf,
  type ToCompare,
} from './compare.ts';
export {
  type Conclusion,
  disagreementsOn,
  isBarred,
  isMilder,
  mayConclude,
  mayReview,
  replacedSince,
  restsOnDemonstration,
  type Settled,
  type SubmittedPart,
  settledParts,
  submittedParts,
} from './conclude.ts';
export { type Danger, type DangerInputs, dangerOf, rankOf } from './danger.ts';
export { type HandedIn, handedInFor, measuredBlind } from './handedIn.ts';
export {
  ALL_PAIRS,
  CallPair,
  type PairFilter,
  type PairGroup,
  pairGroups,
  pairsWithin,
  ReadingPair,
  ReadOnce,
} from './pairs.ts';
export {
  type PairsOfInspection,
  pairInRegister,
  pairsOf,
  ReadingPairFacts,
} from './pairsOf.ts';
export { mayAppend, rolesFor, type SiteRole } from './permission.ts';
export {
  type InSecondNumbers,
  inSecondNumbers,
  mayHandIn,
  mayMeasure,
  type StillOpen,
  secondEntries,
  secondState,
  stillOpen,
} from './second.ts';
export { daysWaited, waitedWords } from './waiting.ts';
export {
  AskedReading,
  hasMeasured,
  mustMeasureFirst,
  type Seen,
  type Standing,
  seenBy,
  standingOf,
  ToMeasure,
  toMeasure,
  Withheld,
} from './withheld.ts';

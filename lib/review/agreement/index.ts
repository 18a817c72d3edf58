export { CALLS_IN_ORDER, type CallAgreement, callAgreement } from './callAgreement.ts';
export {
  byAverageRange,
  byVariance,
  DISTINCT_MIN,
  type GaugeAnalysis,
  type GaugeClass,
  type GaugeStudy,
  gaugeClass,
  percentOfTolerance,
  pooledDeviation,
  type StudyReadings,
} from './gaugeStudy.ts';
export { type Intraclass, intraclass } from './intraclass.ts';
export { absoluteInterval, oneWayInterval } from './intraclassInterval.ts';
export {
  type AgreementWeights,
  evenly,
  type Kappa,
  sameClass,
  squarely,
  weightedKappa,
} from './kappa.ts';
export {
  type Interval,
  type LimitsOfAgreement,
  limitsOfAgreement,
  normalisedError,
  PAIRS_MIN,
  type Pair,
  repeatability,
} from './limits.ts';
export type { RangeChart } from './rangeChart.ts';
export {
  errorOfPair,
  type IntraclassOfPairs,
  type ReadingAgreement,
  readingAgreement,
  type StatedAgreement,
  statedWords,
} from './readingAgreement.ts';
export { deviationKnownTo, type StudyNote } from './studyNotes.ts';
export {
  type StudyComponent,
  type StudyFigures,
  type StudyGap,
  studyComponents,
  studyGaps,
  studyResult,
} from './studyResult.ts';

export { foldAlignments, type PhotosAligned, photoPairKey } from './alignments.ts';
export { type AssemblyPoint, AssemblyPointId, assemblyPoints } from './assembly.ts';
export { type BookMoment, bookMoments, inspectionAt } from './bookMoments.ts';
export { type BrokenLink, brokenLinks, chainHash, FIRST_HASH, linkOf } from './chain.ts';
export { type CountedStay, countedHours, type MachineReading, staysOnDuty } from './dutyCount.ts';
export { type Entry, EntryEnvelope, type StoredEntry, SubjectType } from './entry.ts';
export type { Fitment } from './fitment.ts';
export {
  type GateAnswer,
  type GateQuestion,
  GateQuestionId,
  type GateState,
  gateQuestions,
  gateState,
} from './gate.ts';
export {
  type InflationStage,
  InflationStageId,
  inflationStages,
  nextStage,
} from './inflation.ts';
export {
  foldInspection,
  type InspectionState,
  lookKey,
} from './inspection.ts';
export type { EntryRole, Kind, Names } from './kind.ts';
export { Made, MadeOn, madeWords } from './kinds/component.ts';
export { Call, ReviewCall } from './kinds/conclusion.ts';
export { FiguresNear } from './kinds/mark.ts';
export { CameraProfile, PhotoCamera, PhotoHash, PhotoScale, scaleWords } from './kinds/photo.ts';
export { placeWords, QuestionPin, ReadingPlace } from './kinds/question.ts';
export { StudyPlan, StudyReading } from './kinds/study.ts';
export { RestingPlace, SurfaceChoice } from './kinds/surface.ts';
export { type EntryContext, makeEntry } from './make.ts';
export { byTimeThenId, mergeEntries } from './merge.ts';
export {
  PART_COLUMNS,
  type PartLine,
  type PartsFile,
  partsAsCsv,
  readPartsCsv,
} from './partsCsv.ts';
export { type PressureRule, pressureRule } from './pressure.ts';
export {
  type ComponentState,
  componentBehind,
  componentsIn,
  foldRegister,
  type InstrumentState,
  NO_SLOT,
  type Placing,
  partWords,
  type RegisterState,
  type RepairRecord,
  type SiteState,
  slotAt,
  type TestRecord,
  type WheelState,
} from './register.ts';
export { bodyOf, checkEntry, isReadable, kindNamed, kinds, lineOf } from './registry.ts';
export {
  type InspectionStatus,
  isOpenQuestion,
  type Question,
  readingPlaceKey,
  type SecondMeasurement,
} from './reviewing.ts';
export { foldStudy, isPlanned, type StudyState, studyCell, studyHiddenFrom } from './study.ts';
export { nextTurn, type StudyTurn, studyOrder } from './studyOrder.ts';
export { type TrailLine, trailOf } from './trail.ts';
export type { Written } from './written.ts';

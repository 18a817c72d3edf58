export { ENGINE, evaluate, type PartVerdict, type TableUsed, type Verdict } from './evaluate.ts';
export { Evidence, type PartEvidence, type ReadingEvidence } from './evidence.ts';
export { InspectionFile, readInspectionFile } from './file.ts';
export {
  CLASSES,
  type Class,
  type DefectFinding,
  type Finding,
  type LimitFinding,
  type Missing,
  type Result,
  type RuleCited,
  worse,
} from './finding.ts';
export type { AssemblyVerdict, PairChecked } from './fit.ts';
export { gatherEvidence } from './gather.ts';
export { monthsBefore } from './missing.ts';
export { guardedClass, probabilityOutside, simpleClass } from './probability.ts';
export { boundsText, sizeText, sourceText } from './words.ts';

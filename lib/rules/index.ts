export { probabilityOlder } from './age.ts';
export { type Consequence, type Consequences, consequencesOf, withDraft } from './consequences.ts';
export { type Decision, decide } from './decide.ts';
export { ENGINE, evaluate, type PartVerdict, type TableUsed, type Verdict } from './evaluate.ts';
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
  type Result,
  type RuleCited,
  worse,
  worstClass,
} from './finding.ts';
export type { AssemblyVerdict, PairChecked } from './fit.ts';
export { gatherEvidence, madeBetween } from './gather.ts';
export { findWorseButMilder } from './milder.ts';
export { monthsBefore } from './missing.ts';
export { guardedClass, probabilityOutside, simpleClass } from './probability.ts';
export { rowText, scopeText } from './rowWords.ts';
export { boundsText, sizeText, sourceText } from './words.ts';

export {
  type Conclusion,
  isMilder,
  mayConclude,
  mayReview,
  type Settled,
  type SubmittedPart,
  settledParts,
  submittedParts,
} from './conclude.ts';
export { type Danger, type DangerInputs, dangerOf, rankOf } from './danger.ts';
export { mayAppend, rolesFor, type SiteRole } from './permission.ts';
export { daysWaited, waitedWords } from './waiting.ts';

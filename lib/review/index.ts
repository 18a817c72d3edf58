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
export { dangerOf } from './danger.ts';
export { mayAppend, rolesFor, type SiteRole } from './permission.ts';

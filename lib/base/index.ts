export { assert, assertNever, must } from './assert.ts';
export type { Brand } from './brand.ts';
export { canonicalJson } from './canonical.ts';
export { counted } from './count.ts';
export { type Issue, problemsFromIssues, valueAt } from './issues.ts';
export { fail, ok, type Problem, problem, problemText, type Result, shown } from './result.ts';
export { sha256Hex } from './sha256.ts';
export { formatTag, parseTag, TAG_ALPHABET } from './tag.ts';
export { uniformFrom } from './uniform.ts';

export {
  ACCOUNT_PATHS,
  type Accounts,
  openAccounts,
  rateLimitAddress,
  type SignedIn,
} from './accounts.ts';
export { type Blobs, openBlobs, type PreparedOriginal } from './blobs.ts';
export { type ChainFault, type ChainReport, verifyChains } from './chain.ts';
export { openStore, type Store } from './database.ts';
export {
  type Accept,
  type AppendOptions,
  append,
  type Outcome,
  type ReadSubject,
} from './entries.ts';
export { type HistoryQuery, type HistoryRow, readHistory } from './history.ts';
export { HOLD_MS, type Hold, type HoldAsked, heldByOther, holderOf, releaseHold, takeHold } from './holds.ts';
export { type PairRow, type PairsQuery, readPairs } from './pairs.ts';
export { checkPassword } from './passwords.ts';
export {
  addFirstPerson,
  addPerson,
  findPerson,
  isAccountEmail,
  isFirstRun,
  listMembers,
  listPeople,
  type NewPerson,
  type Person,
  passwordFits,
  setDisabled,
  setPassword,
  siteUnknown,
} from './people.ts';
export { addPhoto, findPhoto, findRefusal, type PhotoRecord, rememberRefusal } from './photos.ts';
export {
  bringUpToDate,
  type InspectionLine,
  type InspectionSummary,
  type Projection,
  type Projector,
  rebuildProjections,
  withoutResults,
} from './projections.ts';
export { type QueueLine, type QueuePage, type QueueQuery, readQueue } from './queue.ts';
export {
  componentEntriesOfKind,
  type LastSubmission,
  type LogPage,
  type LogQuery,
  linkedSubjects,
  readHead,
  readInspectionLine,
  readLastSubmissions,
  readLog,
  readSubject,
  readWheelBook,
  subjectsOfType,
  type WheelBook,
  wroteSince,
} from './reads.ts';
export type { Subject } from './rows.ts';
export { readSettings, type Settings, sessionSecret } from './settings.ts';
export {
  addSite,
  findSite,
  listSites,
  type Membership,
  ROLES,
  type Role,
  type Site,
  setRoles,
  sitesOf,
  updateSite,
} from './sites.ts';
export { StoreTrouble, troubleOf } from './trouble.ts';
export {
  OPEN_UPLOADS_MAX,
  openUploads,
  type UploadPiece,
  type UploadPlace,
  type UploadProblem,
  type UploadState,
  type Uploads,
  type WholeUpload,
} from './uploads.ts';

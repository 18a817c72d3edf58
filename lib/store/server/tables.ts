import type { Generated } from 'kysely';

/** Rows as SQLite keeps them: text, whole numbers, JSON as text, times as ISO 8601 in UTC. */
export interface Tables {
  entry: EntryRow;
  subject_head: SubjectHeadRow;
  subject_link: SubjectLinkRow;
  projection_inspection: InspectionTableRow;
  projection_made: ProjectionMadeRow;
  review_hold: ReviewHoldRow;
  projection_pair: PairTableRow;
  projection_history: HistoryTableRow;
  site: SiteRow;
  membership: MembershipRow;
  photo: PhotoRow;
  photo_refused: PhotoRefusedRow;
  upload: UploadRow;
  probe: ProbeRow;
  user: UserRow;
  account: AccountRow;
  session: SessionRow;
}

export interface EntryRow {
  seq: Generated<number>;
  id: string;
  site: string;
  subject_type: string;
  subject_id: string;
  kind: string;
  v: number;
  at: string;
  author: string;
  device: string;
  body: string;
  received_at: string;
  previous_hash: string;
  hash: string;
}

/** Length and last hash of a subject's chain, so that a missing last entry shows too. */
export interface SubjectHeadRow {
  site: string;
  subject_type: string;
  subject_id: string;
  entry_count: number;
  hash: string;
}

export interface SubjectLinkRow {
  site: string;
  subject_type: string;
  subject_id: string;
  wheel: string;
}

export interface InspectionTableRow {
  id: string;
  site: string;
  wheel: string;
  tag: string;
  status: string;
  inspector: string;
  inspector_name: string;
  /** Empty until submitted, so that the order and the cursor need no special case. */
  submitted_at: string;
  /** Since when it waits in its status; empty until submitted and once reviewed. */
  waiting_since: string;
  provisional: number;
  rank: number;
  result: string | null;
  energy_class: number | null;
  assigned_to: string | null;
  reviewer: string | null;
  concluded_at: string | null;
  entry_count: number;
  body: string;
}

/** Which projector made the lists; one row. */
export interface ProjectionMadeRow {
  id: number;
  projector: string;
}

/** Who looks at an inspection right now, until when. */
export interface ReviewHoldRow {
  site: string;
  inspection: string;
  person: string;
  taken_at: string;
  expires_at: string;
}

/** A pair of two people's readings or calls of a concluded inspection. */
export interface PairTableRow {
  site: string;
  inspection: string;
  /** Place among the pairs of the inspection, from 0. */
  nth: number;
  kind: string;
  at: string;
  body: string;
}

/** What an inspection says of wear or of where things happen. */
export interface HistoryTableRow {
  site: string;
  kind: string;
  inspection: string;
  at: string;
  body: string;
}

export interface SiteRow {
  id: string;
  name: string;
  keep_location: number;
  created_at: string;
}

export interface MembershipRow {
  person: string;
  site: string;
  role: string;
}

export interface PhotoRow {
  site: string;
  sha256: string;
  bytes: number;
  name: string;
  facts: string;
  added_by: string;
  added_at: string;
}

export interface PhotoRefusedRow {
  site: string;
  sha256: string;
  problem: string;
  refused_at: string;
}

export interface UploadRow {
  site: string;
  sha256: string;
  person: string;
  bytes: number;
  name: string;
  touched_at: string;
}

export interface ProbeRow {
  id: number;
  at: string;
}

/** Tables of the accounts library; its own migrations make them. */
export interface UserRow {
  id: string;
  name: string;
  email: string;
  emailVerified: number;
  createdAt: string;
  updatedAt: string;
  role: string | null;
  banned: number | null;
  banReason: string | null;
}

export interface AccountRow {
  id: string;
  accountId: string;
  providerId: string;
  userId: string;
  password: string | null;
  createdAt: string;
  updatedAt: string;
}

export interface SessionRow {
  id: string;
  userId: string;
  token: string;
}

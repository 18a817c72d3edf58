/**
 * Numbered steps of the database's shape; `PRAGMA user_version` says how many were taken.
 * A step that was released is never edited: the next change is a new step at the end.
 */
export const MIGRATIONS: readonly string[] = [
  `
  CREATE TABLE entry (
    seq INTEGER PRIMARY KEY AUTOINCREMENT,
    id TEXT NOT NULL UNIQUE,
    site TEXT NOT NULL,
    subject_type TEXT NOT NULL,
    subject_id TEXT NOT NULL,
    kind TEXT NOT NULL,
    v INTEGER NOT NULL,
    at TEXT NOT NULL,
    author TEXT NOT NULL,
    device TEXT NOT NULL,
    body TEXT NOT NULL,
    received_at TEXT NOT NULL,
    previous_hash TEXT NOT NULL,
    hash TEXT NOT NULL
  );
  CREATE INDEX entry_by_subject ON entry (site, subject_type, subject_id, seq);
  CREATE INDEX entry_by_site ON entry (site, seq);

  CREATE TABLE subject_head (
    site TEXT NOT NULL,
    subject_type TEXT NOT NULL,
    subject_id TEXT NOT NULL,
    entry_count INTEGER NOT NULL,
    hash TEXT NOT NULL,
    PRIMARY KEY (site, subject_type, subject_id)
  ) WITHOUT ROWID;

  CREATE TABLE subject_link (
    site TEXT NOT NULL,
    subject_type TEXT NOT NULL,
    subject_id TEXT NOT NULL,
    wheel TEXT NOT NULL,
    PRIMARY KEY (site, subject_type, subject_id, wheel)
  ) WITHOUT ROWID;
  CREATE INDEX subject_link_by_wheel ON subject_link (site, wheel, subject_type, subject_id);

  CREATE TABLE projection_inspection (
    site TEXT NOT NULL,
    id TEXT NOT NULL,
    wheel TEXT NOT NULL,
    tag TEXT NOT NULL,
    status TEXT NOT NULL,
    inspector TEXT NOT NULL,
    inspector_name TEXT NOT NULL,
    submitted_at TEXT NOT NULL,
    provisional INTEGER NOT NULL,
    danger INTEGER NOT NULL,
    reviewer TEXT,
    concluded_at TEXT,
    entry_count INTEGER NOT NULL,
    body TEXT NOT NULL,
    PRIMARY KEY (site, id)
  ) WITHOUT ROWID;
  CREATE INDEX queue_by_status ON projection_inspection (site, status, danger DESC, submitted_at, id);
  CREATE INDEX queue_by_site ON projection_inspection (site, danger DESC, submitted_at, id);
  CREATE INDEX inspection_by_wheel ON projection_inspection (site, wheel, id);

  CREATE TABLE site (
    id TEXT PRIMARY KEY,
    name TEXT NOT NULL,
    keep_location INTEGER NOT NULL DEFAULT 0,
    created_at TEXT NOT NULL
  );
  CREATE UNIQUE INDEX site_by_name ON site (lower(name));

  CREATE TABLE membership (
    person TEXT NOT NULL,
    site TEXT NOT NULL REFERENCES site (id),
    role TEXT NOT NULL,
    PRIMARY KEY (person, site, role)
  ) WITHOUT ROWID;
  CREATE INDEX membership_by_site ON membership (site, person);

  CREATE TABLE photo (
    site TEXT NOT NULL,
    sha256 TEXT NOT NULL,
    bytes INTEGER NOT NULL,
    name TEXT NOT NULL,
    facts TEXT NOT NULL,
    added_by TEXT NOT NULL,
    added_at TEXT NOT NULL,
    PRIMARY KEY (site, sha256)
  ) WITHOUT ROWID;

  CREATE TABLE photo_refused (
    site TEXT NOT NULL,
    sha256 TEXT NOT NULL,
    problem TEXT NOT NULL,
    refused_at TEXT NOT NULL,
    PRIMARY KEY (site, sha256)
  ) WITHOUT ROWID;

  CREATE TABLE upload (
    site TEXT NOT NULL,
    sha256 TEXT NOT NULL,
    person TEXT NOT NULL,
    bytes INTEGER NOT NULL,
    name TEXT NOT NULL,
    touched_at TEXT NOT NULL,
    PRIMARY KEY (site, sha256)
  ) WITHOUT ROWID;
  CREATE INDEX upload_by_person ON upload (person);

  CREATE TABLE probe (id INTEGER PRIMARY KEY, at TEXT NOT NULL);
  `,
  // Tries to sign in are no longer kept here. A begun upload belongs to the person who began it.
  `
  DROP TABLE IF EXISTS "rateLimit";

  CREATE TABLE upload_of_person (
    site TEXT NOT NULL,
    sha256 TEXT NOT NULL,
    person TEXT NOT NULL,
    bytes INTEGER NOT NULL,
    name TEXT NOT NULL,
    touched_at TEXT NOT NULL,
    PRIMARY KEY (site, sha256, person)
  ) WITHOUT ROWID;
  INSERT INTO upload_of_person SELECT site, sha256, person, bytes, name, touched_at FROM upload;
  DROP TABLE upload;
  ALTER TABLE upload_of_person RENAME TO upload;
  CREATE INDEX upload_by_person ON upload (person);
  `,
  // The queue by danger: lines with rank, energy and assignment; they are derived again at the next opening. Holds.
  `
  DROP TABLE IF EXISTS projection_inspection;
  CREATE TABLE projection_inspection (
    site TEXT NOT NULL,
    id TEXT NOT NULL,
    wheel TEXT NOT NULL,
    tag TEXT NOT NULL,
    status TEXT NOT NULL,
    inspector TEXT NOT NULL,
    inspector_name TEXT NOT NULL,
    submitted_at TEXT NOT NULL,
    waiting_since TEXT NOT NULL,
    provisional INTEGER NOT NULL,
    rank INTEGER NOT NULL,
    result TEXT,
    energy_class INTEGER,
    assigned_to TEXT,
    reviewer TEXT,
    concluded_at TEXT,
    entry_count INTEGER NOT NULL,
    body TEXT NOT NULL,
    PRIMARY KEY (site, id)
  ) WITHOUT ROWID;
  CREATE INDEX queue_by_status ON projection_inspection
    (site, status, rank DESC, submitted_at, id, assigned_to, energy_class, waiting_since, result, wheel);
  CREATE INDEX queue_by_site ON projection_inspection
    (site, rank DESC, submitted_at, id, assigned_to, energy_class, waiting_since, result, wheel);
  CREATE INDEX inspection_by_wheel ON projection_inspection (site, wheel, id);

  CREATE TABLE IF NOT EXISTS projection_made (id INTEGER PRIMARY KEY CHECK (id = 1), projector TEXT NOT NULL);

  CREATE TABLE review_hold (
    site TEXT NOT NULL,
    inspection TEXT NOT NULL,
    person TEXT NOT NULL,
    taken_at TEXT NOT NULL,
    expires_at TEXT NOT NULL,
    PRIMARY KEY (site, inspection)
  ) WITHOUT ROWID;
  `,
  // Pairs of two people's readings and calls, of concluded inspections.
  `
  CREATE TABLE projection_pair (
    site TEXT NOT NULL,
    inspection TEXT NOT NULL,
    nth INTEGER NOT NULL,
    kind TEXT NOT NULL,
    at TEXT NOT NULL,
    body TEXT NOT NULL,
    PRIMARY KEY (site, inspection, nth)
  ) WITHOUT ROWID;
  CREATE INDEX pair_by_site ON projection_pair (site, at DESC, inspection, nth);
  `,
  // What inspections say of wear and of where things happen.
  `
  CREATE TABLE projection_history (
    site TEXT NOT NULL,
    kind TEXT NOT NULL,
    inspection TEXT NOT NULL,
    at TEXT NOT NULL,
    body TEXT NOT NULL,
    PRIMARY KEY (site, kind, inspection)
  ) WITHOUT ROWID;
  `,
];

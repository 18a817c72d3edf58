import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import { bodyOf, type Entry, isReadable, kinds, mergeEntries } from '../record/index.ts';
import { bundledTables } from './bundled.ts';
import { parseTable } from './parse.ts';
import { tableHash } from './select.ts';
import type { Table } from './table.ts';

/** Who wrote something about a table, when (ISO 8601 UTC), and what they said of it. */
export interface Said {
  readonly author: string;
  readonly at: string;
  readonly note: string;
}

/** One content that was written down, with its hash. */
export interface Drafted extends Said {
  readonly hash: string;
  readonly table: Table;
}

/** One edition of a table in the record of a site. */
export interface TableOnFile {
  /** Id of the subject. */
  readonly id: string;
  readonly state: 'draft' | 'approved' | 'withdrawn';
  /** The content approved; before that the newest. */
  readonly table: Table;
  /** SHA-256 of the content. */
  readonly hash: string;
  /** Every content written, oldest first. */
  readonly drafts: readonly Drafted[];
  readonly approved: Said | null;
  readonly withdrawn: Said | null;
}

/** An edition in the record of which this version cannot read all. */
export interface UnreadableTable {
  readonly id: string;
  /** Every name it was written under; an empty one where the name cannot be read. */
  readonly names: readonly string[];
  /** What is wrong with its drafts; empty where they come from a newer version. */
  readonly problems: readonly Problem[];
}

export interface TablesOnFile {
  readonly tables: readonly TableOnFile[];
  readonly unreadable: readonly UnreadableTable[];
}

/** Contents read before, by the id of their entry; an entry never changes. */
export type ContentsRead = Map<string, Result<Pick<Drafted, 'table' | 'hash'>, readonly Problem[]>>;

function contentOf(entry: Entry, read: ContentsRead) {
  const known = read.get(entry.id);
  if (known !== undefined) return known;
  const parsed = parseTable((bodyOf(entry) as { content: unknown }).content);
  const content = parsed.ok ? ok({ table: parsed.value, hash: tableHash(parsed.value) }) : fail(parsed.error);
  read.set(entry.id, content);
  return content;
}

/** The name a draft was written under, whatever version wrote it; empty when there is none to be read. */
function nameIn({ body }: Entry): string {
  const { content } = body;
  const table =
    typeof content === 'object' && content !== null ? (content as { table?: unknown }).table : undefined;
  return typeof table === 'string' ? table : '';
}

/** One subject: the approval that counts is the first by somebody who wrote no draft, of a content that was written. */
function foldTable(
  id: string,
  entries: readonly Entry[],
  read: ContentsRead,
): TableOnFile | UnreadableTable | null {
  const drafts: Drafted[] = [];
  const approvals: (Said & { readonly hash: string })[] = [];
  const problems: Problem[] = [];
  let newer = false;
  let withdrawn: Said | null = null;
  for (const entry of entries) {
    const { author, at } = entry;
    if (!isReadable(entry)) newer = true;
    else if (entry.kind === kinds.tableDrafted.kind) {
      const content = contentOf(entry, read);
      const { note } = bodyOf(entry) as { note: string };
      if (content.ok) drafts.push({ author, at, note, ...content.value });
      else problems.push(...content.error);
    } else if (entry.kind === kinds.tableApproved.kind) {
      const { hash, note } = bodyOf(entry) as { hash: string; note: string };
      approvals.push({ author, at, note, hash });
    } else if (entry.kind === kinds.tableWithdrawn.kind) {
      const { reason } = bodyOf(entry) as { reason: string };
      withdrawn ??= { author, at, note: reason };
    }
  }
  if (newer || problems.length > 0) {
    const named = entries.filter((entry) => entry.kind === kinds.tableDrafted.kind).map(nameIn);
    return { id, names: named.length === 0 ? [''] : [...new Set(named)], problems };
  }
  const newest = drafts.at(-1);
  if (newest === undefined) return null;
  const approval = approvals.find(
    (one) => drafts.some((draft) => draft.hash === one.hash) && !drafts.some((d) => d.author === one.author),
  );
  const counted = drafts.findLast((draft) => draft.hash === approval?.hash) ?? newest;
  return {
    id,
    state: withdrawn !== null ? 'withdrawn' : approval === undefined ? 'draft' : 'approved',
    table: counted.table,
    hash: counted.hash,
    drafts,
    approved:
      approval === undefined ? null : { author: approval.author, at: approval.at, note: approval.note },
    withdrawn,
  };
}

/**
 * Folds the entries about tables of one site; entries of other subjects are passed over. Order and repetition do not
 * matter. By name, then by first day of effect. Give the same `read` again to read every content once.
 */
export function foldTables(entries: readonly Entry[], read: ContentsRead = new Map()): TablesOnFile {
  const subjects = new Map<string, Entry[]>();
  for (const entry of mergeEntries(entries)) {
    if (entry.subject.type !== 'table') continue;
    const own = subjects.get(entry.subject.id);
    if (own === undefined) subjects.set(entry.subject.id, [entry]);
    else own.push(entry);
  }
  const folded = [...subjects].map(([id, list]) => foldTable(id, list, read)).filter((one) => one !== null);
  const key = ({ table, id }: TableOnFile) => `${table.table}|${table.effectiveFrom}|${id}`;
  return {
    tables: folded
      .filter((one): one is TableOnFile => 'state' in one)
      .sort((a, b) => (key(a) < key(b) ? -1 : 1)),
    unreadable: folded.filter((one): one is UnreadableTable => 'names' in one),
  };
}

/** Whether an edition was approved by the moment `at` (ISO 8601 UTC). */
function isApproved({ approved }: TableOnFile, at: string): boolean {
  return approved !== null && approved.at <= at;
}

/** Whether an edition has begun and not ended by the moment `at`; one withdrawn before its first day never begins. */
function isRunning({ table, withdrawn }: TableOnFile, at: string): boolean {
  const day = at.slice(0, 10);
  const { effectiveFrom, effectiveUntil } = table;
  const neverBegan = withdrawn !== null && withdrawn.at.slice(0, 10) < effectiveFrom;
  return effectiveFrom <= day && (effectiveUntil === undefined || day <= effectiveUntil) && !neverBegan;
}

/** The later edition supersedes: by first day of effect, then by approval. */
function supersedes(a: TableOnFile, b: TableOnFile): number {
  const key = (one: TableOnFile) => `${one.table.effectiveFrom}|${one.approved?.at ?? ''}|${one.id}`;
  return key(a) < key(b) ? 1 : -1;
}

/**
 * The edition with this name that counts at the moment `at` (ISO 8601 UTC): of those approved by then and in effect the
 * one that supersedes the others; null when there is none, or when that one was withdrawn. A withdrawal never brings an
 * earlier edition back: that would let one person alone put milder limits in force.
 */
export function editionInForce(name: string, onFile: readonly TableOnFile[], at: string): TableOnFile | null {
  const [edition] = onFile
    .filter((one) => one.table.table === name && isApproved(one, at) && isRunning(one, at))
    .sort(supersedes);
  if (edition === undefined) return null;
  return edition.withdrawn !== null && edition.withdrawn.at <= at ? null : edition;
}

/** Whether the first edition with this name is approved and begins after the moment `at`. */
function isYetToCome(name: string, onFile: readonly TableOnFile[], at: string): boolean {
  const approved = onFile.filter((one) => one.table.table === name && isApproved(one, at));
  const day = at.slice(0, 10);
  return (
    approved.some(
      ({ withdrawn, table }) => (withdrawn === null || withdrawn.at > at) && table.effectiveFrom > day,
    ) && approved.every((one) => one.table.effectiveFrom > day)
  );
}

/**
 * The tables with these names as they stood at the moment `at`, in that order: one that comes with the program, or the
 * edition on file that counts then. `without` are the names of which no edition counts: nothing can be kept without
 * them. A table whose first edition is yet to come is none of those.
 */
export function tablesInForce(
  names: readonly string[],
  onFile: readonly TableOnFile[],
  at: string,
): { readonly tables: readonly Table[]; readonly without: readonly string[] } {
  const found = names
    .filter((name) => !isYetToCome(name, onFile, at))
    .map(
      (name) =>
        bundledTables.find((one) => one.table === name) ?? editionInForce(name, onFile, at)?.table ?? name,
    );
  return {
    tables: found.filter((one) => typeof one !== 'string'),
    without: found.filter((one) => typeof one === 'string'),
  };
}

/**
 * Why a table may not be entered as a draft under the id `id`: its name is that of a table of the program, or there is
 * such an edition already that was not withdrawn. Null when it may. Problem.field is "table" or "edition".
 */
export function nameTaken(
  { table, edition }: Table,
  id: string,
  onFile: readonly TableOnFile[],
): Problem | null {
  if (bundledTables.some((one) => one.table === table)) {
    return problem(
      'table-name-taken',
      'table',
      table,
      'A table that comes with the program has this name',
      'Give the table a name of its own.',
    );
  }
  const twin = onFile.some(
    (one) =>
      one.id !== id &&
      one.state !== 'withdrawn' &&
      one.table.table === table &&
      one.table.edition === edition,
  );
  return twin
    ? problem(
        'table-edition-taken',
        'edition',
        edition,
        `There is such an edition of ${table}`,
        'Give this one another edition.',
      )
    : null;
}

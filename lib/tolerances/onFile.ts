import type { Problem } from '../base/index.ts';
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

/** An edition in the record that this version cannot read. */
export interface UnreadableTable {
  readonly id: string;
  /** Name of the table as written; empty when even that cannot be read. */
  readonly table: string;
  readonly problems: readonly Problem[];
}

export interface TablesOnFile {
  readonly tables: readonly TableOnFile[];
  readonly unreadable: readonly UnreadableTable[];
}

/** One subject: the approval that counts is the first by somebody who wrote no draft, of a content that was written. */
function foldTable(id: string, entries: readonly Entry[]): TableOnFile | UnreadableTable | null {
  const drafts: Drafted[] = [];
  const approvals: (Said & { readonly hash: string })[] = [];
  const problems: Problem[] = [];
  let withdrawn: Said | null = null;
  let name = '';
  for (const entry of entries) {
    const { author, at } = entry;
    if (!isReadable(entry)) continue;
    if (entry.kind === kinds.tableDrafted.kind) {
      const { content, note } = bodyOf(entry) as { content: Record<string, unknown>; note: string };
      const parsed = parseTable(content);
      if (parsed.ok) drafts.push({ author, at, note, hash: tableHash(parsed.value), table: parsed.value });
      else {
        name = typeof content.table === 'string' ? content.table : name;
        problems.push(...parsed.error);
      }
    } else if (entry.kind === kinds.tableApproved.kind) {
      const { hash, note } = bodyOf(entry) as { hash: string; note: string };
      approvals.push({ author, at, note, hash });
    } else if (entry.kind === kinds.tableWithdrawn.kind) {
      const { reason } = bodyOf(entry) as { reason: string };
      withdrawn ??= { author, at, note: reason };
    }
  }
  if (problems.length > 0) return { id, table: name, problems };
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
 * matter. By name, then by first day of effect.
 */
export function foldTables(entries: readonly Entry[]): TablesOnFile {
  const subjects = new Map<string, Entry[]>();
  for (const entry of mergeEntries(entries)) {
    if (entry.subject.type !== 'table') continue;
    subjects.set(entry.subject.id, [...(subjects.get(entry.subject.id) ?? []), entry]);
  }
  const folded = [...subjects].map(([id, list]) => foldTable(id, list)).filter((one) => one !== null);
  const key = ({ table, id }: TableOnFile) => `${table.table}|${table.effectiveFrom}|${id}`;
  return {
    tables: folded
      .filter((one): one is TableOnFile => 'state' in one)
      .sort((a, b) => (key(a) < key(b) ? -1 : 1)),
    unreadable: folded.filter((one): one is UnreadableTable => 'problems' in one),
  };
}

/** Whether an edition was approved, not withdrawn, and in effect at the moment `at` (ISO 8601 UTC). */
export function inForce({ table, approved, withdrawn }: TableOnFile, at: string): boolean {
  return (
    approved !== null &&
    approved.at <= at &&
    (withdrawn === null || withdrawn.at > at) &&
    table.effectiveFrom <= at.slice(0, 10)
  );
}

/** The later edition supersedes: by first day of effect, then by approval. */
function supersedes(a: TableOnFile, b: TableOnFile): number {
  const key = (one: TableOnFile) => `${one.table.effectiveFrom}|${one.approved?.at ?? ''}|${one.id}`;
  return key(a) < key(b) ? 1 : -1;
}

/**
 * The tables with these names as they stood at the moment `at`, in that order: one that comes with the program, or of
 * the editions on file the one that supersedes the others. `without` are the names of which no edition was in force.
 */
export function tablesInForce(
  names: readonly string[],
  onFile: readonly TableOnFile[],
  at: string,
): { readonly tables: readonly Table[]; readonly without: readonly string[] } {
  const found = names.map((name) => {
    const bundled = bundledTables.find((one) => one.table === name);
    if (bundled !== undefined) return bundled;
    const [edition] = onFile.filter((one) => one.table.table === name && inForce(one, at)).sort(supersedes);
    return edition?.table ?? name;
  });
  return {
    tables: found.filter((one) => typeof one !== 'string'),
    without: found.filter((one) => typeof one === 'string'),
  };
}

import { fail, ok, type Problem, problem, type Result } from '../../lib/base/index.ts';
import { bodyOf, type Entry, kinds } from '../../lib/record/index.ts';
import { lookThrough } from '../../lib/rules/index.ts';
import { type ReadSubject, type Store, subjectsOfType } from '../../lib/store/server/index.ts';
import {
  type ContentsRead,
  foldTables,
  nameTaken,
  parseTable,
  type TableOnFile,
  type TablesOnFile,
  tableHash,
} from '../../lib/tolerances/index.ts';

function refusal(code: string, field: string, value: unknown, message: string, wayOut: string) {
  return fail(problem(code, field, value, message, wayOut));
}

/** Contents read so far; entries never change. Emptied when it has grown large. */
const contentsRead: ContentsRead = new Map();
const CONTENTS_MAX = 500;

/** Every edition of every table in the record of a site. */
export function tablesOnFile(site: string, readSubject: ReadSubject, store: Store): TablesOnFile {
  if (contentsRead.size > CONTENTS_MAX) contentsRead.clear();
  const entries = subjectsOfType(store, site, 'table').flatMap((id) => readSubject('table', id));
  return foldTables(entries, contentsRead);
}

/**
 * Whether something may be written about a table: a draft that can be read, under a name and edition of its own, while
 * nobody has approved it; an approval of the newest draft, free of errors, by somebody who wrote none of it; a
 * withdrawal once.
 */
export function judgeTable(entry: Entry, readSubject: ReadSubject, store: Store): Result<void, Problem> {
  const onFile = tablesOnFile(entry.site, readSubject, store);
  const known = onFile.tables.find((one) => one.id === entry.subject.id);
  if (known !== undefined && known.state === 'withdrawn') {
    return refusal(
      'table-withdrawn',
      'subject.id',
      known.table.edition,
      'This edition was withdrawn',
      'Begin a new edition from it.',
    );
  }
  switch (entry.kind) {
    case kinds.tableDrafted.kind:
      return judgeDraft(entry, known, onFile);
    case kinds.tableApproved.kind:
      return judgeApproval(entry, known);
    default:
      return known === undefined && !onFile.unreadable.some((one) => one.id === entry.subject.id)
        ? refusal(
            'table-unknown',
            'subject.id',
            entry.subject.id,
            'There is no such table here',
            'Open the tables again.',
          )
        : ok(undefined);
  }
}

function judgeDraft(
  entry: Entry,
  known: TableOnFile | undefined,
  onFile: TablesOnFile,
): Result<void, Problem> {
  if (known?.state === 'approved') {
    return refusal(
      'table-approved',
      'subject.id',
      known.table.edition,
      'An approved edition never changes',
      'Begin a new edition from it.',
    );
  }
  const { content, base } = bodyOf(entry) as { content: unknown; base: string | null };
  if (base !== (known?.drafts.at(-1)?.hash ?? null)) {
    return refusal(
      'table-changed',
      'body.base',
      base,
      'Somebody changed the draft after you began from it',
      'Look at the draft as it is now, and make your change in that one.',
    );
  }
  const parsed = parseTable(content);
  if (!parsed.ok) {
    const [first] = parsed.error;
    return fail({
      ...problem('table-field', 'body.content', '', 'The table cannot be read', 'Correct the table.'),
      ...first,
      field: `body.content.${first?.field ?? ''}`,
    });
  }
  const taken = nameTaken(parsed.value, entry.subject.id, onFile.tables);
  return taken === null ? ok(undefined) : fail({ ...taken, field: `body.content.${taken.field}` });
}

function judgeApproval(entry: Entry, known: TableOnFile | undefined): Result<void, Problem> {
  const { hash } = bodyOf(entry) as { hash: string };
  const newest = known?.drafts.at(-1);
  if (known === undefined || newest === undefined) {
    return refusal(
      'table-unknown',
      'subject.id',
      entry.subject.id,
      'There is no such draft here',
      'Open the tables again.',
    );
  }
  if (known.state === 'approved') {
    return refusal(
      'table-approved',
      'subject.id',
      known.table.edition,
      'This edition is approved already',
      'Nothing is left to do.',
    );
  }
  if (tableHash(newest.table) !== hash) {
    return refusal(
      'table-changed',
      'body.hash',
      hash,
      'The draft was changed after you looked at it',
      'Look at the draft as it is now, then approve that.',
    );
  }
  if (known.drafts.some((draft) => draft.author === entry.author)) {
    return refusal(
      'table-own-work',
      'author',
      entry.author,
      'Whoever wrote a draft does not approve it',
      'Another lead or a reviewer has to do it.',
    );
  }
  const error = lookThrough(newest.table).find((one) => one.severity === 'error');
  return error === undefined
    ? ok(undefined)
    : refusal('table-error', error.field, error.rows.join(', '), error.message, error.wayOut);
}

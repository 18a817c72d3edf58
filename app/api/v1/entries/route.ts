import { readLog } from '../../../../lib/store/server/index.ts';
import { operations } from '../../../_server/contract/index.ts';
import { appendReceived } from '../../../_server/entries.ts';
import { withoutHidden } from '../../../_server/judgeStudy.ts';
import { memberOf } from '../../../_server/members.ts';
import { notFound } from '../../../_server/problems.ts';
import { defineRoute } from '../../../_server/route.ts';
import { logFor, readerOf } from '../../../_server/seen.ts';

export const POST = defineRoute(operations.appendEntries, ({ context, person, body }) => ({
  answer: { results: appendReceived(context, person, body.entries) },
}));

export const GET = defineRoute(operations.readLog, ({ context, person, query }) => {
  const member = memberOf(context, person, query.site);
  if (member === undefined) return notFound('site', query.site);
  const { subjects, ...rest } = query;
  const page = readLog(context.store, { ...rest, ...(subjects === undefined ? {} : { subjects }) });
  const seen = logFor(context.store, readerOf(person, member), page.entries);
  const entries = withoutHidden(context.store, member, person.id, seen.entries);
  return { answer: { ...page, ...seen, entries } };
});

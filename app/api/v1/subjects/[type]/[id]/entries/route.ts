import { readHead, readSubject } from '../../../../../../../lib/store/server/index.ts';
import { operations } from '../../../../../../_server/contract/index.ts';
import { withoutHidden } from '../../../../../../_server/judgeStudy.ts';
import { memberOf } from '../../../../../../_server/members.ts';
import { notFound } from '../../../../../../_server/problems.ts';
import { defineRoute } from '../../../../../../_server/route.ts';
import { inspectionFor, readerOf } from '../../../../../../_server/seen.ts';

export const GET = defineRoute(operations.readSubject, ({ context, person, params, query }) => {
  const member = memberOf(context, person, query.site);
  if (member === undefined) return notFound('site', query.site);
  const subject = { site: query.site, type: params.type, id: params.id };
  const entries = readSubject(context.store, subject);
  if (entries.length === 0) return notFound('id', params.id);
  const seen =
    params.type === 'inspection'
      ? inspectionFor(readerOf(person, member), entries)
      : { entries: withoutHidden(context.store, member, person.id, entries), withheld: null };
  return { answer: { ...seen, head: readHead(context.store, subject) } };
});

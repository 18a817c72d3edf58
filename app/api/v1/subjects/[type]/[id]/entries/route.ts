import { readSubject } from '../../../../../../../lib/store/server/index.ts';
import { operations } from '../../../../../../_server/contract/index.ts';
import { withoutHidden } from '../../../../../../_server/judgeStudy.ts';
import { memberOf } from '../../../../../../_server/members.ts';
import { notFound } from '../../../../../../_server/problems.ts';
import { defineRoute } from '../../../../../../_server/route.ts';

export const GET = defineRoute(operations.readSubject, ({ context, person, params, query }) => {
  const member = memberOf(context, person, query.site);
  if (member === undefined) return notFound('site', query.site);
  const entries = readSubject(context.store, { site: query.site, type: params.type, id: params.id });
  if (entries.length === 0) return notFound('id', params.id);
  return { answer: { entries: withoutHidden(context.store, member, person.id, entries) } };
});

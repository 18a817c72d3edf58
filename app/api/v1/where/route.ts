import { operations } from '../../../_server/contract/index.ts';
import { visitsFor } from '../../../_server/history.ts';
import { memberOf } from '../../../_server/members.ts';
import { notFound } from '../../../_server/problems.ts';
import { defineRoute } from '../../../_server/route.ts';

export const GET = defineRoute(operations.readWhere, ({ context, person, query }) => {
  if (memberOf(context, person, query.site) === undefined) return notFound('site', query.site);
  return { answer: visitsFor(context.store, query) };
});

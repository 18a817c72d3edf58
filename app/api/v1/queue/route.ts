import { readQueue } from '../../../../lib/store/server/index.ts';
import { operations } from '../../../_server/contract/index.ts';
import { memberOf } from '../../../_server/members.ts';
import { notFound, refuse } from '../../../_server/problems.ts';
import { defineRoute } from '../../../_server/route.ts';

export const GET = defineRoute(operations.readQueue, ({ context, person, query }) => {
  if (memberOf(context, person, query.site) === undefined) return notFound('site', query.site);
  const page = readQueue(context.store, {
    site: query.site,
    limit: query.limit,
    ...(query.status === undefined ? {} : { status: query.status }),
    ...(query.cursor === undefined ? {} : { cursor: query.cursor }),
  });
  return page.ok ? { answer: page.value } : refuse(400, page.error);
});

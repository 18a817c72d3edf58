import { listMembers } from '../../../../../../lib/store/server/index.ts';
import { operations } from '../../../../../_server/contract/index.ts';
import { memberOf } from '../../../../../_server/members.ts';
import { notFound } from '../../../../../_server/problems.ts';
import { defineRoute } from '../../../../../_server/route.ts';

export const GET = defineRoute(operations.listMembers, ({ context, person, params }) => {
  if (memberOf(context, person, params.site) === undefined) return notFound('site', params.site);
  return { answer: { people: listMembers(context.store, params.site) } };
});

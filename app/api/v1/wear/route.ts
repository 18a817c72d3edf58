import { operations } from '../../../_server/contract/index.ts';
import { measuredFor } from '../../../_server/history.ts';
import { memberOf } from '../../../_server/members.ts';
import { notFound } from '../../../_server/problems.ts';
import { defineRoute } from '../../../_server/route.ts';
import { readerOf } from '../../../_server/seen.ts';

export const GET = defineRoute(operations.readWear, ({ context, person, query }) => {
  const member = memberOf(context, person, query.site);
  if (member === undefined) return notFound('site', query.site);
  return { answer: measuredFor(context.store, readerOf(person, member), query) };
});

import { readQueue } from '../../../../lib/store/server/index.ts';
import { operations } from '../../../_server/contract/index.ts';
import { memberOf } from '../../../_server/members.ts';
import { notFound, refuse } from '../../../_server/problems.ts';
import { defineRoute } from '../../../_server/route.ts';
import { isBlindTo, lineWithoutFigures, readerOf } from '../../../_server/seen.ts';

export const GET = defineRoute(operations.readQueue, ({ context, person, query }) => {
  const member = memberOf(context, person, query.site);
  if (member === undefined) return notFound('site', query.site);
  const reader = readerOf(person, member);
  const page = readQueue(context.store, {
    site: query.site,
    limit: query.limit,
    ...(query.status === undefined ? {} : { status: query.status }),
    ...(query.cursor === undefined ? {} : { cursor: query.cursor }),
  });
  if (!page.ok) return refuse(400, page.error);
  const inspections = page.value.inspections.map((line) =>
    isBlindTo(reader, line) ? lineWithoutFigures(line) : line,
  );
  return { answer: { ...page.value, inspections } };
});

import { problem } from '../../../../lib/base/index.ts';
import { readQueue, withoutResults } from '../../../../lib/store/server/index.ts';
import { operations } from '../../../_server/contract/index.ts';
import { memberOf } from '../../../_server/members.ts';
import { notFound, type Refusal, refuse } from '../../../_server/problems.ts';
import { queueQuery } from '../../../_server/queue.ts';
import { defineRoute } from '../../../_server/route.ts';
import { isBlindTo, readerOf, withoutRank } from '../../../_server/seen.ts';

export const GET = defineRoute(operations.readQueue, ({ context, person, query }) => {
  const member = memberOf(context, person, query.site);
  if (member === undefined) return notFound('site', query.site);
  if (query.result !== undefined && member.roles.includes('reviewer')) return looksFirst(query.result);
  const reader = readerOf(person, member);
  const page = readQueue(context.store, queueQuery(query, person.id, context.now()));
  if (!page.ok) return refuse(400, page.error);
  const inspections = page.value.inspections.map((line) =>
    isBlindTo(reader, line)
      ? withoutResults(line)
      : reader.roles.includes('reviewer')
        ? withoutRank(line)
        : line,
  );
  return { answer: { ...page.value, inspections } };
});

function looksFirst(result: string): Refusal {
  return refuse(
    403,
    problem(
      'queue-result',
      'result',
      result,
      'A reviewer does not choose inspections by what was found: that would lead the second look',
      'Leave this filter away; the queue has the worst first anyway.',
    ),
  );
}

import { bodyOf, kinds } from '../../../../lib/record/index.ts';
import { readLastSubmissions } from '../../../../lib/store/server/index.ts';
import { operations } from '../../../_server/contract/index.ts';
import { memberOf } from '../../../_server/members.ts';
import { notFound } from '../../../_server/problems.ts';
import { defineRoute } from '../../../_server/route.ts';
import { isBlindTo, readerOf } from '../../../_server/seen.ts';

export const GET = defineRoute(operations.readEvidence, ({ context, person, query }) => {
  const member = memberOf(context, person, query.site);
  if (member === undefined) return notFound('site', query.site);
  const reader = readerOf(person, member);
  const { submissions, next } = readLastSubmissions(context.store, {
    ...query,
    kind: kinds.inspectionSubmitted.kind,
  });
  const open = submissions.filter(({ line }) => !isBlindTo(reader, line));
  const wheels = open.map(({ wheel, inspection, entry }) => {
    const { verdict } = bodyOf(entry) as { verdict: { inputs: Record<string, unknown> } };
    return { wheel, inspection, submittedAt: entry.at, evidence: verdict.inputs };
  });
  return { answer: { wheels, next, withheld: submissions.length - open.length } };
});

import { bodyOf, kinds } from '../../../../lib/record/index.ts';
import { readLastSubmissions } from '../../../../lib/store/server/index.ts';
import { operations } from '../../../_server/contract/index.ts';
import { memberOf } from '../../../_server/members.ts';
import { notFound } from '../../../_server/problems.ts';
import { defineRoute } from '../../../_server/route.ts';

export const GET = defineRoute(operations.readEvidence, ({ context, person, query }) => {
  if (memberOf(context, person, query.site) === undefined) return notFound('site', query.site);
  const { submissions, next } = readLastSubmissions(context.store, {
    ...query,
    kind: kinds.inspectionSubmitted.kind,
  });
  const wheels = submissions.map(({ wheel, inspection, entry }) => {
    const { verdict } = bodyOf(entry) as { verdict: { inputs: Record<string, unknown> } };
    return { wheel, inspection, submittedAt: entry.at, evidence: verdict.inputs };
  });
  return { answer: { wheels, next } };
});

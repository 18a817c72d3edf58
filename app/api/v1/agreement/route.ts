import { problem } from '../../../../lib/base/index.ts';
import { agreementOf } from '../../../_server/agreement.ts';
import { operations } from '../../../_server/contract/index.ts';
import { memberOf } from '../../../_server/members.ts';
import { notFound, refuse } from '../../../_server/problems.ts';
import { defineRoute } from '../../../_server/route.ts';

export const GET = defineRoute(operations.readAgreement, ({ context, person, query }) => {
  const member = memberOf(context, person, query.site);
  if (member === undefined) return notFound('site', query.site);
  if (!member.roles.includes('lead') && !member.roles.includes('reviewer')) {
    return refuse(
      403,
      problem(
        'agreement-role',
        '',
        '',
        'How well people agree is for leads and reviewers of the site',
        'Ask the lead of the site.',
      ),
    );
  }
  const { site, limit, from, to } = query;
  const found = agreementOf(context.store, {
    site,
    limit,
    ...(from === undefined ? {} : { from }),
    ...(to === undefined ? {} : { to }),
  });
  return { answer: { ...found, suggestions: { offered: 0, accepted: 0 } } };
});

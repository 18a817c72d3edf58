import { problem } from '../../../../../../lib/base/index.ts';
import { foldInspection } from '../../../../../../lib/record/index.ts';
import { isBarred } from '../../../../../../lib/review/index.ts';
import {
  findPerson,
  type Hold,
  holderOf,
  type InspectionLine,
  readInspectionLine,
  readSubject,
  releaseHold,
  type Store,
  takeHold,
} from '../../../../../../lib/store/server/index.ts';
import { operations } from '../../../../../_server/contract/index.ts';
import { memberOf } from '../../../../../_server/members.ts';
import { notFound, refuse } from '../../../../../_server/problems.ts';
import { defineRoute } from '../../../../../_server/route.ts';

export const POST = defineRoute(operations.holdReview, ({ context, person, params, query, body }) => {
  const { store } = context;
  const member = memberOf(context, person, query.site);
  if (member === undefined) return notFound('site', query.site);
  if (!member.roles.includes('reviewer')) return refuse(403, reviewersOnly());
  const line = readInspectionLine(store, query.site, params.id);
  if (line === undefined) return notFound('id', params.id);
  if (tookPart(line, person.id)) return refuse(409, ownWork(person.name));
  if (line.status === 'third person') {
    const entries = readSubject(store, { site: query.site, type: 'inspection', id: params.id });
    if (isBarred(foldInspection(entries), person.id)) return refuse(409, thirdPerson(person.name));
  }
  const now = context.now();
  const asked = { site: query.site, inspection: params.id, person: person.id, now };
  const done = (body.want === 'take' ? takeHold : releaseHold)(store, asked);
  const hold = holderOf(store, query.site, params.id, now);
  if (done.ok) return { answer: answerOf(store, hold, person.id) };
  const name = hold === null ? '' : nameOf(store, hold.person);
  return refuse(409, { ...done.error, value: name }, { extra: { until: hold?.until ?? '' } });
});

function answerOf(store: Store, hold: Hold | null, person: string) {
  const holder = hold === null ? null : { id: hold.person, name: nameOf(store, hold.person) };
  return { holder, until: hold?.until ?? null, mine: hold?.person === person };
}

function tookPart({ body }: InspectionLine, person: string): boolean {
  return Array.isArray(body.inspectors) && body.inspectors.includes(person);
}

function ownWork(name: string) {
  return problem(
    'review-own-work',
    'person',
    name,
    'Nobody reviews an inspection they took part in',
    'Another reviewer has to do it.',
  );
}

function thirdPerson(name: string) {
  return problem(
    'review-third-person',
    'person',
    name,
    'This was handed on: two people disagreed twice, and you are one of them',
    'A reviewer who has not concluded it before has to measure it.',
  );
}

function nameOf(store: Store, person: string): string {
  return findPerson(store, person)?.name ?? '';
}

function reviewersOnly() {
  return problem(
    'hold-role',
    'role',
    '',
    'Only a reviewer of the site holds an inspection',
    'Ask the administrator for the role, or a colleague who has it.',
  );
}

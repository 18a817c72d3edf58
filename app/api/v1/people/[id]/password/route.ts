import { findPerson } from '../../../../../../lib/store/server/index.ts';
import { operations } from '../../../../../_server/contract/index.ts';
import { replacePassword } from '../../../../../_server/people.ts';
import { notFound } from '../../../../../_server/problems.ts';
import { defineRoute } from '../../../../../_server/route.ts';

export const POST = defineRoute(operations.setPassword, async ({ context, params, body }) => {
  const person = findPerson(context.store, params.id);
  if (person === undefined) return notFound('id', params.id);
  const replaced = await replacePassword(context, person, body.password);
  return replaced.ok ? { answer: { person } } : replaced.error;
});

import { listPeople } from '../../../../lib/store/server/index.ts';
import { operations } from '../../../_server/contract/index.ts';
import { makePerson } from '../../../_server/people.ts';
import { defineRoute } from '../../../_server/route.ts';

export const GET = defineRoute(operations.listPeople, ({ context }) => ({
  answer: { people: listPeople(context.store) },
}));

export const POST = defineRoute(operations.addPerson, async ({ context, body }) => {
  const made = await makePerson(context, body);
  return made.ok ? { answer: { person: made.value } } : made.error;
});

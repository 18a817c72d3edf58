import { operations } from '../../../_server/contract/index.ts';
import { makeFirstPerson } from '../../../_server/people.ts';
import { defineOpenRoute } from '../../../_server/route.ts';

export const POST = defineOpenRoute(operations.firstRun, async ({ context, body }) => {
  const made = await makeFirstPerson(context, body);
  return made.ok ? { answer: made.value } : made.error;
});

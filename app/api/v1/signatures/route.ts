import { operations } from '../../../_server/contract/index.ts';
import { defineRoute } from '../../../_server/route.ts';
import { sign } from '../../../_server/signing.ts';

export const POST = defineRoute(operations.sign, async ({ context, person, body }) => {
  const signed = await sign(context, person, body);
  return signed.ok ? { answer: { result: signed.value } } : signed.error;
});

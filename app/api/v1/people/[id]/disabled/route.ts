import { problem } from '../../../../../../lib/base/index.ts';
import { findPerson, setDisabled } from '../../../../../../lib/store/server/index.ts';
import { operations } from '../../../../../_server/contract/index.ts';
import { notFound, refuse } from '../../../../../_server/problems.ts';
import { defineRoute } from '../../../../../_server/route.ts';

export const POST = defineRoute(operations.setDisabled, ({ context, person: caller, params, body }) => {
  const person = findPerson(context.store, params.id);
  if (person === undefined) return notFound('id', params.id);
  if (body.disabled && person.id === caller.id) {
    return refuse(
      409,
      problem(
        'own-account',
        'id',
        person.name,
        'Nobody closes their own account',
        'Ask another administrator to close it.',
      ),
    );
  }
  setDisabled(context.store, person.id, body.disabled, context.now());
  return { answer: { person: { ...person, disabled: body.disabled } } };
});

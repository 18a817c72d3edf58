import { must } from '../../../../../../lib/base/index.ts';
import { findPerson, findSite, setRoles } from '../../../../../../lib/store/server/index.ts';
import { operations } from '../../../../../_server/contract/index.ts';
import { notFound } from '../../../../../_server/problems.ts';
import { defineRoute } from '../../../../../_server/route.ts';

export const PUT = defineRoute(operations.setRoles, ({ context, params, body }) => {
  if (findPerson(context.store, params.id) === undefined) return notFound('id', params.id);
  if (findSite(context.store, body.site) === undefined) return notFound('site', body.site);
  setRoles(context.store, params.id, body.site, body.roles);
  const person = must(findPerson(context.store, params.id), 'the person just changed');
  return { answer: { person } };
});

import { randomUUID } from 'node:crypto';
import { addSite, listSites, sitesOf } from '../../../../lib/store/server/index.ts';
import { operations } from '../../../_server/contract/index.ts';
import { refuse } from '../../../_server/problems.ts';
import { defineRoute } from '../../../_server/route.ts';

export const GET = defineRoute(operations.listSites, ({ context, person }) => {
  const own = new Set(sitesOf(context.store, person.id).map((site) => site.id));
  const sites = listSites(context.store).filter((site) => person.administrator || own.has(site.id));
  return { answer: { sites } };
});

export const POST = defineRoute(operations.addSite, ({ context, body }) => {
  const made = addSite(context.store, { id: randomUUID(), ...body, now: context.now() });
  return made.ok ? { answer: { site: made.value } } : refuse(409, made.error);
});

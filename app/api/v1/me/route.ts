import { sitesOf } from '../../../../lib/store/server/index.ts';
import { operations } from '../../../_server/contract/index.ts';
import { defineRoute } from '../../../_server/route.ts';

export const GET = defineRoute(operations.me, ({ context, person }) => ({
  answer: {
    person,
    sites: sitesOf(context.store, person.id),
  },
}));

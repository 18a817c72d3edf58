import { isFirstRun } from '../../../../lib/store/server/index.ts';
import { operations } from '../../../_server/contract/index.ts';
import { defineOpenRoute } from '../../../_server/route.ts';

export const GET = defineOpenRoute(operations.installation, ({ context }) => ({
  answer: { firstRun: isFirstRun(context.store) },
}));

import { serveAccounts } from '../../../_server/accounts.ts';
import { operations } from '../../../_server/contract/index.ts';
import { defineOpenRoute } from '../../../_server/route.ts';

export const GET = defineOpenRoute(operations.authRead, ({ context, request, params }) =>
  serveAccounts({ context, request, path: `/${params.all.join('/')}`, body: undefined }),
);

export const POST = defineOpenRoute(operations.authWrite, ({ context, request, params, body }) =>
  serveAccounts({ context, request, path: `/${params.all.join('/')}`, body }),
);

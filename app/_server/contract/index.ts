import { z } from 'zod';
import { accountOperations } from './accounts.ts';
import { agreementOperations } from './agreement.ts';
import { historyOperations } from './history.ts';
import type { Operation } from './operation.ts';
import { operation } from './operation.ts';
import { photoOperations } from './photos.ts';
import { queueOperations } from './queue.ts';
import { recordOperations } from './record.ts';

/** Every operation of the HTTP interface by its id. */
export const operations = {
  ...accountOperations,
  ...recordOperations,
  ...queueOperations,
  ...photoOperations,
  ...agreementOperations,
  ...historyOperations,
  describe: operation({
    id: 'describe',
    method: 'GET',
    path: '/api/v1/openapi.json',
    access: 'anyone',
    summary: 'This description, OpenAPI 3.1',
    answer: z.record(z.string(), z.unknown()),
  }),
};

/** The same as a list. */
export const contract: readonly Operation[] = Object.values(operations);

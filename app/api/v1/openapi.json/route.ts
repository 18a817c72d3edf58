import { operations } from '../../../_server/contract/index.ts';
import { openApiDocument } from '../../../_server/openapi.ts';
import { defineOpenRoute } from '../../../_server/route.ts';

export const GET = defineOpenRoute(operations.describe, () => ({ answer: openApiDocument() }));

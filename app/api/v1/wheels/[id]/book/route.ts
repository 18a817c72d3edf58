import { readWheelBook } from '../../../../../../lib/store/server/index.ts';
import { operations } from '../../../../../_server/contract/index.ts';
import { memberOf } from '../../../../../_server/members.ts';
import { notFound } from '../../../../../_server/problems.ts';
import { defineRoute } from '../../../../../_server/route.ts';
import { bookFor, readerOf } from '../../../../../_server/seen.ts';

export const GET = defineRoute(operations.readBook, ({ context, person, params, query }) => {
  const member = memberOf(context, person, query.site);
  if (member === undefined) return notFound('site', query.site);
  const book = readWheelBook(context.store, query.site, params.id);
  return book === undefined ? notFound('id', params.id) : { answer: bookFor(readerOf(person, member), book) };
});

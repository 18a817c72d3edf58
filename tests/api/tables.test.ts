import { beforeAll, describe, expect, it } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { type Entry, kinds } from '../../lib/record/index.ts';
import type { Role } from '../../lib/store/server/index.ts';
import { tableHash } from '../../lib/tolerances/index.ts';
import { thing } from '../support/entries.ts';
import { tableOf, testSource } from '../support/evidence.ts';
import { addPeople, append, signIn, twoSites, withServer } from './support.ts';
import { make } from './writing.ts';

const PEOPLE: ReadonlyArray<readonly [string, readonly Role[]]> = [
  ['rey', ['reviewer']],
  ['lin', ['lead']],
  ['ina', ['inspector']],
];

withServer(async (context) => {
  await twoSites(context);
  await addPeople(context, PEOPLE);
});

const cookies = new Map<string, string>();
beforeAll(async () => {
  for (const who of ['ada', ...PEOPLE.map(([id]) => id)])
    cookies.set(who, await signIn(`${who}@rims.example`));
});

const TABLE = thing(80);

/** What became of one entry: "stored", or the code and the field it was refused for. */
async function outcome(entry: Entry): Promise<string> {
  const [one] = await append(must(cookies.get(entry.author), entry.author), [entry]);
  return one?.problem === undefined ? (one?.status ?? '') : `${one.problem.code}, ${one.problem.field}`;
}

const row = (min: number, over: object = {}) => ({
  row: 'depth',
  type: 'limit',
  characteristic: 'gutter depth',
  keep: { min },
  repair: null,
  methods: ['gauge'],
  source: testSource,
  ...over,
});
const content = (min: number, over: object = {}) =>
  tableOf([row(min)], { table: 'own limits', edition: '1', ...over });
const draft = (author: string, table: object, subject = TABLE, base: string | null = null) =>
  make(author, kinds.tableDrafted, subject, { content: { ...table }, base, note: '' });
const approval = (author: string, table: ReturnType<typeof content>, subject = TABLE) =>
  make(author, kinds.tableApproved, subject, { hash: tableHash(table), note: '' });

describe('a tolerance table on the server', () => {
  it('is drafted by a lead only', async () => {
    expect(await outcome(draft('ina', content(10)))).toBe('entry-role, kind');
    expect(await outcome(draft('rey', content(10)))).toBe('entry-role, kind');
    expect(await outcome(draft('lin', content(10)))).toBe('stored');
  });

  it('is refused when it cannot be read, naming the field', async () => {
    const unreadable = { ...content(10), rows: [row(10, { keep: {} })] };
    expect(await outcome(draft('lin', unreadable, TABLE, tableHash(content(10))))).toBe(
      'table-field, body.content.rows.0.keep',
    );
  });

  it('has a name of its own beside the tables of the program, and an edition of its own beside the others', async () => {
    expect(await outcome(draft('lin', content(10, { table: '29 CFR 1910.177' }), thing(81)))).toBe(
      'table-name-taken, body.content.table',
    );
    expect(await outcome(draft('lin', content(12), thing(81)))).toBe(
      'table-edition-taken, body.content.edition',
    );
    expect(await outcome(draft('lin', content(12, { edition: '2' }), thing(81)))).toBe('stored');
  });

  it('is not written over a draft that its writer has not seen', async () => {
    const [one, two] = [content(10, { edition: '7' }), content(11, { edition: '7' })];
    expect(await outcome(draft('lin', one, thing(83)))).toBe('stored');
    expect(await outcome(draft('ada', two, thing(83)))).toBe('table-changed, body.base');
    expect(await outcome(draft('ada', two, thing(83), tableHash(one)))).toBe('stored');
    expect(await outcome(draft('lin', one, thing(83), tableHash(one)))).toBe('table-changed, body.base');
  });

  it('is approved as it stands now, by a lead or reviewer who wrote none of it', async () => {
    expect(await outcome(approval('lin', content(10)))).toBe('table-own-work, author');
    expect(await outcome(approval('ina', content(10)))).toBe('entry-role, kind');
    expect(await outcome(approval('rey', content(11)))).toBe('table-changed, body.hash');
    expect(await outcome(approval('rey', content(10), thing(99)))).toBe('table-unknown, subject.id');
    expect(await outcome(approval('rey', content(10)))).toBe('stored');
    expect(await outcome(approval('ada', content(10)))).toBe('table-approved, subject.id');
  });

  it('is not approved while the look-through finds an error in it', async () => {
    const never = tableOf([row(10), { ...row(0, { keep: { max: 5 } }), row: 'other' }], {
      table: 'own limits',
      edition: '3',
    });
    expect(await outcome(draft('lin', never, thing(82)))).toBe('stored');
    expect(await outcome(approval('rey', never, thing(82)))).toBe('table-error, rows.1.keep');
  });

  it('never changes once it is approved', async () => {
    expect(await outcome(draft('lin', content(12)))).toBe('table-approved, subject.id');
  });

  it('is withdrawn by a lead, once, with a reason', async () => {
    const withdrawal = (author: string, subject: string) =>
      make(author, kinds.tableWithdrawn, subject, { reason: 'misprint' });
    expect(await outcome(withdrawal('rey', TABLE))).toBe('entry-role, kind');
    expect(await outcome(withdrawal('lin', thing(98)))).toBe('table-unknown, subject.id');
    expect(await outcome(withdrawal('lin', TABLE))).toBe('stored');
    expect(await outcome(withdrawal('lin', TABLE))).toBe('table-withdrawn, subject.id');
    expect(await outcome(draft('lin', content(12)))).toBe('table-withdrawn, subject.id');
  });
});

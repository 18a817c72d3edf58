import { afterEach, beforeAll, describe, expect, it } from 'vitest';
import { serverContext } from '../../app/_server/context.ts';
import { canonicalJson, must } from '../../lib/base/index.ts';
import { type Entry, kinds } from '../../lib/record/index.ts';
import { holderOf } from '../../lib/store/server/index.ts';
import { depthBody, thing } from '../support/entries.ts';
import {
  addPeople,
  append,
  NORTH,
  problemOf,
  SOUTH,
  send,
  signedIn,
  twoSites,
  WHEEL,
  withServer,
} from './support.ts';
import { BASE, INSPECTION, make, registerOfWheel, submission } from './writing.ts';

withServer(async (context) => {
  await twoSites(context);
  await addPeople(context, [
    ['rey', ['reviewer']],
    ['max', ['reviewer', 'inspector']],
    ['lee', ['lead']],
    ['bea', ['reviewer']],
  ]);
});

const { cookie: as } = signedIn('ada', 'rey', 'max', 'lee', 'bea', 'sol');
const evidence: Entry[] = [];
beforeAll(async () => {
  const register = registerOfWheel();
  evidence.push(
    make('ada', kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'yearly' }),
    make('ada', kinds.pressureRead, INSPECTION, {
      typed: '600 kPa',
      foundKpa: 600,
      recommendedTyped: '650 kPa',
      recommendedKpa: 650,
    }),
    make('ada', kinds.readingEntered, INSPECTION, depthBody(thing(80), BASE, 8.2)),
  );
  const outcomes = await append(as('ada'), [...register, ...evidence, submission(register, evidence)]);
  expect(outcomes.map(({ status }) => status)).toEqual(outcomes.map(() => 'stored'));
});

interface Line extends Readonly<Record<string, unknown>> {
  readonly id: string;
  readonly body: Readonly<Record<string, unknown>>;
}
const queue = (who: string, query = '') =>
  send('GET', `/api/v1/queue?site=${NORTH}${query}`, { cookie: as(who) });
async function lines(who: string, query = ''): Promise<readonly Line[]> {
  const response = await queue(who, query);
  expect(response.status).toBe(200);
  return ((await response.json()) as { inspections: readonly Line[] }).inspections;
}

/** Runs the rest of the test with the server's clock at a moment. */
async function clockAt(moment: string): Promise<void> {
  const context = await serverContext();
  restore ??= context.now;
  context.now = () => moment;
}
let restore: (() => string) | undefined;
afterEach(async () => {
  if (restore === undefined) return;
  (await serverContext()).now = restore;
  restore = undefined;
});

describe('a line of the queue', () => {
  it('says how dangerous it is and why', async () => {
    const [line] = await lines('lee', '&status=submitted');
    expect(line).toMatchObject({
      id: INSPECTION,
      result: 'scrap',
      energyClass: 2,
      assignedTo: null,
      heldBy: null,
      body: {
        energy: expect.stringContaining('rough estimate'),
        why: expect.stringContaining('scrap: rim base'),
      },
    });
    expect(line?.rank).toBeGreaterThan(500_000);
  });

  it('is narrowed by what is asked for, all of it together', async () => {
    const found = async (query: string) => (await lines('lee', query)).map(({ id }) => id);
    for (const query of [
      '&energy=2',
      '&assigned=nobody',
      '&assigned=anyone',
      `&wheels=${WHEEL},${thing(99)}`,
      '&result=scrap',
      '&status=submitted&energy=2&waitingDays=1',
    ])
      expect([query, await found(query)]).toEqual([query, [INSPECTION]]);
    for (const query of [
      '&energy=4',
      '&assigned=me',
      '&assigned=rey',
      `&wheels=${thing(99)}`,
      '&result=keep',
    ])
      expect([query, await found(query)]).toEqual([query, []]);
  });

  it('waits so many days: below, at and above', async () => {
    const [line] = await lines('lee');
    const since = Date.parse(String(line?.waitingSince));
    const days = async (ms: number) => {
      await clockAt(new Date(since + ms).toISOString());
      return (await lines('lee', '&waitingDays=7')).length;
    };
    const week = 7 * 86_400_000;
    expect([await days(week - 1), await days(week), await days(week + 1)]).toEqual([0, 1, 1]);
  });

  it.each(['&energy=5', '&energy=x', '&wheels=', '&wheels=x', '&result=fine', '&waitingDays=-1'])(
    'is not looked for by %s',
    async (query) => {
      expect(await problemOf(await queue('lee', query))).toMatchObject({ status: 400 });
    },
  );

  it('is not chosen by its result by a reviewer, who would know before looking', async () => {
    expect(await problemOf(await queue('rey', '&result=scrap'))).toMatchObject({
      status: 403,
      code: 'queue-result',
    });
  });

  it('reads on only from a line of this site', async () => {
    expect(await problemOf(await queue('lee', `&cursor=${thing(99)}`))).toMatchObject({
      status: 400,
      code: 'queue-cursor',
    });
  });
});

describe('the order over pages', () => {
  it('holds, page by page, with cursors that are ids', async () => {
    const { store } = await serverContext();
    const insert = store.sqlite.prepare(
      `INSERT INTO projection_inspection (site, id, wheel, tag, status, inspector, inspector_name, submitted_at,
         waiting_since, provisional, rank, energy_class, entry_count, body)
       VALUES (?, ?, 'w', 't', 'asked', 'ada', '', ?, '2026-01-01T00:00:00.000Z', 1, ?, 1, 1, '{}')`,
    );
    for (let n = 0; n < 60; n += 1) {
      insert.run(
        NORTH,
        thing(1000 + ((n * 37) % 60)),
        `2026-01-0${1 + (n % 3)}T00:00:00.000Z`,
        (n % 5) * 100_000,
      );
    }
    const seen: Line[] = [];
    for (let cursor: string | null = ''; cursor !== null; ) {
      const response = await queue('ada', `&status=asked&limit=7${cursor === '' ? '' : `&cursor=${cursor}`}`);
      const page = (await response.json()) as { inspections: Line[]; cursor: string | null };
      seen.push(...page.inspections);
      expect(page.cursor === null || page.cursor === page.inspections.at(-1)?.id).toBe(true);
      cursor = page.cursor;
    }
    expect(new Set(seen.map(({ id }) => id)).size).toBe(60);
    const keys = seen.map(({ rank, submittedAt, id }) => [-Number(rank), submittedAt, id] as const);
    const sorted = [...keys].sort(([a, b, c], [x, y, z]) => a - x || (`${b}${c}` < `${y}${z}` ? -1 : 1));
    expect(keys).toEqual(sorted);
    store.sqlite.exec(`DELETE FROM projection_inspection WHERE status = 'asked'`);
  });
});

describe('giving a review to somebody', () => {
  const give = async (who: string, to: string | null) =>
    (await append(as(who), [make(who, kinds.reviewAssigned, INSPECTION, { to, note: '' })]))[0];

  it('is for leads and reviewers of the site, to a reviewer of it who took no part', async () => {
    expect(await give('lee', 'rey')).toMatchObject({ status: 'stored' });
    expect(await lines('rey', '&assigned=me')).toMatchObject([{ id: INSPECTION, assignedTo: 'rey' }]);
    expect(await give('rey', 'max')).toMatchObject({ status: 'stored' });
    expect(await lines('lee', '&assigned=max')).toHaveLength(1);
    expect(await give('lee', 'lee')).toMatchObject({
      problem: { code: 'review-assignment', field: 'body.to' },
    });
    expect(await give('lee', 'nobody')).toMatchObject({ problem: { code: 'review-assignment' } });
  });

  it('is not for an inspector alone, nor about an inspection that is not there', async () => {
    const inspector = make('sol', kinds.reviewAssigned, INSPECTION, { to: null, note: '' });
    expect((await append(as('sol'), [{ ...inspector, site: SOUTH }]))[0]).toMatchObject({
      problem: { code: 'entry-role' },
    });
    const absent = make('lee', kinds.reviewAssigned, thing(98), { to: null, note: '' });
    expect((await append(as('lee'), [absent]))[0]).toMatchObject({
      problem: { code: 'review-assignment', field: 'subject.id' },
    });
  });

  it('is taken back by giving it to nobody, and is no evidence: nothing is late', async () => {
    expect(await give('lee', null)).toMatchObject({ status: 'stored' });
    expect(await lines('lee', '&assigned=nobody&status=submitted')).toMatchObject([
      { assignedTo: null, body: { late: 0, inspectors: ['ada'] } },
    ]);
  });

  it('never goes to somebody who took part', async () => {
    const gate = { question: 'components clean', answer: 'yes', by: '', doneAt: null } as const;
    await append(as('max'), [make('max', kinds.gateAnswered, INSPECTION, gate)]);
    expect(await give('lee', 'max')).toMatchObject({ problem: { code: 'review-assignment', value: 'max' } });
    expect(await give('lee', 'rey')).toMatchObject({ status: 'stored' });
  });
});

describe('holding an inspection', () => {
  const BEGIN = '2026-05-05T08:00:00.000Z';
  const later = (ms: number) => new Date(Date.parse(BEGIN) + ms).toISOString();
  const TEN_MINUTES = 600_000;
  const hold = (who: string, want: 'take' | 'release', id = INSPECTION) =>
    send('POST', `/api/v1/inspections/${id}/hold?site=${NORTH}`, { cookie: as(who), json: { want } });
  const held = async (now: string) => {
    const found = holderOf((await serverContext()).store, NORTH, INSPECTION, now);
    return found?.person ?? null;
  };

  it('lasts ten minutes, is renewed by taking it again, and given back', async () => {
    await clockAt(BEGIN);
    expect(await (await hold('rey', 'take')).json()).toEqual({
      holder: { id: 'rey', name: 'rey' },
      until: later(TEN_MINUTES),
      mine: true,
    });
    expect((await lines('lee', `&wheels=${WHEEL}`))[0]).toMatchObject({
      heldBy: 'rey',
      heldUntil: later(TEN_MINUTES),
    });
    await clockAt(later(60_000));
    expect(await (await hold('rey', 'take')).json()).toMatchObject({ until: later(60_000 + TEN_MINUTES) });
    expect(await (await hold('rey', 'release')).json()).toEqual({ holder: null, until: null, mine: false });
    expect(await held(later(60_000))).toBeNull();
    expect((await hold('rey', 'release')).status).toBe(200);
  });

  it('goes to one of two who take it at the same moment; the other is told who and until when', async () => {
    await clockAt(BEGIN);
    const both = await Promise.all([hold('rey', 'take'), hold('bea', 'take')]);
    expect(both.map(({ status }) => status).sort()).toEqual([200, 409]);
    const [winner, loser] = both[0]?.status === 200 ? ['rey', 'bea'] : ['bea', 'rey'];
    const refused = must(
      both.find(({ status }) => status === 409),
      'the one refused',
    );
    expect(await problemOf(refused)).toMatchObject({
      code: 'review-held',
      value: winner,
      until: later(TEN_MINUTES),
    });
    expect(await problemOf(await hold(loser ?? '', 'release'))).toMatchObject({ status: 409 });
    expect(await held(BEGIN)).toBe(winner);
  });

  it('ends by itself: below, at and above its end', async () => {
    await clockAt(BEGIN);
    for (const who of ['rey', 'bea']) if ((await held(BEGIN)) === who) await hold(who, 'release');
    await hold('rey', 'take');
    await clockAt(later(TEN_MINUTES - 1));
    expect((await hold('bea', 'take')).status).toBe(409);
    await clockAt(later(TEN_MINUTES));
    expect(await (await hold('bea', 'take')).json()).toMatchObject({ holder: { id: 'bea' }, mine: true });
    await clockAt(later(TEN_MINUTES + 1));
    expect((await hold('rey', 'release')).status).toBe(409);
    expect(await held(later(2 * TEN_MINUTES - 1))).toBe('bea');
    expect(await held(later(2 * TEN_MINUTES))).toBeNull();
  });

  it('is for reviewers of the site, of an inspection that is there', async () => {
    expect(await problemOf(await hold('lee', 'take'))).toMatchObject({ status: 403, code: 'hold-role' });
    expect(await problemOf(await hold('sol', 'take'))).toMatchObject({ status: 404, code: 'not-found' });
    expect(await problemOf(await hold('rey', 'take', thing(98)))).toMatchObject({ status: 404 });
    const other = await send('POST', `/api/v1/inspections/${INSPECTION}/hold?site=${SOUTH}`, {
      cookie: as('rey'),
      json: { want: 'take' },
    });
    expect(other.status).toBe(404);
  });

  it('is not for somebody who took part', async () => {
    expect(await problemOf(await hold('max', 'take'))).toMatchObject({
      status: 409,
      code: 'review-own-work',
    });
  });

  it('leaves the record alone', async () => {
    const entries = async () => {
      const path = `/api/v1/subjects/inspection/${INSPECTION}/entries?site=${NORTH}`;
      return canonicalJson(await (await send('GET', path, { cookie: as('lee') })).json());
    };
    const before = await entries();
    await clockAt(later(10 * TEN_MINUTES));
    await hold('rey', 'take');
    expect(await entries()).toBe(before);
  });
});

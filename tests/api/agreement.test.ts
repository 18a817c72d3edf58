import { beforeAll, describe, expect, it } from 'vitest';
import { serverContext } from '../../app/_server/context.ts';
import { projectRecord } from '../../app/_server/project.ts';
import { must } from '../../lib/base/index.ts';
import { kinds } from '../../lib/record/index.ts';
import { rebuildProjections } from '../../lib/store/server/index.ts';
import { depthBody, thing } from '../support/entries.ts';
import { addPeople, NORTH, problemOf, send, sign, signedIn, twoSites, WHEEL, withServer } from './support.ts';
import { BASE, INSPECTION, make, moment, registerOfWheel, submission } from './writing.ts';

withServer(async (context) => {
  await twoSites(context);
  await addPeople(context, [
    ['rey', ['reviewer']],
    ['ivo', ['inspector']],
  ]);
});

const GAUGE = thing(60);
const { cookie, stored } = signedIn('ada', 'rey', 'ivo');
const again = (of: string, body: Record<string, unknown>) => ({ of, v: 1, body, seenIn: null });
const reading = (id: string, valueMm: number) => ({
  ...depthBody(id, BASE, valueMm),
  instrument: GAUGE,
});

interface Answer {
  readonly readings: readonly Record<string, unknown>[];
  readonly calls: readonly Record<string, unknown>[];
  readonly suggestions: unknown;
  readonly more: boolean;
}
const ask = async (who: string, query = '') =>
  send('GET', `/api/v1/agreement?site=${NORTH}${query}`, { cookie: cookie(who) });
const answer = async (who: string, query = '') => (await (await ask(who, query)).json()) as Answer;

beforeAll(async () => {
  const register = [
    ...registerOfWheel(),
    make('ada', kinds.instrumentDescribed, GAUGE, {
      name: 'Depth gauge 3',
      kind: 'depth gauge',
      serial: '',
      resolutionMm: 0.01,
      certificateUMm: 0.02,
      calibratedOn: '2026-01-01',
      calibrationDue: '2027-01-01',
    }),
  ];
  const evidence = [
    make('ada', kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'yearly' }),
    make('ada', kinds.readingEntered, INSPECTION, reading(thing(61), 8.21)),
    make('ada', kinds.callMade, INSPECTION, { component: BASE, call: 'scrap', reason: 'worn' }),
  ];
  const submitted = submission(register, evidence);
  await stored('ada', ...register, ...evidence, submitted);
  await stored(
    'rey',
    make('rey', kinds.secondMeasured, INSPECTION, again('reading entered', reading(thing(62), 8.37))),
    make(
      'rey',
      kinds.secondMeasured,
      INSPECTION,
      again('call made', { component: BASE, call: 'scrap', reason: '' }),
    ),
    make('rey', kinds.secondHandedIn, INSPECTION, { submission: submitted.id, notReadable: [] }),
  );
  expect(await answer('ada')).toMatchObject({ readings: [], calls: [] });
  const { verdict } = submitted.body as { verdict: { parts: { component: string; result: 'scrap' }[] } };
  const result = must(verdict.parts[0], 'a part').result;
  expect(
    await sign(
      cookie('rey'),
      make('rey', kinds.reviewConcluded, INSPECTION, {
        submission: submitted.id,
        outcome: 'agreed',
        reason: '',
        calls: [{ component: BASE, call: result, reason: '', limit: '' }],
        signed: 'password entered again',
      }),
    ),
  ).toMatchObject({ status: 'stored' });
});

describe('how well people agree, over the wire', () => {
  it('is told to leads and reviewers of the site, to no inspector', async () => {
    expect((await ask('ada')).status).toBe(200);
    expect((await ask('rey')).status).toBe(200);
    expect(await problemOf(await ask('ivo'))).toMatchObject({ status: 403, code: 'agreement-role' });
  });

  it('has the pairs of a concluded inspection, with the uncertainty of their instrument', async () => {
    const { readings, calls, more } = await answer('rey');
    const uMm = Math.hypot(0.01 / Math.sqrt(12), 0.02);
    expect(readings).toEqual([
      {
        inspection: INSPECTION,
        at: expect.stringContaining('2026-05-04'),
        component: BASE,
        inspector: 'ada',
        reviewer: 'rey',
        blind: true,
        characteristic: 'gutter depth',
        clock: 3,
        state: null,
        first: { valueMm: 8.21, uMm: expect.closeTo(uMm, 9), instrument: GAUGE },
        second: { valueMm: 8.37, uMm: expect.closeTo(uMm, 9), instrument: GAUGE },
      },
    ]);
    expect(calls).toMatchObject([{ slot: 'rim base', first: 'scrap', second: 'scrap' }]);
    expect(more).toBe(false);
  });

  it('says that no suggestion is on record', async () => {
    expect((await answer('ada')).suggestions).toEqual({ offered: 0, accepted: 0 });
  });

  it('keeps to a period, both days included, and says when pairs are left out', async () => {
    const day = moment().slice(0, 10);
    expect((await answer('ada', `&from=${day}&to=${day}`)).readings).toHaveLength(1);
    expect((await answer('ada', '&to=2026-05-03')).readings).toHaveLength(0);
    expect((await answer('ada', '&from=2026-05-05')).readings).toHaveLength(0);
    expect(await answer('ada', '&limit=1')).toMatchObject({ readings: [{}], calls: [], more: true });
    expect((await ask('ada', '&from=yesterday')).status).toBe(400);
  });

  it('is the same after the lists are made again from the entries', async () => {
    const before = await answer('ada');
    rebuildProjections((await serverContext()).store, projectRecord);
    expect(await answer('ada')).toEqual(before);
  });

  it('leaves the pairs out while late evidence keeps the inspection open', async () => {
    await stored(
      'ada',
      make('ada', kinds.readingEntered, INSPECTION, { ...reading(thing(63), 8), clock: 6 }),
    );
    expect(await answer('ada')).toMatchObject({ readings: [], calls: [] });
  });
});

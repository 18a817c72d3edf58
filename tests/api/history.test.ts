import { describe, expect, it } from 'vitest';
import { serverContext } from '../../app/_server/context.ts';
import { projectRecord } from '../../app/_server/project.ts';
import { must } from '../../lib/base/index.ts';
import { kinds } from '../../lib/record/index.ts';
import { rebuildProjections } from '../../lib/store/server/index.ts';
import { depthBody, thing } from '../support/entries.ts';
import {
  addPeople,
  append,
  NORTH,
  problemOf,
  send,
  sign,
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
    ['ivo', ['inspector']],
  ]);
});

const { cookie, stored } = signedIn('ada', 'rey', 'ivo', 'sol');
const ask = async (what: 'wear' | 'where', who: string, query = '') =>
  (await send('GET', `/api/v1/${what}?site=${NORTH}${query}`, { cookie: cookie(who) })).json();

describe('wear and where it happens, over the wire', () => {
  const register = registerOfWheel();
  const evidence = [
    make('ada', kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'yearly' }),
    make('ada', kinds.readingEntered, INSPECTION, depthBody(thing(61), BASE, 8.21)),
    make('ada', kinds.readingEntered, INSPECTION, { ...depthBody(thing(62), BASE, 9.5), clock: 9 }),
    make('ada', kinds.zoneLookedAt, INSPECTION, {
      component: BASE,
      zone: 'gutter weld',
      result: 'defect recorded',
      note: '',
    }),
    make('ada', kinds.defectNoted, INSPECTION, {
      defectId: thing(63),
      component: BASE,
      zone: 'gutter weld',
      clock: 5,
      defect: 'crack',
      method: 'visual',
      note: '',
    }),
  ];
  const submitted = submission(register, evidence);

  it('says nothing of an inspection that is still being made', async () => {
    await stored('ada', ...register, ...evidence);
    expect(await ask('wear', 'ivo')).toEqual({ inspections: [], next: null, withheld: 0 });
    expect(await ask('where', 'ivo')).toEqual({ visits: [], next: null });
  });

  it('has the governing value once it is submitted, but not for a reviewer who has yet to measure', async () => {
    await stored('ada', submitted);
    expect(await ask('wear', 'ivo')).toMatchObject({
      inspections: [
        {
          inspection: INSPECTION,
          settled: false,
          measured: [
            {
              component: BASE,
              characteristic: 'gutter depth',
              valueMm: 8.21,
              clock: 3,
              clocks: [3, 9],
              readings: 2,
            },
          ],
        },
      ],
      withheld: 0,
    });
    expect(await ask('wear', 'rey')).toEqual({ inspections: [], next: null, withheld: 1 });
    expect(await ask('where', 'ivo')).toEqual({ visits: [], next: null });
  });

  it('has where things were found once it is concluded, with where the wheel stood then', async () => {
    const again = (of: string, body: Record<string, unknown>) => ({ of, v: 1, body, seenIn: null });
    const read = (id: number, valueMm: number, clock: number) =>
      again('reading entered', { ...depthBody(thing(id), BASE, valueMm), clock });
    await stored(
      'rey',
      make('rey', kinds.secondMeasured, INSPECTION, read(64, 8.2, 3)),
      make('rey', kinds.secondMeasured, INSPECTION, read(65, 9.4, 9)),
      make(
        'rey',
        kinds.secondMeasured,
        INSPECTION,
        again('call made', { component: BASE, call: 'scrap', reason: '' }),
      ),
      make('rey', kinds.secondHandedIn, INSPECTION, { submission: submitted.id, notReadable: [] }),
    );
    const { verdict } = submitted.body as { verdict: { parts: { result: 'scrap' }[] } };
    expect(
      await sign(
        cookie('rey'),
        make('rey', kinds.reviewConcluded, INSPECTION, {
          submission: submitted.id,
          outcome: 'agreed',
          reason: '',
          calls: [{ component: BASE, call: must(verdict.parts[0], 'a part').result, reason: '', limit: '' }],
          signed: 'password entered again',
        }),
      ),
    ).toMatchObject({ status: 'stored' });
    const moved = { ...must(register[1], 'the wheel').body, machine: 'WL-09', position: 'rear left' };
    await stored('ada', make('ada', kinds.wheelDescribed, WHEEL, moved as never));
    const where = await ask('where', 'ivo');
    expect(where).toMatchObject({
      visits: [{ inspection: INSPECTION, construction: 'three-piece', machine: '', position: '' }],
    });
    expect(where.visits[0].parts[0]).toMatchObject({ slot: 'rim base', zones: ['gutter weld'] });
    expect(where.visits[0].finds).toContainEqual({
      slot: 'rim base',
      zone: 'gutter weld',
      clock: 5,
      what: 'crack',
    });
    expect(where.visits[0].finds).toContainEqual({
      slot: 'rim base',
      zone: 'gutter groove',
      clock: 3,
      what: 'beyond a limit',
    });
    expect((await ask('wear', 'rey')).inspections).toHaveLength(1);
  });

  it('is told to members of the site alone, and is the same after a rebuild', async () => {
    for (const what of ['wear', 'where'] as const) {
      const refused = await send('GET', `/api/v1/${what}?site=${NORTH}`, { cookie: cookie('sol') });
      expect(await problemOf(refused)).toMatchObject({ status: 404 });
      const before = await ask(what, 'ivo');
      rebuildProjections((await serverContext()).store, projectRecord);
      expect(await ask(what, 'ivo')).toEqual(before);
      expect(await ask(what, 'ivo', `&after=${INSPECTION}`)).toMatchObject({ next: null });
    }
  });
});

describe('the interval between inspections', () => {
  it('is set by a lead alone', async () => {
    const policy = { everyMonths: 6, everyHours: null };
    const [outcome] = await append(cookie('ivo'), [make('ivo', kinds.inspectionPolicySet, NORTH, policy)]);
    expect(outcome).toMatchObject({ status: 'refused', problem: { code: 'entry-role' } });
    await stored('ada', make('ada', kinds.inspectionPolicySet, NORTH, policy));
  });
});

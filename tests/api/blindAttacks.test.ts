import { describe, expect, it } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { type Entry, kinds } from '../../lib/record/index.ts';
import { depthBody, thing } from '../support/entries.ts';
import { addPeople, append, NORTH, send, sign, signedIn, twoSites, WHEEL, withServer } from './support.ts';
import { BASE, INSPECTION, make, registerOfWheel, submission } from './writing.ts';

withServer(async (context) => {
  await twoSites(context);
  await addPeople(context, [
    ['rey', ['reviewer']],
    ['ria', ['reviewer']],
    ['rix', ['reviewer', 'inspector']],
  ]);
});

const { cookie, stored } = signedIn('ada', 'rey', 'ria', 'rix');
const outcome = async (who: string, entry: Entry) => (await append(cookie(who), [entry]))[0];

const register: Entry[] = [];
const evidence: Entry[] = [];
const own = (of: string, body: Record<string, unknown>) => ({ of, v: 1, body, seenIn: null });
const calling = (who: string, call: string) =>
  make(who, kinds.secondMeasured, INSPECTION, own('call made', { component: BASE, call, reason: '' }));
const handIn = (who: string, of: string, notReadable = [thing(80)]) =>
  make(who, kinds.secondHandedIn, INSPECTION, { submission: of, notReadable });
const conclude = (who: string, of: string, outcome: 'agreed' | 'overruled', call: 'keep' | 'scrap') =>
  make(who, kinds.reviewConcluded, INSPECTION, {
    submission: of,
    outcome,
    reason: 'seen otherwise',
    calls: [{ component: BASE, call, reason: 'seen otherwise', limit: 'manual' }],
    signed: 'password entered again',
  });
let submitted = '';

describe('ways round the blind rule that were tried', () => {
  it('begins with an inspection that is scrap', async () => {
    register.push(...registerOfWheel());
    evidence.push(
      make('ada', kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'yearly' }),
      make('ada', kinds.readingEntered, INSPECTION, depthBody(thing(80), BASE, 8.2)),
    );
    await stored('ada', ...register, ...evidence);
  });

  it('an entry of a second measurement that this server cannot read is refused, so that it holds nothing up', async () => {
    const newer = { ...calling('rey', 'keep'), v: 99 };
    expect(await outcome('rey', newer)).toMatchObject({ problem: { code: 'entry-newer' } });
    const question = {
      ...make('rey', kinds.questionAsked, INSPECTION, {
        question: thing(95),
        pin: { on: 'inspection' },
        wants: 'an answer',
        text: 'x',
      }),
      v: 99,
    };
    expect(await outcome('rey', question)).toMatchObject({ problem: { code: 'entry-newer' } });
    const sent = submission(register, evidence);
    submitted = sent.id;
    await stored('ada', sent);
  });

  it('an older inspection of a long book, of which only the line is sent, tells no result', async () => {
    const later = thing(79);
    await stored('ada', make('ada', kinds.inspectionOpened, later, { wheel: WHEEL, reason: 'again' }));
    for (let n = 0; n < 70; n += 1) {
      const filler = { ...make('ada', kinds.noteWritten, later, { text: 'x' }), kind: 'measured by ear' };
      await stored('ada', { ...filler, body: { text: 'x'.repeat(60_000) } });
    }
    const response = await send('GET', `/api/v1/wheels/${WHEEL}/book?site=${NORTH}`, {
      cookie: cookie('rey'),
    });
    const { inspections } = (await response.json()) as {
      inspections: { id: string; line: unknown; entries: unknown[] }[];
    };
    const one = must(
      inspections.find(({ id }) => id === INSPECTION),
      'the inspection',
    );
    expect(one.entries).toEqual([]);
    expect(JSON.stringify(one.line)).not.toContain('scrap');
    const lead = await send('GET', `/api/v1/wheels/${WHEEL}/book?site=${NORTH}`, { cookie: cookie('ada') });
    expect(await lead.text()).toContain('"result":"scrap"');
  });

  it('whoever wrote about the part while it was inspected does not review, however it is dated', async () => {
    const hours = make('rix', kinds.dutyHoursNoted, BASE, {
      hours: 10,
      giveOrTakeHours: 1,
      basis: 'estimate',
      on: '2026-05-01',
    });
    const before = { ...hours, at: '2026-05-02T08:00:00.000Z' };
    await stored('rix', before);
    expect(await outcome('rix', calling('rix', 'scrap'))).toMatchObject({
      problem: { code: 'review-own-work' },
    });
  });

  it('looking early is for inspections that are there, and for those from whom something is kept', async () => {
    const nowhere = make('ria', kinds.figuresLookedAt, thing(78), { reason: 'x' });
    expect(await outcome('ria', nowhere)).toMatchObject({ problem: { code: 'second-unknown' } });
    await stored('rey', calling('rey', 'scrap'), handIn('rey', submitted));
    const late = make('rey', kinds.figuresLookedAt, INSPECTION, { reason: 'x' });
    expect(await outcome('rey', late)).toMatchObject({ problem: { code: 'second-seen' } });
  });

  it('a signature is not dated before the ones it follows', async () => {
    const early = { ...conclude('rey', submitted, 'agreed', 'scrap'), at: '2026-05-04T07:00:00.000Z' };
    expect(await sign(cookie('rey'), early)).toMatchObject({ problem: { code: 'signature-order' } });
    const handedInEarly = { ...handIn('ria', submitted), at: '2020-01-01T00:00:00.000Z' };
    await stored('ria', calling('ria', 'scrap'));
    expect(await outcome('ria', handedInEarly)).toMatchObject({ problem: { code: 'signature-order' } });
  });

  it('a part called twice settles nothing', async () => {
    const twice = conclude('rey', submitted, 'overruled', 'scrap');
    const calls = [
      { component: BASE, call: 'scrap', reason: '', limit: '' },
      { component: BASE, call: 'keep', reason: '', limit: '' },
    ];
    expect(await sign(cookie('rey'), { ...twice, body: { ...twice.body, calls } })).toMatchObject({
      problem: { code: 'review-call-twice' },
    });
  });

  it('nobody measures after the conclusion, with both results in sight', async () => {
    expect(await sign(cookie('rey'), conclude('rey', submitted, 'agreed', 'scrap'))).toMatchObject({
      status: 'stored',
    });
    expect(await outcome('ria', handIn('ria', submitted))).toMatchObject({
      problem: { code: 'second-concluded' },
    });
    const question = make('ria', kinds.questionAsked, INSPECTION, {
      question: thing(96),
      pin: { on: 'inspection' },
      wants: 'an answer',
      text: 'What was it?',
    });
    expect(await outcome('ria', question)).toMatchObject({ problem: { code: 'question-not-now' } });
  });
});

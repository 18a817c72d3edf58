import { describe, expect, it } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { type Entry, kinds } from '../../lib/record/index.ts';
import { addPhoto } from '../../lib/store/server/index.ts';
import { depthBody, thing } from '../support/entries.ts';
import {
  addPeople,
  append,
  NORTH,
  PASSWORD,
  send,
  sign,
  signedIn,
  twoSites,
  WHEEL,
  withServer,
} from './support.ts';
import { BASE, INSPECTION, make, registerOfWheel, submission } from './writing.ts';

const photo = 'ab'.repeat(32);

withServer(async (context) => {
  await twoSites(context);
  await addPeople(context, [
    ['rey', ['reviewer']],
    ['ria', ['reviewer', 'lead']],
    ['ivo', ['inspector']],
  ]);
  // The photo has arrived; its bytes do not matter here.
  addPhoto(context.store, {
    site: NORTH,
    sha256: photo,
    bytes: 1000,
    name: 'one.jpg',
    facts: '{}',
    addedBy: 'ada',
    addedAt: context.now(),
  });
});

const { cookie, stored } = signedIn('ada', 'rey', 'ria', 'ivo');

/** Numbers and words that stand nowhere but in what the inspector measured and called. */
const TYPED = '8.2137';
const MARK_AT = 1234.5678;
const CALL_WORDS = 'lip chewed up all round';
const NOTE_WORDS = 'reads eight and a bit';
const SECOND_TYPED = '8.3141';
const SECOND_WORDS = 'worn past saving';

const register: Entry[] = [];
const evidence: Entry[] = [];

/** Every address from which something of an inspection can be had. */
const ADDRESSES = [
  `/api/v1/entries?site=${NORTH}&limit=1000`,
  `/api/v1/entries?site=${NORTH}&limit=1000&subjects=inspection`,
  `/api/v1/subjects/inspection/${INSPECTION}/entries?site=${NORTH}`,
  `/api/v1/wheels/${WHEEL}/book?site=${NORTH}`,
  `/api/v1/evidence?site=${NORTH}`,
  `/api/v1/queue?site=${NORTH}`,
  `/api/v1/queue?site=${NORTH}&status=submitted`,
];

/** All that a person can read of the site, as it comes over the wire. */
async function wire(who: string): Promise<string> {
  const texts: string[] = [];
  for (const address of ADDRESSES) {
    const response = await send('GET', address, { cookie: cookie(who) });
    expect(response.status).toBe(200);
    texts.push(await response.text());
  }
  return texts.join('\n');
}

const FIRST = [TYPED, String(MARK_AT), CALL_WORDS, NOTE_WORDS, '"scrap"', '"verdict"'];
const SECOND = [SECOND_TYPED, SECOND_WORDS];
const found = (text: string, words: readonly string[]) => words.filter((word) => text.includes(word));

const own = (of: string, v: number, body: Record<string, unknown>) => ({ of, v, body, seenIn: photo });
const secondReading = (reading: string) =>
  own('reading entered', 1, { ...depthBody(reading, BASE, 8.3141), typed: SECOND_TYPED });
const secondCall = own('call made', 1, { component: BASE, call: 'scrap', reason: SECOND_WORDS });
const handIn = (who: string, submitted: string) =>
  make(who, kinds.secondHandedIn, INSPECTION, { submission: submitted, notReadable: [] });

let submitted = '';

describe('the blind rule on the wire', () => {
  it('an inspection is taken and submitted', async () => {
    register.push(...registerOfWheel());
    await stored('ada', ...register);
    evidence.push(
      make('ada', kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'yearly' }),
      make('ada', kinds.photoAttached, INSPECTION, {
        photo,
        name: 'one.jpg',
        bytes: 1000,
        widthPx: 4000,
        heightPx: 3000,
        component: BASE,
        zone: 'gutter groove',
        clock: 3,
      }),
      make('ada', kinds.readingEntered, INSPECTION, {
        ...depthBody(thing(80), BASE, 8.2137),
        typed: TYPED,
      }),
      make('ada', kinds.markDrawn, INSPECTION, {
        mark: thing(81),
        photo,
        shape: { form: 'spot', at: [MARK_AT, 10] },
        defect: 'crack',
        component: BASE,
        zone: 'gutter groove',
        clock: 3,
        method: 'visual',
        note: '',
      }),
      make('ada', kinds.callMade, INSPECTION, { component: BASE, call: 'scrap', reason: CALL_WORDS }),
    );
    await stored('ada', ...evidence);
    await stored('ada', make('ada', kinds.noteWritten, INSPECTION, { text: NOTE_WORDS }));
    // Nobody who may review sees a figure while the inspection is still being taken, either.
    expect(found(await wire('rey'), FIRST)).toEqual([]);
    const sent = submission(register, evidence);
    submitted = sent.id;
    await stored('ada', sent);
  });

  it('before measuring no response holds a value, mark or call of the inspector', async () => {
    for (const who of ['rey', 'ria']) expect(found(await wire(who), FIRST)).toEqual([]);
    // The same addresses do hold them for somebody who does not review, so the words above can be found.
    expect(found(await wire('ivo'), FIRST)).toEqual(FIRST);
  });

  it('says instead what there is to measure, with the photo and the instruments, and where the gauge was put', async () => {
    const address = `/api/v1/subjects/inspection/${INSPECTION}/entries?site=${NORTH}`;
    const answer = (await (await send('GET', address, { cookie: cookie('rey') })).json()) as {
      entries: Entry[];
      withheld: Record<string, unknown>;
    };
    expect(answer.entries.map((one) => one.kind)).toEqual(['inspection opened', 'photo attached']);
    expect(answer.withheld).toMatchObject({
      why: 'measure first',
      status: 'submitted',
      submission: { entry: submitted, author: 'ada' },
      parts: [{ slot: 'rim base', component: BASE }, { component: null }, { component: null }],
      readings: [{ reading: thing(80), characteristic: 'gutter depth', clock: 3, instrument: null }],
    });
  });

  it('refuses to hand in what is not measured, and tells nothing by the way', async () => {
    const outcomes = await append(cookie('rey'), [handIn('rey', submitted)]);
    expect(outcomes[0]).toMatchObject({ problem: { code: 'second-call-missing', value: 'rim base' } });
    const agreed = make('rey', kinds.reviewConcluded, INSPECTION, {
      submission: submitted,
      outcome: 'agreed',
      reason: '',
      calls: [{ component: BASE, call: 'keep', reason: '', limit: '' }],
      signed: 'password entered again',
    });
    const refused = await sign(cookie('rey'), agreed);
    expect(refused).toMatchObject({ problem: { code: 'review-not-measured' } });
    expect(found(JSON.stringify([outcomes, refused]), FIRST)).toEqual([]);
  });

  it('one reviewer hands in; the other, and the inspector, see nothing of it', async () => {
    await stored(
      'rey',
      make('rey', kinds.secondMeasured, INSPECTION, secondReading(thing(90))),
      make('rey', kinds.secondMeasured, INSPECTION, secondCall),
    );
    // Measuring alone opens nothing.
    expect(found(await wire('rey'), FIRST.slice(0, 4))).toEqual([]);
    await stored('rey', handIn('rey', submitted));
    expect(found(await wire('rey'), FIRST)).toEqual(FIRST);
    expect(found(await wire('ria'), [...FIRST.slice(0, 4), ...SECOND])).toEqual([]);
    expect(found(await wire('ada'), SECOND)).toEqual([]);
    expect(found(await wire('ivo'), SECOND)).toEqual([]);
  });

  it('what is handed in stands as it is', async () => {
    const [outcome] = await append(cookie('rey'), [
      make('rey', kinds.secondMeasured, INSPECTION, secondReading(thing(91))),
    ]);
    expect(outcome).toMatchObject({ problem: { code: 'second-handed-in' } });
  });

  it('the inspector cannot write a second measurement of their own work', async () => {
    const [outcome] = await append(cookie('ada'), [
      make('ada', kinds.secondMeasured, INSPECTION, secondCall),
    ]);
    expect(outcome).toMatchObject({ problem: { code: 'entry-role' } });
  });

  it('looking early opens the figures, and stands in the record for good', async () => {
    await stored('ria', make('ria', kinds.figuresLookedAt, INSPECTION, { reason: 'photos are blurred' }));
    expect(found(await wire('ria'), FIRST)).toEqual(FIRST);
    const log = await (await send('GET', must(ADDRESSES[1], 'log'), { cookie: cookie('ada') })).text();
    expect(log).toContain('photos are blurred');
  });

  it('a wrong password signs nothing, and the right one does', async () => {
    const agreed = make('rey', kinds.reviewConcluded, INSPECTION, {
      submission: submitted,
      outcome: 'agreed',
      reason: '',
      calls: [{ component: BASE, call: 'scrap', reason: '', limit: '' }],
      signed: 'password entered again',
    });
    const wrong = await send('POST', '/api/v1/signatures', {
      cookie: cookie('rey'),
      json: { password: `${PASSWORD}!`, entry: agreed },
    });
    expect(wrong.status).toBe(403);
    expect(await append(cookie('rey'), [agreed])).toMatchObject([{ problem: { code: 'review-password' } }]);
    // Sent twice after a lost answer: the second time it is there already.
    expect(await sign(cookie('rey'), agreed)).toMatchObject({ status: 'stored' });
    expect(await sign(cookie('rey'), agreed)).toMatchObject({ status: 'already stored' });
    const record = await wire('ada');
    expect(record).not.toContain(PASSWORD);
  });

  it('after the conclusion everybody sees both measurements', async () => {
    for (const who of ['ada', 'ivo', 'ria', 'rey'])
      expect(found(await wire(who), [...FIRST, ...SECOND])).toEqual([...FIRST, ...SECOND]);
  });
});

describe('second measurements that cannot be read', () => {
  const rows: [name: string, body: Record<string, unknown>, field: string][] = [
    ['a kind that is not measured', own('inspection submitted', 1, { covers: [], verdict: {} }), 'body.of'],
    ['a body that does not fit its kind', own('call made', 1, { component: BASE }), 'body.body.call'],
    ['a version not known', own('call made', 9, { component: BASE, call: 'keep', reason: '' }), 'body.v'],
  ];
  it.each(rows)('%s is refused with its field', async (_name, body, field) => {
    const template = make('ria', kinds.secondMeasured, INSPECTION, secondCall);
    expect((await append(cookie('ria'), [{ ...template, body }]))[0]).toMatchObject({
      status: 'refused',
      problem: { code: 'entry-body', field },
    });
  });
});

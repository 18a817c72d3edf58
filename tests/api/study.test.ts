import { beforeAll, describe, expect, it } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { type Entry, kinds, type StudyPlan } from '../../lib/record/index.ts';
import type { Role } from '../../lib/store/server/index.ts';
import { thing } from '../support/entries.ts';
import { addPeople, append, NORTH, send, signIn, twoSites, withServer } from './support.ts';
import { make, moment } from './writing.ts';

const PEOPLE: ReadonlyArray<readonly [string, readonly Role[]]> = [
  ['rey', ['reviewer']],
  ['lin', ['lead']],
  ['ina', ['inspector']],
  ['max', ['inspector']],
];

withServer(async (context) => {
  await twoSites(context);
  await addPeople(context, PEOPLE);
});

const STUDY = thing(80);
const GAUGE = thing(81);
const PARTS = [thing(82), thing(83)];
const cookies = new Map<string, string>();

beforeAll(async () => {
  for (const who of ['ada', ...PEOPLE.map(([id]) => id)])
    cookies.set(who, await signIn(`${who}@rims.example`));
  const gauge = make('ada', kinds.instrumentDescribed, GAUGE, {
    name: 'Depth gauge 3',
    kind: 'depth gauge',
    serial: '',
    resolutionMm: 0.05,
    certificateUMm: null,
    calibratedOn: null,
    calibrationDue: null,
  });
  expect(await outcome(gauge)).toBe('stored');
});

async function outcome(entry: Entry): Promise<string> {
  const [one] = await append(must(cookies.get(entry.author), entry.author), [entry]);
  return one?.problem === undefined ? (one?.status ?? '') : `${one.problem.code}, ${one.problem.field}`;
}

const plan = (over: Partial<StudyPlan> = {}): StudyPlan => ({
  name: 'Depth gauge 3',
  characteristic: 'gutter depth',
  state: null,
  instrument: GAUGE,
  parts: PARTS.map((part, i) => ({ part, label: `P${i + 1}` })),
  people: ['ina', 'rey', 'ada'],
  trials: 2,
  tolerance: { typed: '1/8 in', defaultUnit: 'mm', valueMm: 3.175 },
  seed: 11,
  ...over,
});
const opening = (author: string, over: Partial<StudyPlan> = {}, study = STUDY) =>
  make(author, kinds.studyOpened, study, plan(over));

let readings = 100;
function reading(author: string, typed: string, over: object = {}, study = STUDY): Entry {
  readings += 1;
  return make(author, kinds.studyReadingEntered, study, {
    reading: thing(readings),
    part: must(PARTS[0], 'a part'),
    trial: 1,
    typed,
    defaultUnit: 'mm',
    valueMm: Number(typed),
    confirmed: false,
    overlap: false,
    ...over,
  });
}
const withdrawal = (author: string, of: Entry) =>
  make(author, kinds.studyReadingWithdrawn, STUDY, { reading: String(of.body.reading), reason: 'slip' });

/** Both ways in which a device gets entries of a study, as one text. */
async function told(who: string): Promise<string> {
  const cookie = must(cookies.get(who), who);
  const answers = await Promise.all(
    [
      `/api/v1/entries?site=${NORTH}`,
      `/api/v1/entries?site=${NORTH}&subjects=study`,
      `/api/v1/subjects/study/${STUDY}/entries?site=${NORTH}`,
    ].map(async (path) => (await send('GET', path, { cookie })).text()),
  );
  return answers.join('\n');
}

describe('a gauge study on the server', () => {
  it('is opened by a lead only, once', async () => {
    expect(await outcome(opening('ina'))).toBe('entry-role, kind');
    expect(await outcome(opening('rey'))).toBe('entry-role, kind');
    expect(await outcome(opening('lin'))).toBe('stored');
    expect(await outcome(opening('ada'))).toBe('study-again, subject.id');
  });

  it.each([
    ['marks on photos', { characteristic: 'crack length' }, 'study-characteristic, body.characteristic'],
    ['a state where there is none', { state: 'free' }, 'study-state, body.state'],
    ['no state where one is needed', { characteristic: 'lock-ring gap' }, 'study-state, body.state'],
    ['an unknown instrument', { instrument: thing(99) }, 'study-instrument, body.instrument'],
    ['a person of another site', { people: ['ina', 'sol'] }, 'study-person, body.people'],
    [
      'a tolerance that was not typed',
      { tolerance: { typed: '1/8 in', defaultUnit: 'mm', valueMm: 3 } },
      'study-tolerance, body.tolerance.valueMm',
    ],
  ] as [string, Partial<StudyPlan>, string][])('is not opened with %s', async (_, over, refused) => {
    expect(await outcome(opening('lin', over, thing(89)))).toBe(refused);
  });

  it('takes no readings before it is opened', async () => {
    expect(await outcome(reading('ina', '10.1', {}, thing(88)))).toBe('study-unknown, subject.id');
  });

  it('takes readings of the people named, at places it knows, that say what was typed', async () => {
    expect(await outcome(reading('max', '10.1'))).toBe('study-person, author');
    expect(await outcome(reading('lin', '10.1'))).toBe('study-person, author');
    expect(await outcome(reading('ina', '10.1', { part: thing(99) }))).toBe('study-place, body.part');
    expect(await outcome(reading('ina', '10.1', { trial: 3 }))).toBe('study-place, body.part');
    expect(await outcome(reading('ina', '10.1', { valueMm: 10.2 }))).toBe(
      'study-reading-value, body.valueMm',
    );
    expect(await outcome(reading('ina', 'ten', { valueMm: 10 }))).toBe('length-unit, body.typed');
    expect(await outcome(reading('ina', '101'))).toBe('study-reading-unconfirmed, body.confirmed');
    expect(await outcome(reading('ina', '10.1'))).toBe('stored');
    expect(await outcome(reading('rey', '10.3'))).toBe('stored');
    expect(await outcome(reading('ada', '10.5'))).toBe('stored');
  });

  it('is corrected only by withdrawing and entering again', async () => {
    const wrong = reading('ina', '10.17', { trial: 2 });
    expect(await outcome(wrong)).toBe('stored');
    expect(await outcome(reading('ina', '10.19', { trial: 2 }))).toBe('study-reading-again, body.trial');
    expect(await outcome(withdrawal('rey', wrong))).toBe('study-reading-unknown, body.reading');
    expect(await outcome(withdrawal('ina', wrong))).toBe('stored');
    expect(await outcome(withdrawal('ina', wrong))).toBe('study-reading-unknown, body.reading');
    expect(await outcome(reading('ina', '10.19', { trial: 2, reading: wrong.body.reading }))).toBe(
      'study-reading-again, body.reading',
    );
    expect(await outcome(reading('ina', '10.19', { trial: 2 }))).toBe('stored');
  });

  it('does not take what this server cannot read', async () => {
    expect(await outcome({ ...reading('rey', '10.2', { trial: 2 }), v: 2 })).toBe('entry-newer, v');
  });
});

describe('an open gauge study on the wire', () => {
  const all = ['10.1', '10.17', '10.19', '10.3', '10.5'].map((typed) => `"typed":"${typed}"`);

  it.each([
    ['ina', ['10.1', '10.17', '10.19']],
    ['rey', ['10.3']],
    // A lead who measures is a person who measures.
    ['ada', ['10.5']],
    ['max', []],
    ['lin', ['10.1', '10.17', '10.19', '10.3', '10.5']],
  ])('tells %s their own readings only, a lead who does not measure all', async (who, own) => {
    const text = await told(who);
    expect(text).toContain('"kind":"study opened"');
    for (const typed of all) {
      expect(text.includes(typed), `${typed} told to ${who}`).toBe(
        own.some((one) => typed === `"typed":"${one}"`),
      );
    }
  });

  it('lets a page of the log go on behind what is held back', async () => {
    const cookie = must(cookies.get('max'), 'max');
    let after = 0;
    const seen: string[] = [];
    for (let more = true; more; ) {
      const response = await send(
        'GET',
        `/api/v1/entries?site=${NORTH}&subjects=study&limit=1&after=${after}`,
        {
          cookie,
        },
      );
      const page = (await response.json()) as { entries: Entry[]; next: number; more: boolean };
      expect(page.next).toBeGreaterThan(after);
      seen.push(...page.entries.map((one) => one.kind));
      ({ next: after, more } = page);
    }
    expect(seen).toEqual(['study opened']);
  });

  it('is closed by a lead, takes nothing more, and is then told to everybody', async () => {
    const close = (author: string) => make(author, kinds.studyClosed, STUDY, { reason: `at ${moment()}` });
    expect(await outcome(close('ina'))).toBe('entry-role, kind');
    expect(await outcome(close('lin'))).toBe('stored');
    expect(await outcome(close('ada'))).toBe('study-closed, subject.id');
    expect(await outcome(reading('rey', '10.2', { trial: 2 }))).toBe('study-closed, subject.id');
    for (const who of ['ina', 'rey', 'ada', 'max', 'lin']) {
      const text = await told(who);
      for (const typed of all) expect(text, who).toContain(typed);
    }
  });
});

import { beforeAll, describe, expect, it } from 'vitest';
import { type ServerContext, serverContext } from '../../app/_server/context.ts';
import { projectRecord } from '../../app/_server/project.ts';
import { canonicalJson, must } from '../../lib/base/index.ts';
import { type Entry, foldInspection, foldRegister, kinds } from '../../lib/record/index.ts';
import { evaluate, gatherEvidence, type Verdict } from '../../lib/rules/index.ts';
import { readQueue, readSubject, rebuildProjections } from '../../lib/store/server/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { depthBody, FITTING, STAMPS, thing } from '../support/entries.ts';
import { addPeople, append, NORTH, send, sign, signIn, twoSites, WHEEL, withServer } from './support.ts';
import { BASE, INSPECTION, make, moment, registerOfWheel, submission, TABLES } from './writing.ts';

let opened: ServerContext | undefined;
const context = () => must(opened, 'the server');
withServer(async (context) => {
  opened = context;
  await twoSites(context);
  await addPeople(context, [
    ['rey', ['reviewer']],
    ['max', ['reviewer', 'inspector']],
  ]);
});

const cookies = new Map<string, string>();
beforeAll(async () => {
  for (const who of ['ada', 'rey', 'max']) cookies.set(who, await signIn(`${who}@rims.example`));
});

const outcomes = (author: string, ...entries: Entry[]) => append(must(cookies.get(author), author), entries);
async function stored(author: string, ...entries: Entry[]): Promise<void> {
  for (const outcome of await outcomes(author, ...entries))
    expect(outcome).toMatchObject({ status: 'stored' });
}

const register: Entry[] = [];
const evidence: Entry[] = [];
const reading = (id: number, valueMm: number) => depthBody(thing(id), BASE, valueMm);

describe('what sums the record up has to follow from it', () => {
  it('takes the register and the evidence', async () => {
    register.push(...registerOfWheel());
    await stored('ada', ...register);
    evidence.push(
      make('ada', kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'yearly' }),
      make('ada', kinds.readingEntered, INSPECTION, reading(80, 8.2)),
    );
    await stored('ada', ...evidence);
  });

  it('refuses a reading whose value is not what was typed', async () => {
    const [outcome] = await outcomes(
      'ada',
      make('ada', kinds.readingEntered, INSPECTION, { ...reading(81, 8.2), valueMm: 14 }),
    );
    expect(outcome).toMatchObject({
      status: 'refused',
      problem: { code: 'reading-value', field: 'body.valueMm' },
    });
  });

  const keepAll = (verdict: Verdict): Verdict => ({
    ...verdict,
    parts: verdict.parts.map((part) => ({ ...part, result: 'keep' as const })),
  });
  const lies: [name: string, make: () => Entry, code: string][] = [
    ['a verdict that claims keep', () => submission(register, evidence, keepAll), 'submission-verdict'],
    [
      'a verdict under other tables',
      () => submission(register, evidence, (one) => ({ ...one, tables: [] })),
      'submission-verdict',
    ],
    [
      'evidence changed inside the verdict',
      () =>
        submission(register, evidence, (one) =>
          evaluate({ ...one.inputs, parts: [] }, tablesNamed(TABLES).tables),
        ),
      'submission-verdict',
    ],
    [
      'a submission that leaves the bad reading out',
      () => submission(register, evidence.slice(0, 1)),
      'submission-leaves-out',
    ],
    [
      'a submission that rests on entries nobody sent',
      () =>
        submission(register, [
          ...evidence,
          make('ada', kinds.gateAnswered, INSPECTION, {
            question: 'valve core out',
            answer: 'yes',
            by: 'x',
            doneAt: null,
          }),
        ]),
      'submission-incomplete',
    ],
    [
      'a verdict of another day',
      () => {
        const honest = submission(register, evidence);
        return { ...honest, at: moment(3_600_000) };
      },
      'submission-moment',
    ],
  ];
  it.each(lies)('refuses %s', async (_name, made, code) => {
    expect((await outcomes('ada', made()))[0]).toMatchObject({ status: 'refused', problem: { code } });
  });

  it('takes the honest one, and it is in the queue with its results', async () => {
    await stored('ada', submission(register, evidence));
    const { store } = await serverContext();
    const queue = readQueue(store, { site: NORTH, status: 'submitted', now: moment(), limit: 10 });
    expect(queue).toMatchObject({
      ok: true,
      value: {
        inspections: [
          {
            id: INSPECTION,
            tag: '4K7-P3F',
            body: { results: [{ slot: 'rim base', result: 'scrap' }, {}, {}] },
          },
        ],
      },
    });
  });
});

describe('the evidence of a fleet', () => {
  it('is what the last submission of every wheel rested on, for members of the site', async () => {
    const ask = (who: string, query = '') =>
      send('GET', `/api/v1/evidence?site=${NORTH}${query}`, { cookie: must(cookies.get(who), who) });
    const { wheels, next } = (await (await ask('ada')).json()) as {
      wheels: { wheel: string; inspection: string; evidence: Verdict['inputs'] }[];
      next: string | null;
    };
    expect(wheels.map((one) => [one.wheel, one.inspection])).toEqual([[WHEEL, INSPECTION]]);
    expect(wheels[0]?.evidence.parts[0]?.readings).toMatchObject([{ typed: '8.2', valueMm: 8.2 }]);
    expect(next).toBeNull();
    const after = (await (await ask('ada', `&after=${WHEEL}`)).json()) as { wheels: unknown[] };
    expect(after.wheels).toEqual([]);
    cookies.set('sol', await signIn('sol@rims.example'));
    expect((await ask('sol')).status).toBe(404);
  });
});

describe('what is recorded cannot be changed without a trace', () => {
  const OTHER = thing(72);
  const noted = (component: string) => ({
    defectId: thing(90),
    component,
    zone: 'gutter lip' as const,
    clock: null,
    defect: 'crack' as const,
    method: 'visual' as const,
    note: '',
  });

  it('not by entering a known reading or defect again, nor by a second beginning', async () => {
    await stored('ada', make('ada', kinds.defectNoted, INSPECTION, noted(BASE)));
    for (const entry of [
      make('max', kinds.readingEntered, INSPECTION, reading(80, 14)),
      make('max', kinds.defectNoted, INSPECTION, noted(OTHER)),
      make('max', kinds.inspectionOpened, INSPECTION, { wheel: thing(99), reason: 'other' }),
    ]) {
      expect((await outcomes('max', entry))[0]).toMatchObject({
        status: 'refused',
        problem: { code: 'entry-again' },
      });
    }
  });

  it('not by clearing an indication with a test that lies ahead', async () => {
    const test = make('ada', kinds.testRecorded, BASE, {
      method: 'magnetic particle',
      zones: ['gutter groove'],
      result: 'no indication',
      standard: 'ASTM E709',
      testedBy: 'level 2',
      on: '2099-01-01',
      surface: '',
      inspection: null,
      dutyHours: null,
    });
    expect((await outcomes('ada', test))[0]).toMatchObject({
      problem: { code: 'test-date', field: 'body.on' },
    });
  });

  it('not by putting another part in the slot: what was found on the first holds the wheel', async () => {
    const swap = [
      make('ada', kinds.componentDescribed, OTHER, {
        componentKind: 'rim base',
        maker: 'Quillmoor Rimworks',
        series: 'QX',
        stamp: '2',
        ...STAMPS,
      }),
      make('ada', kinds.componentFitted, OTHER, { wheel: WHEEL, slot: 'rim base', ...FITTING }),
    ];
    const state = foldInspection([...evidence, make('ada', kinds.defectNoted, INSPECTION, noted(BASE))]);
    const folded = foldRegister([...register, ...swap]);
    const inputs = gatherEvidence(state, must(folded.wheels.get(WHEEL), 'the wheel'), folded, moment());
    expect(inputs.elsewhere).toEqual([
      { component: BASE, what: 'defect' },
      { component: BASE, what: 'reading' },
    ]);
    const verdict = evaluate(inputs, tablesNamed(TABLES).tables);
    for (const part of verdict.parts) {
      expect(part.result).not.toBe('keep');
      expect(part.missing.map((one) => one.text).join()).toContain('not in the wheel now');
    }
    expect(verdict.parts[0]?.missing.map((one) => one.text).join()).toContain(
      '2 components are said to be the rim base',
    );
  });

  it('not by a version of a signature that this server cannot judge', async () => {
    const newer = {
      ...make('ada', kinds.inspectionSubmitted, INSPECTION, { covers: [thing(1)], verdict: {} }),
      v: 2,
    };
    expect((await outcomes('ada', newer))[0]).toMatchObject({ problem: { code: 'entry-newer' } });
  });
});

describe('reviewing', () => {
  const conclude = async (author: string, outcome: 'agreed' | 'overruled', call: 'scrap' | 'keep') => {
    const response = await send('GET', `/api/v1/subjects/inspection/${INSPECTION}/entries?site=${NORTH}`, {
      cookie: must(cookies.get('ada'), 'ada'),
    });
    const { entries } = (await response.json()) as { entries: Entry[] };
    const submitted = must(
      entries.filter((one) => one.kind === 'inspection submitted').at(-1),
      'a submission',
    );
    return sign(
      must(cookies.get(author), author),
      make(author, kinds.reviewConcluded, INSPECTION, {
        submission: submitted.id,
        outcome,
        reason: outcome === 'agreed' ? '' : 'seen otherwise',
        calls: [{ component: BASE, call, reason: 'lip broken', limit: 'manual, page 3' }],
        signed: 'password entered again',
      }),
    );
  };

  it('is not for somebody without the role, nor for somebody who took part', async () => {
    await stored(
      'max',
      make('max', kinds.gateAnswered, INSPECTION, {
        question: 'components clean',
        answer: 'yes',
        by: '',
        doneAt: null,
      }),
    );
    const response = await send('GET', `/api/v1/subjects/inspection/${INSPECTION}/entries?site=${NORTH}`, {
      cookie: must(cookies.get('ada'), 'ada'),
    });
    const { entries } = (await response.json()) as { entries: Entry[] };
    await stored('ada', submission(register, entries));
    expect(await conclude('ada', 'agreed', 'scrap')).toMatchObject({ problem: { code: 'entry-role' } });
    expect(await conclude('max', 'agreed', 'scrap')).toMatchObject({
      problem: { code: 'review-own-work' },
    });
  });

  /** Rey measures the last submission again and hands that in. */
  const measure = async (call: 'scrap' | 'repair') => {
    const state = foldInspection(evidenceNow());
    const own = (body: Record<string, unknown>) => ({ of: 'call made', v: 1, body, seenIn: null });
    const submitted = must(state.submission, 'a submission').entry;
    await stored(
      'rey',
      make('rey', kinds.secondMeasured, INSPECTION, own({ component: BASE, call, reason: '' })),
      make('rey', kinds.secondHandedIn, INSPECTION, {
        submission: submitted,
        notReadable: [...state.readings.keys()],
      }),
    );
  };
  const evidenceNow = () => readSubject(context().store, { site: NORTH, type: 'inspection', id: INSPECTION });

  it('is for those who measured, never makes a verdict milder, and takes one conclusion only', async () => {
    expect(await conclude('rey', 'agreed', 'scrap')).toMatchObject({
      problem: { code: 'review-not-measured' },
    });
    await measure('scrap');
    for (const outcome of ['agreed', 'overruled'] as const) {
      expect(await conclude('rey', outcome, 'keep')).toMatchObject({ problem: { code: 'review-milder' } });
    }
    expect(await conclude('rey', 'overruled', 'scrap')).toMatchObject({
      problem: { code: 'review-nothing-differs' },
    });
    expect(await conclude('rey', 'agreed', 'scrap')).toMatchObject({ status: 'stored' });
    expect(await conclude('rey', 'agreed', 'scrap')).toMatchObject({ problem: { code: 'review-concluded' } });
  });

  it('evidence that came after the submission reopens the inspection', async () => {
    await stored('ada', make('ada', kinds.readingEntered, INSPECTION, reading(85, 8.1)));
    const { store } = await serverContext();
    expect(readQueue(store, { site: NORTH, status: 'reopened', now: moment(), limit: 10 })).toMatchObject({
      ok: true,
      value: { inspections: [{ id: INSPECTION, body: { late: 1, outcome: 'agreed' } }] },
    });
  });

  it('lists rebuilt from the entries alone are the lists as they stand', async () => {
    const { store } = await serverContext();
    const before = canonicalJson(readQueue(store, { site: NORTH, now: moment(), limit: 200 }));
    expect(rebuildProjections(store, projectRecord)).toBeGreaterThan(3);
    expect(canonicalJson(readQueue(store, { site: NORTH, now: moment(), limit: 200 }))).toBe(before);
  });
});

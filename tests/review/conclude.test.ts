import { describe, expect, test } from 'vitest';
import { type Entry, foldInspection, kinds } from '../../lib/record/index.ts';
import {
  disagreementsOn,
  mayAppend,
  mayConclude,
  mayMeasure,
  mayReview,
  measuredBlind,
  type SiteRole,
  settledParts,
} from '../../lib/review/index.ts';
import { BASE, entry, INSPECTION, RING, WHEEL } from '../support/entries.ts';

const verdict = {
  parts: [
    { slot: 'rim base', component: BASE, result: 'repair' },
    { slot: 'lock ring', component: RING, result: 'keep' },
    { slot: 'side flange', component: null, result: 'hold' },
  ],
};
const opened = entry(kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'yearly' });
const submitted = entry(kinds.inspectionSubmitted, INSPECTION, { covers: [opened.id], verdict });
const calls = (base: 'keep' | 'repair' | 'scrap', ring: 'keep' | 'scrap') => [
  { component: BASE, call: base, reason: 'lip broken', limit: 'demonstration table, row 4' },
  { component: RING, call: ring, reason: '', limit: '' },
];
type Outcome = 'agreed' | 'sent back' | 'overruled' | 'handed on';
const conclusion = (outcome: Outcome, own: ReturnType<typeof calls>, submission = submitted.id) => ({
  submission,
  outcome,
  reason: outcome === 'agreed' ? '' : 'measured again',
  calls: own,
  signed: 'password entered again' as const,
});
const measured = (reviewer: string, component: string, call: 'keep' | 'repair' | 'scrap') =>
  entry(
    kinds.secondMeasured,
    INSPECTION,
    { of: 'call made', v: 1, body: { component, call, reason: '' }, seenIn: null },
    { author: reviewer },
  );
const handIn = (reviewer: string, submission = submitted.id) =>
  entry(kinds.secondHandedIn, INSPECTION, { submission, notReadable: [] }, { author: reviewer });
const state = (...more: Entry[]) =>
  foldInspection([opened, submitted, handIn('reviewer-1'), handIn('reviewer-2'), ...more]);

describe('concluding a review', () => {
  const rows: [
    name: string,
    outcome: Outcome,
    own: ReturnType<typeof calls>,
    person: string,
    code: string | null,
  ][] = [
    ['nobody reviews their own work', 'agreed', calls('repair', 'keep'), 'inspector-1', 'review-own-work'],
    [
      'a part without a call is named',
      'agreed',
      calls('repair', 'keep').slice(0, 1),
      'reviewer-1',
      'review-call-missing',
    ],
    [
      'agreeing with another call is refused',
      'agreed',
      calls('scrap', 'keep'),
      'reviewer-1',
      'review-not-agreed',
    ],
    ['agreeing with the same calls', 'agreed', calls('repair', 'keep'), 'reviewer-1', null],
    ['overruling with a more severe call', 'overruled', calls('scrap', 'keep'), 'reviewer-1', null],
    [
      'overruling with a milder call is refused',
      'overruled',
      calls('keep', 'keep'),
      'reviewer-1',
      'review-milder',
    ],
    ['sending back needs no calls', 'sent back', [], 'reviewer-1', null],
    ['sending back needs no measurement', 'sent back', [], 'reviewer-9', null],
    [
      'agreeing without having measured',
      'agreed',
      calls('repair', 'keep'),
      'reviewer-9',
      'review-not-measured',
    ],
    [
      'overruling what does not differ',
      'overruled',
      calls('repair', 'keep'),
      'reviewer-1',
      'review-nothing-differs',
    ],
    [
      'overruling without a limit',
      'overruled',
      calls('scrap', 'keep').map((one) => ({ ...one, limit: '' })),
      'reviewer-1',
      'review-limit',
    ],
    [
      'overruling without a reason',
      'overruled',
      calls('scrap', 'keep').map((one) => ({ ...one, reason: '' })),
      'reviewer-1',
      'review-limit',
    ],
  ];
  test.each(rows)('%s', (_name, outcome, own, person, code) => {
    const result = mayConclude(state(), conclusion(outcome, own), person);
    if (code === null) expect(result).toEqual({ ok: true, value: true });
    else expect(result).toMatchObject({ ok: false, error: { code } });
  });

  const own = (call: 'keep' | 'repair' | 'scrap') => [
    measured('reviewer-4', BASE, call),
    handIn('reviewer-4'),
  ];

  test('a part called twice is refused, so that no second call slips behind the first', () => {
    const twice = [...calls('scrap', 'keep'), ...calls('keep', 'keep')];
    expect(mayConclude(state(), conclusion('overruled', twice), 'reviewer-1')).toMatchObject({
      error: { code: 'review-call-twice' },
    });
    const foreign = [...calls('scrap', 'keep'), { ...calls('keep', 'keep')[0], component: WHEEL }];
    expect(
      mayConclude(state(), conclusion('overruled', foreign as ReturnType<typeof calls>), 'reviewer-1'),
    ).toMatchObject({ error: { code: 'review-call-twice' } });
    const stored = entry(kinds.reviewConcluded, INSPECTION, conclusion('overruled', twice), {
      author: 'reviewer-1',
    });
    expect(settledParts(state(stored))?.[0]?.settled).toBe('scrap');
    const milder = entry(kinds.reviewConcluded, INSPECTION, conclusion('overruled', calls('keep', 'keep')), {
      author: 'reviewer-1',
    });
    expect(settledParts(state(milder))?.[0]?.settled).toBe('repair');
  });

  test('a call that is not the one handed in says why', () => {
    const silent = calls('repair', 'keep').map((one) => ({ ...one, reason: '' }));
    expect(mayConclude(state(...own('scrap')), conclusion('agreed', silent), 'reviewer-4')).toMatchObject({
      error: { code: 'review-changed-call', value: 'rim base: repair' },
    });
    expect(mayConclude(state(...own('repair')), conclusion('agreed', silent), 'reviewer-4').ok).toBe(true);
    expect(
      mayConclude(state(...own('scrap')), conclusion('agreed', calls('repair', 'keep')), 'reviewer-4').ok,
    ).toBe(true);
  });

  test('what is sent back carries no calls', () => {
    expect(mayConclude(state(), conclusion('sent back', calls('scrap', 'keep')), 'reviewer-1')).toMatchObject(
      { error: { code: 'review-calls-early' } },
    );
  });

  test('not before submission', () => {
    expect(mayReview(foldInspection([opened]), 'reviewer-1')).toMatchObject({
      ok: false,
      error: { code: 'review-not-submitted' },
    });
  });

  test('not on an earlier submission, and not twice', () => {
    const again = entry(kinds.inspectionSubmitted, INSPECTION, { covers: [opened.id], verdict });
    expect(
      mayConclude(state(again), conclusion('agreed', calls('repair', 'keep')), 'reviewer-1'),
    ).toMatchObject({ error: { code: 'review-stale' } });
    const first = entry(kinds.reviewConcluded, INSPECTION, conclusion('agreed', calls('repair', 'keep')), {
      author: 'reviewer-2',
    });
    expect(
      mayConclude(state(first), conclusion('agreed', calls('repair', 'keep')), 'reviewer-1'),
    ).toMatchObject({ error: { code: 'review-concluded' } });
  });

  describe('the second disagreement on a component', () => {
    const called = measured('reviewer-1', BASE, 'scrap');
    const first = handIn('reviewer-1');
    const back = entry(kinds.reviewConcluded, INSPECTION, conclusion('sent back', []), {
      author: 'reviewer-1',
    });
    const again = entry(kinds.inspectionSubmitted, INSPECTION, { covers: [opened.id], verdict });
    const second = (outcome: Outcome) => conclusion(outcome, calls('scrap', 'keep'), again.id);
    const resubmitted = [
      called,
      first,
      back,
      again,
      handIn('reviewer-1', again.id),
      handIn('reviewer-3', again.id),
    ];

    test('is counted for the component alone', () => {
      expect(disagreementsOn(state(...resubmitted), BASE)).toBe(1);
      expect(disagreementsOn(state(...resubmitted), RING)).toBe(0);
    });

    test('is not settled by the same two people, but handed on', () => {
      expect(mayConclude(state(...resubmitted), second('overruled'), 'reviewer-1')).toMatchObject({
        error: { code: 'review-third-needed' },
      });
      expect(mayConclude(state(...resubmitted), second('handed on'), 'reviewer-1').ok).toBe(true);
    });

    test('is settled by a third person, whose call stands', () => {
      const on = entry(kinds.reviewConcluded, INSPECTION, second('handed on'), { author: 'reviewer-1' });
      const handedOn = state(...resubmitted, on);
      expect(handedOn.status).toBe('third person');
      expect(settledParts(handedOn)).toBeNull();
      expect(mayConclude(handedOn, second('overruled'), 'reviewer-1')).toMatchObject({
        error: { code: 'review-third-person' },
      });
      expect(mayConclude(handedOn, second('overruled'), 'reviewer-3').ok).toBe(true);
      expect(mayConclude(handedOn, second('handed on'), 'reviewer-3')).toMatchObject({
        error: { code: 'review-third-decides' },
      });
      expect(mayMeasure(handedOn, 'reviewer-1')).toMatchObject({ error: { code: 'second-concluded' } });
      expect(mayMeasure(handedOn, 'reviewer-5').ok).toBe(true);
      const third = entry(kinds.reviewConcluded, INSPECTION, second('overruled'), { author: 'reviewer-3' });
      const settled = state(...resubmitted, on, third);
      expect(settled.status).toBe('concluded');
      expect(settledParts(settled)?.[0]).toMatchObject({ settled: 'scrap', overruled: true });
    });
  });

  test('while a question is open nothing is agreed, but what is more severe may be said', () => {
    const asked = entry(
      kinds.questionAsked,
      INSPECTION,
      { question: BASE, pin: { on: 'part', component: RING }, wants: 'an answer', text: 'Which side?' },
      { author: 'reviewer-1' },
    );
    expect(state(asked).status).toBe('asked');
    expect(
      mayConclude(state(asked), conclusion('agreed', calls('repair', 'keep')), 'reviewer-1'),
    ).toMatchObject({ error: { code: 'review-question-open' } });
    expect(mayConclude(state(asked), conclusion('overruled', calls('scrap', 'keep')), 'reviewer-1').ok).toBe(
      true,
    );
    const answered = entry(kinds.questionAnswered, INSPECTION, { question: BASE, text: 'The gutter side' });
    expect(state(asked, answered).status).toBe('submitted');
    expect(
      mayConclude(state(asked, answered), conclusion('agreed', calls('repair', 'keep')), 'reviewer-1').ok,
    ).toBe(true);
  });

  test('sending back and overruling need a reason', () => {
    for (const outcome of ['sent back', 'overruled'] as const) {
      expect(kinds.reviewConcluded.body.safeParse({ ...conclusion(outcome, []), reason: ' ' }).success).toBe(
        false,
      );
    }
  });

  test('what holds after review is the submitted result, or the call that overruled it', () => {
    expect(settledParts(state())).toBeNull();
    const overruled = entry(
      kinds.reviewConcluded,
      INSPECTION,
      conclusion('overruled', calls('scrap', 'keep')),
      { author: 'reviewer-1' },
    );
    expect(settledParts(state(overruled))?.map((part) => [part.settled, part.overruled])).toEqual([
      ['scrap', true],
      ['keep', false],
      ['hold', false],
    ]);
    const back = entry(kinds.reviewConcluded, INSPECTION, conclusion('sent back', []), {
      author: 'reviewer-1',
    });
    expect(settledParts(state(back))).toBeNull();
  });
});

describe('whether a second measurement was a blind one', () => {
  const one = handIn('reviewer-6');
  const blind = (...more: Entry[]) =>
    measuredBlind(foldInspection([opened, submitted, ...more]), 'reviewer-6', submitted.id);
  const look = () =>
    entry(kinds.figuresLookedAt, INSPECTION, { reason: 'blurred' }, { author: 'reviewer-6' });
  const rows: [name: string, entries: () => Entry[], blind: boolean][] = [
    ['handed in and nothing else', () => [one], true],
    ['looked early', () => [look(), handIn('reviewer-6')], false],
    ['looked after handing in', () => [one, look()], true],
    [
      'handed in for another submission too, whenever that was',
      () => [
        one,
        entry(
          kinds.secondHandedIn,
          INSPECTION,
          { submission: BASE, notReadable: [] },
          { author: 'reviewer-6' },
        ),
      ],
      false,
    ],
    [
      'after somebody else concluded',
      () => [
        entry(kinds.reviewConcluded, INSPECTION, conclusion('agreed', calls('repair', 'keep')), {
          author: 'reviewer-1',
        }),
        handIn('reviewer-6'),
      ],
      false,
    ],
    [
      'after an answer of the inspector',
      () => [
        entry(
          kinds.questionAsked,
          INSPECTION,
          { question: BASE, pin: { on: 'inspection' }, wants: 'an answer', text: 'What did you read?' },
          { author: 'reviewer-6' },
        ),
        entry(kinds.questionAnswered, INSPECTION, { question: BASE, text: '8.2' }),
        handIn('reviewer-6'),
      ],
      false,
    ],
    ['not handed in', () => [], false],
  ];
  test.each(rows)('%s', (_name, entries, expected) => {
    expect(blind(...entries())).toBe(expected);
  });
});

describe('who may append what', () => {
  const site = entry(kinds.siteDescribed, WHEEL, {
    name: 'x',
    tables: [],
    keepLocation: false,
    demonstration: true,
  });
  const reading = entry(kinds.gateAnswered, INSPECTION, {
    question: 'valve core out',
    answer: 'yes',
    by: '',
    doneAt: null,
  });
  const review = entry(kinds.reviewConcluded, INSPECTION, conclusion('sent back', []));
  const rows: [string, Entry, SiteRole, boolean][] = [
    ['a lead describes the site', site, 'lead', true],
    ['an inspector does not', site, 'inspector', false],
    ['an inspector answers the gate', reading, 'inspector', true],
    ['a reviewer does not', reading, 'reviewer', false],
    ['a reviewer concludes', review, 'reviewer', true],
    ['an inspector does not conclude', review, 'inspector', false],
    ['a lead does not conclude', review, 'lead', false],
  ];
  test.each(rows)('%s', (_name, one, role, allowed) => {
    expect(mayAppend(one, [role]).ok).toBe(allowed);
  });
});

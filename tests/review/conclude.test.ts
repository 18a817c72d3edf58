import { describe, expect, test } from 'vitest';
import { type Entry, foldInspection, kinds } from '../../lib/record/index.ts';
import { mayAppend, mayConclude, mayReview, type SiteRole, settledParts } from '../../lib/review/index.ts';
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
  { component: BASE, call: base, reason: '' },
  { component: RING, call: ring, reason: '' },
];
type Outcome = 'agreed' | 'sent back' | 'overruled';
const conclusion = (outcome: Outcome, own: ReturnType<typeof calls>, submission = submitted.id) => ({
  submission,
  outcome,
  reason: outcome === 'agreed' ? '' : 'measured again',
  calls: own,
});
const state = (...more: Entry[]) => foldInspection([opened, submitted, ...more]);

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
  ];
  test.each(rows)('%s', (_name, outcome, own, person, code) => {
    const result = mayConclude(state(), conclusion(outcome, own), person);
    if (code === null) expect(result).toEqual({ ok: true, value: true });
    else expect(result).toMatchObject({ ok: false, error: { code } });
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

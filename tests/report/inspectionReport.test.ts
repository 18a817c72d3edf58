import { describe, expect, test } from 'vitest';
import { canonicalJson, must, sha256Hex } from '../../lib/base/index.ts';
import { type Entry, foldInspection, foldRegister, kinds, type Names } from '../../lib/record/index.ts';
import { inspectionReport } from '../../lib/report/index.ts';
import { evaluate, gatherEvidence } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { REGISTER } from '../rules/record.ts';
import { BASE, depthBody, entry, INSPECTION, thing, WHEEL } from '../support/entries.ts';

const names: Names = {
  person: (id) => (id === 'reviewer-1' ? 'Rey' : 'Ada'),
  component: () => 'rim base',
  wheel: () => 'the wheel',
  instrument: () => 'a gauge',
};
const register = foldRegister(REGISTER);
const wheel = must(register.wheels.get(WHEEL), 'the wheel');
const opened = entry(kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'yearly' });
const reading = entry(kinds.readingEntered, INSPECTION, depthBody(thing(80), BASE, 8.2));
const mark = entry(kinds.markDrawn, INSPECTION, {
  mark: thing(81),
  photo: 'ab'.repeat(32),
  shape: { form: 'spot', at: [1, 2] },
  defect: 'crack',
  component: BASE,
  zone: 'gutter groove',
  clock: 3,
  method: 'visual',
  note: 'both ends found',
});
const photo = (sha: string, zone: 'gutter groove' | 'gutter lip') =>
  entry(kinds.photoAttached, INSPECTION, {
    photo: sha,
    name: 'a.jpg',
    bytes: 1,
    widthPx: 10,
    heightPx: 10,
    component: BASE,
    zone,
    clock: null,
  });
const evidence = [
  opened,
  reading,
  photo('cd'.repeat(32), 'gutter lip'),
  photo('ab'.repeat(32), 'gutter groove'),
  mark,
];
const submitted = (tables: readonly string[]) => {
  const state = foldInspection(evidence);
  const at = new Date(Date.parse(mark.at) + 1000).toISOString();
  const { tables: inForce } = tablesNamed([...tables]);
  const verdict = evaluate(gatherEvidence(state, wheel, register, at), inForce);
  return entry(kinds.inspectionSubmitted, INSPECTION, {
    covers: [...state.coverable],
    verdict: { ...verdict },
  });
};
const report = (...entries: Entry[]) =>
  inspectionReport({
    state: foldInspection(entries),
    wheel,
    register,
    names,
    sizeWords: () => '44.0 mm ± 1.0 mm',
  });
const withLimits = submitted(['demonstration-quillmoor']);
const base = (one: ReturnType<typeof report>) =>
  must(
    one.parts.find(({ slot }) => slot === 'rim base'),
    'rim base',
  );

describe('the report of an inspection', () => {
  test('says of every reason which limit it rests on and whose that is, and that it is a demonstration', () => {
    const one = report(...evidence, withLimits);
    expect(one.demonstration).toBe(true);
    expect(base(one).submitted).toBe('scrap');
    const depth = must(
      base(one).reasons.find(({ limit }) => limit.includes('row gutter depth')),
      'the depth',
    );
    expect(depth.limit).toContain('demonstration-quillmoor');
    expect(one.limits.map(({ title }) => title).join()).toContain('emonstration');
  });

  test('without a table it says that there is no limit on file, never a pass', () => {
    const one = report(...evidence, submitted([]));
    expect(base(one).submitted).not.toBe('keep');
    expect(base(one).missing.join()).toMatch(/limit|table|rule/);
    expect(one.demonstration).toBe(false);
  });

  test('shows photos with marks first, numbered, with size and note', () => {
    const { photos } = report(...evidence, withLimits);
    expect(photos.map(({ marks }) => marks.map(({ words }) => words))).toEqual([
      ['crack 44.0 mm ± 1.0 mm: both ends found'],
      [],
    ]);
    expect(photos[0]?.caption).toContain('gutter groove');
  });

  test('carries the hash of the verdict as it was signed', () => {
    const one = report(...evidence, withLimits);
    expect(one.verdict?.hash).toBe(sha256Hex(canonicalJson(withLimits.body.verdict)));
  });

  test('stands on what was submitted: late evidence and a missing review are said', () => {
    expect(report(...evidence).standing).toContain('nothing in it is signed');
    expect(report(...evidence).parts).toEqual([]);
    expect(report(...evidence, withLimits).standing).toContain('waiting for review');
    const handedIn = entry(
      kinds.secondHandedIn,
      INSPECTION,
      { submission: withLimits.id, notReadable: [] },
      { author: 'reviewer-1' },
    );
    const agreed = entry(
      kinds.reviewConcluded,
      INSPECTION,
      {
        submission: withLimits.id,
        outcome: 'agreed',
        reason: 'seen',
        calls: [],
        signed: 'password entered again',
      },
      { author: 'reviewer-1' },
    );
    const done = report(...evidence, withLimits, handedIn, agreed);
    expect(done.standing).toBe('Reviewed.');
    expect(done.signatures.map(({ what, by }) => [what, by])).toEqual([
      ['Inspection submitted', 'Ada'],
      ['Second measurement handed in', 'Rey'],
      ['Review: agreed', 'Rey'],
    ]);
    expect(done.signatures[1]?.words).toContain('before seeing');
    const late = entry(kinds.readingEntered, INSPECTION, depthBody(thing(82), BASE, 8.1));
    expect(report(...evidence, withLimits, handedIn, agreed, late).standing).toContain(
      'evidence has come in since',
    );
  });

  test('ends with the cautions, and with whose decision it is', () => {
    const { cautions } = report(...evidence, withLimits);
    expect(cautions.join(' ')).toContain('Never weld');
    expect(cautions.at(-1)).toContain('competent person');
  });
});

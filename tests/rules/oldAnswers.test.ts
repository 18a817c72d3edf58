import { describe, expect, test } from 'vitest';
import { canonicalJson } from '../../lib/base/index.ts';
import { Evidence, evaluate } from '../../lib/rules/index.ts';
import { type Kept, keptOf, tablesOf } from './kept.ts';

type Tree = { [key: string]: unknown };
interface Answer extends Tree {
  parts: { result: string; sentence: string; findings: Tree[] }[];
}

function answerTo(kept: Kept): Answer {
  const { parts, assembly, demonstration } = evaluate(Evidence.parse(kept.evidence), tablesOf(kept));
  return JSON.parse(canonicalJson({ parts, assembly, demonstration }));
}

/** What version 3 says beyond version 2, whatever the evidence: fields of a part and of a finding. */
const NEW_OF_PART = ['decidedBy'];
const NEW_OF_FINDING = ['basis', 'others', 'reworkForbidden'];

/** The answer without what version 3 adds; a part in repair or scrap says which row decides after what it said before. */
function withoutAdditions({ parts, ...rest }: Answer): Answer {
  const without = (tree: Tree, fields: readonly string[]): Tree =>
    Object.fromEntries(Object.entries(tree).filter(([key]) => !fields.includes(key)));
  return {
    ...rest,
    parts: parts.map((part) => ({
      ...without(part, NEW_OF_PART),
      result: part.result,
      sentence: ['repair', 'scrap'].includes(part.result)
        ? part.sentence.replace(/^(.*?, by \d+ findings?\.) .*$/, '$1')
        : part.sentence,
      findings: part.findings.map((finding) => without(finding, NEW_OF_FINDING)),
    })),
  };
}

/** Paths of everything that differs between two JSON values; a whole subtree that one side lacks is one path. */
function differences(before: unknown, now: unknown, path = ''): string[] {
  if (canonicalJson(before ?? null) === canonicalJson(now ?? null)) return [];
  const isTree = (value: unknown) => typeof value === 'object' && value !== null;
  if (!isTree(before) || !isTree(now) || Array.isArray(before) !== Array.isArray(now)) return [path];
  const keys = new Set([...Object.keys(before as Tree), ...Object.keys(now as Tree)]);
  return [...keys].flatMap((key) =>
    differences((before as Tree)[key], (now as Tree)[key], path === '' ? key : `${path}.${key}`),
  );
}

const changesOf = (kept: Kept) => differences(kept.answer, withoutAdditions(answerTo(kept)));

const ofFinding =
  (index: number) =>
  (fields: string): readonly RegExp[] =>
    fields
      .split(' ')
      .map((field) => new RegExp(`^parts\\.0\\.findings\\.${index}\\.${field.replaceAll('.', '\\.')}$`));
const ofFirstFinding = ofFinding(0);
const ofGutterDepth = ofFinding(1);
/** A part that was keep and is on hold, for one thing missing. */
const heldNow = (index: number): readonly RegExp[] => [
  new RegExp(`^parts\\.${index}\\.(missing\\.0|result|sentence)$`),
  /^assembly\.(fit|reasons\.0)$/,
];
const PLACE = 'positions.1.groups positions.1.birgeRatio positions.1.value positions.1.u ';
const GOVERNING =
  'governing.groups governing.birgeRatio governing.value governing.u beyondKeep beyondRepair margin sentence';

/** Evidence that version 3 answers differently, and where, beside the additions. */
const DIFFERENT: Readonly<Record<string, readonly RegExp[]>> = {
  // Different instruments at one place are weighted by their u: 6 o'clock is known better, and 3 o'clock governs.
  'a repeat with another instrument that agrees': ofGutterDepth(
    `${PLACE}governing.clock governing.readings.0 governing.readings.1 governing.repeats governing.value governing.u beyondKeep margin sentence`,
  ),
  // Where they disagree the worse one governs alone, here below the bound, and the part is held until one is withdrawn.
  'a repeat with another instrument that disagrees': [
    ...ofGutterDepth(
      `${PLACE}${GOVERNING} simpleClass guardedClass class positions.1.counted positions.1.disagree governing.counted governing.disagree`,
    ),
    /^parts\.0\.(missing\.0|result|sentence|worst)$/,
    /^assembly\.reasons\.0$/,
  ],
  'a repeat without a named instrument': ofGutterDepth(`${PLACE}${GOVERNING}`),
  // A place that is in repair by its value alone leaves nothing for a better measurement elsewhere to win.
  'one place certainly in repair, another doubtful to scrap': ofFirstFinding('simpleClass sentence'),
  // Repair by the value alone is no gain where rework is not on offer: the sentence no longer sends anyone to measure.
  'doubtful to scrap, rework not on offer': ofGutterDepth('sentence'),
  // The sentence says what the guard band would have said, not what the reading alone says, which is the answer here.
  'simple acceptance': ofFirstFinding('sentence'),
  // Of two looks at a zone "could not be seen" counts, whichever was written down first.
  'looks that contradict each other': heldNow(0),
  // A look that speaks of a defect needs the defect.
  'a look that says a defect is recorded, and none is': heldNow(0),
  // A test recorded at more hours than the part has does not count.
  'a test at more hours than the part has': heldNow(4),
};

const ALL = [...keptOf(1), ...keptOf(2)];

/** What earlier versions of the engine answered, written by them: all else is the same bytes. */
describe.each([1, 2])('answers of rimbook rules %d', (version) => {
  test.each(keptOf(version))('$name', (kept) => {
    const allowed = DIFFERENT[kept.name] ?? [];
    expect(changesOf(kept).filter((path) => !allowed.some((one) => one.test(path)))).toEqual([]);
  });
});

describe('every difference that is allowed for does occur', () => {
  test.each(Object.entries(DIFFERENT))('%s', (name, patterns) => {
    const found = ALL.filter((kept) => kept.name === name).flatMap(changesOf);
    expect(patterns.filter((pattern) => !found.some((path) => pattern.test(path)))).toEqual([]);
  });

  test('the additions', () => {
    const parts = ALL.flatMap((kept) => answerTo(kept).parts);
    const findings = parts.flatMap((part) => part.findings);
    for (const field of NEW_OF_PART)
      expect(
        parts.some((part) => field in part),
        field,
      ).toBe(true);
    for (const field of NEW_OF_FINDING)
      expect(
        findings.some((one) => field in one),
        field,
      ).toBe(true);
    expect(parts.some((part) => /by 1 finding\. .* decides, by /.test(part.sentence))).toBe(true);
  });
});

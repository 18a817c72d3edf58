import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { Instrument } from '../../lib/readings/index.ts';
import soundFivePiece from '../../lib/rules/examples/sound-five-piece.json' with { type: 'json' };
import { Evidence, evaluate, type Finding, type TraceStep, traceOf } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { keptOf, tablesOf } from './kept.ts';

const own = Instrument.array().parse(soundFivePiece.instruments);
const [gauge] = own;
/** The instruments of the sound example, and a second, finer depth gauge. */
const instruments = [
  ...own,
  { ...must(gauge, 'gauge'), name: 'Depth gauge DG-2', resolutionMm: 0.02, certificateUMm: 0.01 },
];

function stepsOf(
  name: string,
  pick: (finding: Finding) => boolean,
  units: 'metric' | 'imperial' = 'metric',
): readonly TraceStep[] {
  const kept = must(
    keptOf(2).find((one) => one.name === name),
    name,
  );
  const verdict = evaluate(Evidence.parse(kept.evidence), tablesOf(kept));
  for (const part of verdict.parts) {
    const finding = part.findings.find(pick);
    if (finding === undefined) continue;
    const { readings } = must(
      verdict.inputs.parts.find((one) => one.slot === part.slot),
      'part',
    );
    return traceOf(
      finding,
      { readings, tables: verdict.tables, instruments, at: verdict.inputs.decidedAt },
      units,
    );
  }
  throw new Error(`no such finding in ${name}`);
}

const depth = (finding: Finding) => finding.about === 'limit' && finding.characteristic === 'gutter depth';
const stepNamed = (steps: readonly TraceStep[], title: string) =>
  must(
    steps.find((step) => step.title === title),
    title,
  );

/** That each thing the verdict rests on can be read step by step is our own specification, no source. */
describe('the trace of a finding', () => {
  test('a doubtful gutter: from the readings as typed to what would settle it', () => {
    const steps = stepsOf('doubtful at one place', depth);
    expect(steps.map((step) => step.title)).toEqual([
      'Readings as typed',
      'Each place',
      'Governing place',
      'Limit',
      'Chance of being worse',
      'Guard band',
      'Guarded and simple',
      'Class',
      'What would settle it',
    ]);
    expect(stepNamed(steps, 'Readings as typed').lines).toContain(
      "3 o'clock: “11.75”, 11.75 mm, with Depth gauge DG-1, u = 0.033 mm",
    );
    expect(stepNamed(steps, 'Governing place').gist).toBe("6 o'clock: 10.55 mm ± 0.20 mm (k = 2)");
    expect(stepNamed(steps, 'Limit')).toMatchObject({
      gist: 'keep at least 10.50 mm; repair at least 9.00 mm',
    });
    // 10.5 + 1.645 × 0.1 and 9 + 1.645 × 0.1 (ISO 14253-1, ILAC-G8:09/2019).
    expect(stepNamed(steps, 'Guard band')).toEqual({
      title: 'Guard band',
      gist: 'risk 5.0 % at u = 0.100 mm',
      lines: [
        'Accepted as keep: at least 10.66 mm (guard band 0.164 mm)',
        'Accepted as repair or better: at least 9.16 mm (guard band 0.164 mm)',
      ],
    });
    expect(stepNamed(steps, 'Guarded and simple').gist).toBe('guarded repair, by the value alone keep');
    expect(stepNamed(steps, 'What would settle it').gist).toMatch(
      /^Measure the gutter depth again at 6 o'clock with Depth gauge DG-2: \d+ % likely/,
    );
  });

  test('instruments that disagree at a place are shown each, and which of them counts', () => {
    const { lines } = stepNamed(
      stepsOf('a repeat with another instrument that disagrees', depth),
      'Each place',
    );
    expect(lines.filter((line) => line.startsWith("6 o'clock"))).toEqual([
      expect.stringMatching(/: 9\.50 mm, u = 0\.020 mm, by DG-2 alone, for the instruments disagree$/),
      "6 o'clock, DG-1: 11.60 mm, u = 0.042 mm, 1 reading",
      "6 o'clock, DG-2: 9.50 mm, u = 0.020 mm, 1 reading",
    ]);
  });

  test('bounds counted from the new size say so, with the u of that size', () => {
    const { lines } = stepNamed(stepsOf('bounds from nominal and in percent lost', depth), 'Limit');
    expect(lines[0]).toBe(
      'Counted [keep at least −2.00 mm, repair at least −3.00 mm, from the new size of 12.50 mm]',
    );
    expect(lines[1]).toContain('u = 0.100 mm');
  });

  test('a rule against rework and the answers of other tables are steps of their own', () => {
    const banned = stepNamed(
      stepsOf('worn gutter, rework not on offer', (one) => one.noRework !== null),
      'Rework',
    );
    expect(banned.lines).toContain('Row: (f)(9) no rework');
    const others = stepNamed(stepsOf('two tables on one quantity', depth), 'Other rows');
    expect(others.lines).toEqual(['Site limits, 1, row depth: repair']);
  });

  test('defects and ages have their steps', () => {
    const crack = stepsOf('defects of every kind', (one) => one.about === 'defect');
    expect(crack.map((step) => step.title)).toEqual(['Seen', 'Rule', 'Class']);
    expect(stepNamed(crack, 'Rule').lines[0]).toBe('Repair is open up to 60.0 mm long');
    const age = stepsOf('an age within its limit and hours beyond theirs', (one) => one.about === 'age');
    expect(age.map((step) => step.title)).toEqual(['Age and hours', 'Rule', 'Beyond the limit', 'Class']);
    expect(stepNamed(age, 'Rule').lines).toContain('Limit: 20000 h on duty');
  });

  test('every finding of every evidence has a trace that ends in its class, without doubled lines, and in inches without mm', () => {
    let traces = 0;
    for (const kept of keptOf(2)) {
      const verdict = evaluate(Evidence.parse(kept.evidence), tablesOf(kept));
      for (const part of verdict.parts) {
        const readings = verdict.inputs.parts.find((one) => one.slot === part.slot)?.readings ?? [];
        const context = { readings, tables: verdict.tables, instruments, at: verdict.inputs.decidedAt };
        for (const finding of part.findings) {
          traces += 1;
          const steps = traceOf(finding, context);
          expect(stepNamed(steps, 'Class').gist).toBe(finding.class);
          expect(new Set(steps.map((step) => step.title)).size).toBe(steps.length);
          for (const { lines } of steps) expect(new Set(lines).size, lines.join('\n')).toBe(lines.length);
          const imperial = traceOf(finding, context, 'imperial').flatMap(({ gist, lines }) => [
            gist,
            ...lines,
          ]);
          for (const text of imperial) expect(text.replace(/“[^”]*”/g, '')).not.toMatch(/\d (mm|cm²)/);
        }
      }
    }
    expect(traces).toBeGreaterThan(200);
  });

  test('a finding stored by version 2 can be traced too', () => {
    const demonstration = tablesNamed(['demonstration-quillmoor']).tables;
    const tables = evaluate(Evidence.parse(must(keptOf(2)[0], 'kept').evidence), demonstration).tables;
    for (const kept of keptOf(2))
      for (const { findings } of (kept.answer as { parts: { findings: Finding[] }[] }).parts)
        for (const finding of findings) {
          const steps = traceOf(finding, {
            readings: [],
            tables,
            instruments,
            at: '2026-11-02T09:30:00.000Z',
          });
          expect(stepNamed(steps, 'Class').gist).toBe(finding.class);
        }
  });
});

import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test, vi } from 'vitest';
import { must } from '../../lib/base/index.ts';
import soundFivePiece from '../../lib/rules/examples/sound-five-piece.json' with { type: 'json' };
import { bundledTables } from '../../lib/tolerances/index.ts';
import { assess } from '../../tools/cli/assess.ts';

const folder = mkdtempSync(join(tmpdir(), 'assess-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** A file in which the gutter at 6 o'clock was read with a coarse gauge close to the limit of 10.5 mm; a fine one may be at hand. */
function doubtfulFile(fineAtHand: boolean): string {
  const file = structuredClone(soundFivePiece);
  const gauge = must(file.instruments[0], 'gauge');
  const coarse = { ...gauge, name: 'Coarse gauge', certificateUMm: 0.1 };
  file.instruments.push(
    coarse,
    ...(fineAtHand ? [{ ...gauge, name: 'Fine gauge', resolutionMm: 0.01, certificateUMm: 0.01 }] : []),
  );
  for (const one of file.parts.flatMap(
    (part) =>
      part.readings as { characteristic: string; clock?: number; value: string; instrument: string }[],
  ))
    if (one.characteristic === 'gutter depth')
      Object.assign(one, { instrument: 'Coarse gauge', value: one.clock === 6 ? '10.60' : one.value });
  file.instruments.splice(0, 1);
  const path = join(folder, `${fineAtHand}.json`);
  writeFileSync(path, JSON.stringify(file));
  return path;
}

function run(...args: string[]): { code: number; out: string; err: string } {
  const log = vi.spyOn(console, 'log').mockImplementation(() => {});
  const error = vi.spyOn(console, 'error').mockImplementation(() => {});
  const code = assess(args);
  const [out, err] = [log, error].map((spy) => spy.mock.calls.map((call) => call.join(' ')).join('\n'));
  vi.restoreAllMocks();
  return { code, out: out ?? '', err: err ?? '' };
}

/** What the command prints is our own specification (README, "Command line"). */
describe('assess', () => {
  test('says what would settle a doubtful finding with the instruments of the file', () => {
    const { code, out } = run(doubtfulFile(true));
    expect(code).toBe(0);
    expect(out).toMatch(/^ {4}repair {2}Gutter depth at 6 o'clock is 10\.60 mm/m);
    expect(out).toMatch(
      /^ {4}settle {2}Measure the gutter depth again at 6 o'clock with Fine gauge: \d\d % likely to settle it \(keep \d\d %.*\)\.$/m,
    );
  });

  test('says the u it would take where nothing at hand would do', () => {
    const { out } = run(doubtfulFile(false));
    expect(out).toMatch(
      /^ {4}settle {2}Nothing at hand would settle it\. A measurement at 6 o'clock with a standard uncertainty of 0\.\d{3} mm would/m,
    );
  });

  test('speaks imperial when asked to, and refuses other units', () => {
    const { code, out } = run(doubtfulFile(false), '--units', 'imperial');
    expect(code).toBe(0);
    expect(out).toMatch(/Gutter depth at 6 o'clock is 0\.4173 in/);
    expect(out).toMatch(/settle {2}Nothing .* 0\.\d{5} in would/);
    expect(out).not.toMatch(/\d mm/);
    const refused = run(doubtfulFile(false), '--units', 'furlongs');
    expect(refused.code).toBe(2);
    expect(refused.err).toContain('furlongs');
  });

  test('tells which of the tables given were not in effect on the day of the verdict', () => {
    const [, quillmoor] = bundledTables;
    const dated = (name: string, over: object) => {
      const path = join(folder, `${name}.json`);
      writeFileSync(path, JSON.stringify({ ...quillmoor, table: name, title: name, ...over }));
      return ['--table', path];
    };
    const { code, out } = run(
      doubtfulFile(true),
      ...dated('Later', { effectiveFrom: '2026-11-03' }),
      ...dated('Over', { effectiveUntil: '2026-11-01' }),
      ...dated('Now', {}),
    );
    expect(code).toBe(0);
    const edition = must(quillmoor, 'table').edition;
    expect(out.split('\n').slice(-2)).toEqual([
      `Not applied: Later (${edition}), in effect from 2026-11-03 on, not on 2026-11-02.`,
      `Not applied: Over (${edition}), in effect until 2026-11-01, not on 2026-11-02.`,
    ]);
    expect(out).toContain(`Tables: Now (${edition}).`);
    expect(run(doubtfulFile(true)).out).not.toContain('Not applied');
  });

  test('the verdict as JSON is metric whatever the units', () => {
    const path = doubtfulFile(true);
    expect(run(path, '--json', '--units', 'imperial').out).toBe(run(path, '--json').out);
  });
});

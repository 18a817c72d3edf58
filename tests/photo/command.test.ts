import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import { measure } from '../../tools/cli/measure.ts';

const photo = join(import.meta.dirname, '../../sample-images/pictures/weld-3.jpg');
const truth = JSON.parse(readFileSync(photo.replace('.jpg', '.json'), 'utf8'));
let folder = '';
const file = (name: string) => join(folder, name);
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'rimbook-measure-'));
  const { designation, construction, slot, zone, defects } = truth;
  const shape = { form: 'trace', branches: defects[0].branches.map((one: { px: unknown }) => one.px) };
  const marks = [{ name: 'toe crack', slot, zone, shape }];
  writeFileSync(file('marks.json'), JSON.stringify({ wheel: { designation, construction }, marks }));
  const [far, vertex, near] = [shape.branches[0].at(-1), shape.branches[0][0], [2000, 1000]];
  const slant = { name: 'slant', slot, zone, shape: { form: 'angle', vertex, arms: [far, near] } };
  const bare = { ...slant, name: 'bare', shape: { form: 'angle', vertex, arms: [vertex, near] } };
  writeFileSync(
    file('angles.json'),
    JSON.stringify({ wheel: { designation, construction }, marks: [slant, bare] }),
  );
  writeFileSync(file('card.json'), JSON.stringify({ ruler: { nominalMm: 40, measuredMm: 40 } }));
  writeFileSync(file('wrong.json'), JSON.stringify({ marks: [{ name: 'x', zone: 'nowhere', shape }] }));
});
afterAll(() => rmSync(folder, { recursive: true }));
afterEach(() => vi.restoreAllMocks());

async function outcome(...args: string[]) {
  const told = { out: '', err: '' };
  vi.spyOn(console, 'log').mockImplementation((line) => {
    told.out += `${line}\n`;
  });
  vi.spyOn(console, 'error').mockImplementation((line) => {
    told.err += `${line}\n`;
  });
  return { code: await measure(args), ...told };
}

describe('measure', () => {
  test('finds the card and gives the true length within what it states', async () => {
    const { code, out } = await outcome(
      photo,
      '--marks',
      file('marks.json'),
      '--card',
      file('card.json'),
      '--json',
    );
    const answer = JSON.parse(out);
    expect(code).toBe(0);
    expect(answer).toMatchObject({
      scale: 'scale card',
      card: {
        layout: 'pocket card',
        found: [4, 5, 6, 7],
        missing: [],
        ruler: { nominalMm: 40, measuredMm: 40 },
      },
      marks: [{ name: 'toe crack', quantity: 'length', unit: 'mm' }],
    });
    const [mark] = answer.marks;
    expect(Math.abs(mark.value - truth.defects[0].lengthMm)).toBeLessThan(mark.U);
    expect(Math.abs(mark.value / truth.defects[0].lengthMm - 1)).toBeLessThan(0.025);
    expect(mark.U).toBeCloseTo(2 * mark.u, 12);
    expect(mark.tipToTip.mm).toBeLessThan(mark.longest.mm);
    expect(Math.hypot(...mark.budget.map((one: { u: number }) => one.u))).toBeLessThanOrEqual(mark.u + 1e-9);
    expect(answer.residualPx).toBeLessThan(0.5);
  });

  test('gives angles in degrees, and a problem for one without an arm', async () => {
    const { out } = await outcome(photo, '--marks', file('angles.json'), '--json');
    const [slant, bare] = JSON.parse(out).marks;
    expect(slant).toMatchObject({ quantity: 'angle', unit: '°', U: 2 * slant.u });
    expect(slant.value).toBeGreaterThan(0);
    expect(slant.value).toBeLessThan(180);
    expect(bare).toMatchObject({ problem: { code: 'arm-no-length', field: 'shape.arms' } });
    expect((await outcome(photo, '--marks', file('angles.json'))).out).toContain(
      `slant: ${slant.value.toFixed(1)}° ± ${slant.U.toFixed(1)}° (k = 2)`,
    );
  });

  test('takes another surface, and says so', async () => {
    const { out } = await outcome(photo, '--marks', file('marks.json'), '--surface', 'cylinder:668');
    expect(out).toContain('toe crack: ');
    expect(out).toContain('cylinder of radius 668 mm');
  });

  test('names the field, the value and the way out of bad input', async () => {
    expect(await outcome(photo, '--marks', file('wrong.json'))).toMatchObject({
      code: 2,
      err: expect.stringContaining('marks.0.zone'),
    });
    expect(await outcome(photo, '--marks', file('marks.json'), '--surface', 'ball')).toMatchObject({
      code: 2,
      err: expect.stringContaining('received ball'),
    });
    expect(await outcome(photo)).toMatchObject({ code: 2, err: expect.stringContaining('--marks') });
    expect(
      await outcome(photo.replace('weld-3', 'groove-clean'), '--marks', file('marks.json')),
    ).toMatchObject({
      code: 2,
      err: expect.stringContaining('No scale card was found'),
    });
  });
});

import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { consequencesOf, evaluate, inEffectAlways, withDraft } from '../../lib/rules/index.ts';
import { tableHash, tablesNamed, tableToCsv } from '../../lib/tolerances/index.ts';
import { preview } from '../../tools/cli/preview.ts';
import { defect, part, setAll, soundEvidence, tableOf, testSource } from '../support/evidence.ts';

const inForce = tablesNamed(['demonstration-quillmoor']).tables;
const stricter = (min: number, over: object = {}) =>
  tableOf(
    [
      {
        row: 'depth',
        type: 'limit',
        characteristic: 'gutter depth',
        keep: { min },
        repair: { min: min - 1 },
        methods: ['gauge'],
        source: testSource,
      },
    ],
    { table: 'draft', effectiveFrom: '2099-01-01', ...over },
  );
const changes = (draft: ReturnType<typeof stricter>, evidence = soundEvidence()) =>
  consequencesOf(evidence, inForce, inEffectAlways(withDraft(inForce, draft)));

describe('consequences of a draft', () => {
  test('are none where nothing changes', () => {
    const { changed, fit, parts } = changes(stricter(5));
    expect([changed, fit, parts]).toEqual([[], { before: true, after: true }, 5]);
  });

  test('name the part, both results and the finding that brings the change, before the first day of the draft too', () => {
    const evidence = soundEvidence();
    setAll(evidence, 'rim base', 'gutter depth', 11, 0.05);
    const { changed, fit } = changes(stricter(11.5), evidence);
    expect(changed).toMatchObject([{ slot: 'rim base', before: 'keep', after: 'repair' }]);
    expect(changed[0]?.why).toHaveLength(1);
    expect(changed[0]?.why[0]).toMatch(/^Gutter depth.* is 11\.00 mm .*at least 11\.50 mm/);
    expect(fit).toEqual({ before: true, after: false });
  });

  test('speak the units of the reader', () => {
    const evidence = soundEvidence();
    setAll(evidence, 'rim base', 'gutter depth', 11, 0.05);
    const after = inEffectAlways(withDraft(inForce, stricter(11.5)));
    const [one] = consequencesOf(evidence, inForce, after, 'imperial').changed;
    expect(one?.why[0]).toMatch(/is 0\.4331 in /);
  });

  test('tell what falls away where a part would be kept', () => {
    const evidence = soundEvidence();
    setAll(evidence, 'rim base', 'gutter depth', 10, 0.05);
    const milder = { ...inForce[0], rows: inForce[0]?.rows.filter((row) => row.row !== 'gutter depth') };
    const before = inEffectAlways([stricter(10.5), milder] as typeof inForce);
    const { changed } = consequencesOf(evidence, before, inEffectAlways(withDraft(before, stricter(9))));
    expect(changed).toMatchObject([{ slot: 'rim base', before: 'repair', after: 'keep' }]);
    expect(changed[0]?.why[0]).toMatch(/^No longer: Gutter depth/);
  });

  test('tell what is missing where a part would be held', () => {
    const asks = tableOf(
      [
        {
          row: 'age',
          type: 'age',
          components: ['lock ring'],
          upToYears: 8,
          beyond: 'scrap',
          unknown: 'hold',
          says: 'Eight years.',
          source: testSource,
        },
      ],
      { table: 'draft' },
    );
    const { changed } = changes(asks);
    expect(changed.map(({ slot, after }) => [slot, after])).toEqual([['lock ring', 'hold']]);
    expect(changed[0]?.why[0]).toMatch(/^Nobody knows when it was made/);
  });

  const crackIs = (verdict: string) =>
    tableOf(
      [
        {
          row: 'crack',
          type: 'defect',
          components: ['lock ring'],
          defects: ['crack'],
          verdict,
          says: 'A crack ends it.',
          source: testSource,
        },
      ],
      { table: 'draft' },
    );
  const cracked = () => {
    const evidence = soundEvidence();
    part(evidence, 'lock ring').defects.push(defect({ zone: 'ring body', clock: null }));
    return evidence;
  };

  /** The demonstration limits alone, with a row for cracks of a ring. */
  const withoutCracks = (verdict: string) => [
    ...inForce.map((table) => ({ ...table, rows: table.rows.filter((row) => row.type === 'limit') })),
    crackIs(verdict),
  ];

  test('name a row that says the same and means another class as the reason, not as gone', () => {
    const { changed } = consequencesOf(cracked(), withoutCracks('repair'), withoutCracks('scrap'));
    expect(changed).toEqual([
      {
        slot: 'lock ring',
        component: 'lock ring',
        before: 'repair',
        after: 'scrap',
        why: [
          'Crack in the ring body, found by visual means, length not measured. A crack ends it. (Test, demonstration).',
        ],
      },
    ]);
  });

  test('name only what is new', () => {
    const evidence = cracked();
    const [crack] = part(evidence, 'lock ring').defects;
    part(evidence, 'lock ring').defects.push({ ...must(crack, 'crack'), id: 'e', defect: 'broken' });
    const broken = (verdict: string, says: string) =>
      tableOf([{ row: 'b', type: 'defect', defects: ['broken'], verdict, says, source: testSource }], {
        table: 'more',
      });
    const [changed] = consequencesOf(
      evidence,
      [...withoutCracks('repair'), broken('repair', 'It may be mended.')],
      [...withoutCracks('scrap'), broken('scrap', 'It ends it.')],
    ).changed;
    expect(changed?.why).toEqual([
      'Broken in the ring body, found by visual means. It ends it. (Test, demonstration).',
    ]);
  });

  test('leave the tables and the evidence as they are', () => {
    const [draft, evidence] = [stricter(12), soundEvidence()];
    const [hash, before] = [tableHash(draft), JSON.stringify(evidence)];
    changes(draft, evidence);
    expect([tableHash(draft), JSON.stringify(evidence)]).toEqual([hash, before]);
  });
});

describe('tables with a draft', () => {
  test('have it in the place of the table with its name, else at the end', () => {
    const [own, other, draft] = [stricter(10), stricter(11, { table: 'other' }), stricter(12)];
    expect(withDraft([own, other], draft)).toEqual([draft, other]);
    expect(withDraft([own], other)).toEqual([own, other]);
  });

  test('can be taken as in effect on any day', () => {
    const [always] = inEffectAlways([stricter(11, { effectiveUntil: '2099-12-31' })]);
    expect(always).toMatchObject({ table: 'draft', effectiveFrom: '0001-01-01' });
    expect(always).not.toHaveProperty('effectiveUntil');
  });
});

describe('preview', () => {
  let folder = '';
  const file = (name: string) => join(folder, name);
  const example = resolve(import.meta.dirname, '../../lib/rules/examples/sound-five-piece.json');
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'rimbook-preview-'));
    writeFileSync(file('draft.csv'), tableToCsv(stricter(30)));
    writeFileSync(file('verdict.json'), JSON.stringify(evaluate(soundEvidence(), inForce)));
    writeFileSync(file('broken.json'), JSON.stringify({ inputs: { wheel: 1 }, tables: [] }));
  });
  afterAll(() => rmSync(folder, { recursive: true }));
  afterEach(() => vi.restoreAllMocks());
  const outcome = (...args: string[]) => {
    const told = { out: '', err: '' };
    vi.spyOn(console, 'log').mockImplementation((line) => {
      told.out += `${line}\n`;
    });
    vi.spyOn(console, 'error').mockImplementation((line) => {
      told.err += `${line}\n`;
    });
    return { code: preview(args), ...told };
  };

  test('lists changed parts of inspection files and stored verdicts, with reasons', () => {
    const { code, out } = outcome(file('draft.csv'), example, file('verdict.json'));
    expect(code).toBe(0);
    expect(out).toContain('rim base: keep would be scrap');
    expect(out).toContain('2 of 10 parts in 2 inspections would change.');
  });

  test('prints JSON, and takes other tables as those in force', () => {
    const { code, out } = outcome(file('draft.csv'), example, '--table', file('draft.csv'), '--json');
    expect([code, JSON.parse(out)]).toMatchObject([0, { inspections: 1, parts: 5, changed: [] }]);
    const one = outcome(file('draft.csv'), example, '--table', file('draft.csv'));
    expect(one.out).toBe('0 of 5 parts in 1 inspection would change.\n');
  });

  test('a folder without files of inspections is bad input', () => {
    mkdirSync(file('empty'));
    expect(outcome(file('draft.csv'), file('empty'))).toEqual({
      code: 2,
      out: '',
      err: `FILE.json: No file of an inspection was found there (received ${file('empty')}). Give a folder with files that end in .json, or the files themselves.\n`,
    });
  });

  test('refuses with every problem of every file', () => {
    writeFileSync(file('other.json'), '{}');
    const { code, err } = outcome(file('draft.csv'), file('broken.json'), file('other.json'));
    expect(code).toBe(2);
    expect(err).toContain(`${file('broken.json')}: inputs.wheel`);
    expect(err).toContain(`${file('other.json')}: wheel`);
    expect(outcome(file('draft.csv')).code).toBe(2);
  });
});

import { describe, expect, test } from 'vitest';
import { type NextLookFacts, nextLooks } from '../../lib/history/index.ts';
import { parseTable } from '../../lib/tolerances/index.ts';
import { dayAt, notesOf } from './wearOf.ts';

const source = { title: 'Invented', kind: 'demonstration' };
function tableWith(row: object) {
  const parsed = parseTable({
    table: 'invented',
    title: 'Invented limits',
    edition: '1',
    issuedBy: 'Nobody',
    scope: {},
    effectiveFrom: '2020-01-01',
    decision: { rule: 'guarded' },
    rows: [{ row: 'r', type: 'test', methods: ['magnetic particle'], source, ...row }],
  });
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}

const tested = (on: string, dutyHours: number | null) => ({
  method: 'magnetic particle' as const,
  zones: ['gutter weld' as const],
  result: 'no indication' as const,
  standard: 'ASTM E709',
  testedBy: 'somebody',
  on,
  surface: '',
  inspection: null,
  dutyHours,
  entry: 'e',
  at: `${on}T00:00:00.000Z`,
});

const facts = (over: Partial<NextLookFacts>): NextLookFacts => ({
  component: { hoursNoted: notesOf(400), tests: [] },
  part: { componentKind: 'rim base', maker: '', series: '', construction: 'three-piece', diameterCode: 25 },
  tables: [],
  policy: null,
  lastInspected: dayAt(400),
  trends: [],
  on: dayAt(450),
  ...over,
});

describe('the next look at a part', () => {
  test('nothing on file says nothing', () => {
    expect(nextLooks(facts({}))).toEqual([]);
    expect(nextLooks(facts({ policy: { everyMonths: null, everyHours: null } }))).toEqual([]);
  });

  test('the earliest of trend, table and policy comes first, each with its reason', () => {
    const looks = nextLooks(
      facts({
        component: { hoursNoted: notesOf(400), tests: [tested('2025-02-01', null)] },
        tables: [tableWith({ withinMonths: 12 })],
        policy: { everyMonths: 6, everyHours: null },
        trends: [{ by: '2025-12-24', words: 'It wears.' }],
      }),
    );
    expect(looks.map(({ what, by }) => [what, by])).toEqual([
      ['policy', '2025-08-04'],
      ['trend', '2025-12-24'],
      ['table', '2026-02-01'],
    ]);
    expect(looks[0]?.sentence).toBe(
      'The site inspects every 6 months; the last inspection was on 2025-02-04.',
    );
    expect(looks[2]?.sentence).toContain(
      'magnetic particle test within 12 months; the last was made on 2025-02-01',
    );
  });

  test('hours come first where they are worked sooner than the months go by', () => {
    const [look] = nextLooks(facts({ policy: { everyMonths: 12, everyHours: 1000 } }));
    // 1 000 h at 10 h a day.
    expect(look?.by).toBe(dayAt(500));
    const [byTable] = nextLooks(
      facts({
        component: { hoursNoted: notesOf(400), tests: [tested(dayAt(300), 4000)] },
        tables: [tableWith({ withinHours: 1500, withinMonths: 24 })],
      }),
    );
    expect(byTable?.by).toBe(dayAt(450));
  });

  test('a test that was never made is due today; an indication and a test to come do not count', () => {
    const due = (tests: NextLookFacts['component']['tests']) =>
      nextLooks(
        facts({ component: { hoursNoted: [], tests }, tables: [tableWith({ withinMonths: 12 })] }),
      ).map(({ by }) => by);
    expect(due([])).toEqual([dayAt(450)]);
    expect(due([{ ...tested(dayAt(440), null), result: 'indication' }])).toEqual([dayAt(450)]);
    expect(due([tested(dayAt(460), null)])).toEqual([dayAt(450)]);
  });

  test('of the zones that a row names the one tested longest ago counts', () => {
    const zoned = (zone: 'gutter weld' | 'back weld', on: string) => ({ ...tested(on, null), zones: [zone] });
    const tables = [tableWith({ withinMonths: 12, zones: ['gutter weld', 'back weld'] })];
    const [look] = nextLooks(
      facts({
        component: {
          hoursNoted: [],
          tests: [zoned('gutter weld', '2025-02-01'), zoned('back weld', '2024-06-01')],
        },
        tables,
      }),
    );
    expect(look?.by).toBe('2025-06-01');
    const [missing] = nextLooks(
      facts({ component: { hoursNoted: [], tests: [zoned('gutter weld', '2025-02-01')] }, tables }),
    );
    expect(missing?.by).toBe(dayAt(450));
  });

  test('an interval in hours without hours noted gives no day, says so and comes last', () => {
    const looks = nextLooks(
      facts({
        component: { hoursNoted: [], tests: [] },
        policy: { everyMonths: null, everyHours: 1000 },
        trends: [{ by: '2030-01-01', words: 'It wears.' }],
      }),
    );
    expect(looks.map(({ by }) => by)).toEqual(['2030-01-01', null]);
    expect(looks[1]?.sentence).toContain('Its hours on duty are not known.');
  });
});

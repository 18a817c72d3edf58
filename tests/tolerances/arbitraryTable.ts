import fc from 'fast-check';
import { DefectKind } from '../../lib/marks/index.ts';
import { parseTable, type Table } from '../../lib/tolerances/index.ts';
import { CharacteristicId, ComponentKind, ConstructionId, RingState, ZoneId } from '../../lib/wheel/index.ts';

/** Text as people write it, and what is hard to keep: separators, quotes, line breaks, beginnings of formulas. */
const awkward = fc.constantFrom(
  ...[
    ',',
    ';',
    '\t',
    '"',
    "'",
    '\\',
    '|',
    '+',
    '-',
    '=',
    '@',
    '\r',
    '\n',
    '\r\n',
    ' ',
    '\uFEFF',
    '＝',
    '/',
    '7',
  ],
);
const texts = (maxLength: number, minLength = 0) =>
  fc
    .array(fc.oneof(awkward, fc.string({ unit: 'grapheme', minLength: 1, maxLength: 4 })), { maxLength: 8 })
    .map((pieces) => pieces.join(''))
    .filter((text) => text.length <= maxLength && text.length >= minLength);
/** Text that is something even without the white space about it. */
const titles = (maxLength: number) => texts(maxLength, 1).filter((text) => text.trim() !== '');

/** Text by which something is found: nothing unseen stands at its ends. */
const names = (maxLength: number) =>
  texts(maxLength, 1).filter((text) => !/^[\s\p{C}]|[\s\p{C}]$/u.test(text));

const someOf = <T>(values: readonly T[]) => fc.subarray([...values], { minLength: 1 });
const anyNumber = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.double({ min: -1000, max: 1000, noNaN: true }),
  fc.integer({ min: -100, max: 100_000 }),
);
const positive = anyNumber.map(Math.abs).filter((value) => value > 0);
const range = fc.tuple(anyNumber, anyNumber).map(([a, b]) => ({ min: Math.min(a, b), max: Math.max(a, b) }));
const optional = { requiredKeys: [] as [] };

const bounds = range.chain((both) =>
  fc.constantFrom<{ min?: number; max?: number }>(both, { min: both.min }, { max: both.max }),
);
/** Keep bounds with repair bounds about them, or with none. */
const keepAndRepair = fc.record({ keep: bounds, wider: positive, without: fc.boolean() }).map((made) => {
  const { keep, wider, without } = made;
  const repair = {
    ...(keep.min === undefined ? {} : { min: keep.min - wider }),
    ...(keep.max === undefined ? {} : { max: keep.max + wider }),
  };
  const finite = Object.values(repair).every(Number.isFinite);
  return { keep, repair: without || !finite ? null : repair };
});

const source = fc.record(
  {
    title: titles(200),
    section: texts(120),
    page: texts(40),
    edition: texts(160),
    kind: fc.constantFrom('published', 'maker', 'site', 'common practice', 'from memory', 'demonstration'),
  },
  { requiredKeys: ['title', 'kind'] },
);
const selector = fc.record(
  { components: someOf(ComponentKind.options), zones: someOf(ZoneId.options), diameterCodes: range },
  optional,
);
const repairNeeds = fc.record({ repairNeeds: fc.constantFrom('rework', 'upkeep') }, optional);
const saying = fc.record({ says: texts(400, 1) });
const madeBy = fc.record({ maker: titles(80), series: texts(80) });
const merged = (...parts: fc.Arbitrary<object>[]) =>
  fc.tuple(...parts).map((all): object => Object.assign({}, ...all));
const oneOrBoth = (a: string, b: string, first: fc.Arbitrary<number>, second: fc.Arbitrary<number>) =>
  fc.oneof(fc.record({ [a]: first }), fc.record({ [b]: second }), fc.record({ [a]: first, [b]: second }));

const rowsByType: Readonly<Record<string, fc.Arbitrary<object>>> = {
  limit: merged(
    selector,
    repairNeeds,
    keepAndRepair,
    fc.record({
      characteristic: fc.constantFrom(...CharacteristicId.options),
      methods: someOf(['gauge', 'photo']),
    }),
    fc.record({ states: someOf(RingState.options) }, optional),
    fc.oneof(
      fc.record({ boundsOf: fc.constant('value') }, optional),
      fc.record({
        boundsOf: fc.constantFrom('from nominal', 'percent lost'),
        nominal: fc.record({ value: positive, u: anyNumber.map(Math.abs) }, { requiredKeys: ['value'] }),
      }),
    ),
  ),
  defect: merged(
    selector,
    repairNeeds,
    saying,
    fc.record(
      {
        defects: someOf(DefectKind.options),
        verdict: fc.constantFrom('repair', 'scrap'),
        repairUpToMm: positive,
        repairUpToMm2: positive,
      },
      { requiredKeys: ['defects', 'verdict'] },
    ),
  ),
  'no rework': merged(selector, saying),
  test: merged(
    selector,
    fc.record({ methods: someOf(['magnetic particle', 'penetrant', 'ultrasonic']) }),
    oneOrBoth('withinMonths', 'withinHours', fc.integer({ min: 1, max: 240 }), positive),
  ),
  age: merged(
    selector,
    repairNeeds,
    saying,
    fc.record({
      beyond: fc.constantFrom('repair', 'scrap'),
      unknown: fc.constantFrom('hold', 'repair', 'scrap'),
    }),
    oneOrBoth('upToYears', 'upToHours', positive, positive),
  ),
  match: merged(
    saying,
    fc.record({ diameterCodes: range }, optional),
    fc.record({
      between: fc.tuple(fc.constantFrom(...ComponentKind.options), fc.constantFrom(...ComponentKind.options)),
      pairs: fc.array(fc.tuple(madeBy, madeBy), { minLength: 1, maxLength: 4 }),
      together: fc.constantFrom('may', 'may not'),
    }),
  ),
  evidence: merged(
    selector,
    fc.record({
      ask: fc.oneof(
        fc.constant({ what: 'photo' }),
        fc.record(
          {
            what: fc.constant('reading'),
            characteristic: fc.constantFrom(...CharacteristicId.options),
            positions: fc.array(
              fc.integer({ min: 1, max: 24 }).map((half) => half / 2),
              { maxLength: 12 },
            ),
            repeats: fc.integer({ min: 1, max: 20 }),
            state: fc.constantFrom(...RingState.options),
          },
          { requiredKeys: ['what', 'characteristic', 'positions', 'repeats'] },
        ),
      ),
    }),
  ),
};

const anyRow = fc
  .constantFrom(...Object.keys(rowsByType))
  .chain((type) =>
    merged(
      rowsByType[type] ?? fc.constant({}),
      fc.record({ row: texts(60, 1), source, note: texts(500) }, { requiredKeys: ['row', 'source'] }),
      fc.constant({ type }),
    ),
  );
const day = fc
  .date({ min: new Date('1980-01-01'), max: new Date('2060-01-01'), noInvalidDate: true })
  .map((date) => date.toISOString().slice(0, 10));

const candidate = merged(
  fc.record({
    table: names(80),
    title: titles(200),
    edition: names(160),
    issuedBy: titles(120),
    scope: fc.record(
      {
        makers: fc.array(names(40), { maxLength: 3 }),
        series: fc.array(names(40), { maxLength: 3 }),
        constructions: fc.subarray([...ConstructionId.options]),
        components: someOf(ComponentKind.options),
        diameterCodes: range,
      },
      optional,
    ),
    decision: fc.record(
      {
        rule: fc.constantFrom('guarded', 'simple acceptance'),
        risk: fc.double({ min: 1e-9, max: 0.499, noNaN: true }),
      },
      { requiredKeys: ['rule'] },
    ),
    rows: fc.uniqueArray(anyRow, {
      minLength: 1,
      maxLength: 6,
      selector: (row) => ('row' in row ? row.row : ''),
    }),
  }),
  fc.oneof(
    fc.record({ effectiveFrom: day }),
    fc
      .tuple(day, day)
      .map((days) => days.sort())
      .map(([effectiveFrom, effectiveUntil]) => ({ effectiveFrom, effectiveUntil })),
  ),
);

/** Tables that `parseTable` accepts, with rows of every type and every field that may be left out left out at times. */
export const anyTable: fc.Arbitrary<Table> = candidate.map((made) => {
  const parsed = parseTable(made);
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
});

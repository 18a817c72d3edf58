import { must } from '../lib/base/index.ts';
import { measuredIn, wearsOf } from '../lib/history/index.ts';
import { type Entry, foldInspection, foldRegister, kinds } from '../lib/record/index.ts';
import { evaluate, gatherEvidence } from '../lib/rules/index.ts';
import { tablesNamed } from '../lib/tolerances/index.ts';
import { constructionOf, mustSlot } from '../lib/wheel/index.ts';
import { FITTING, STAMPS } from '../tests/support/entries.ts';
import { entriesAt, GAUGE_BODY, id, MAKER, SITE_BODY, WHEEL_BODY } from './support/record.ts';

/**
 * Opening the wear of a wheel with ten years of work: 100 inspections, 400 photos, 6 000 readings. Everything from the
 * entries to the trends with their bands, against a plain loop over the same readings that sums a line for each quantity.
 * Goal: at most thirty times.
 */
const GOAL = 30;
const INSPECTIONS = 100;
const READINGS = 60;
const PHOTOS = 4;
const RUNS = 15;
const YEARS = 10;
const DAY_MS = 86_400_000;
const BEGAN = Date.UTC(2016, 0, 4);

let at = BEGAN;

const make = entriesAt(() => {
  at += 1000;
  return at;
});

/** What is read of which slot, and how it wears in ten years, mm. */
const READ = [
  { slot: 'rim base', characteristic: 'gutter depth', zone: 'gutter groove', from: 11.8, to: 10.8 },
  {
    slot: 'gutter side flange',
    characteristic: 'flange wear',
    zone: 'flange contact face',
    from: 0,
    to: 1.5,
  },
  { slot: 'back side flange', characteristic: 'flange wear', zone: 'flange contact face', from: 0, to: 1.1 },
  { slot: 'bead seat band', characteristic: 'bead seat wear', zone: 'bead seat', from: 0, to: 0.9 },
  { slot: 'rim base', characteristic: 'bead seat wear', zone: 'back bead seat', from: 0, to: 0.6 },
] as const;
const CLOCKS = 12;
const construction = constructionOf('five-piece');
const slots = construction.slots.filter(({ inspected }) => inspected);
const componentIn = (slot: string) => id(10 + slots.findIndex((one) => one.slot === slot));

const described = [
  make(kinds.siteDescribed, id(1), { ...SITE_BODY, tables: ['demonstration-quillmoor'] }),
  make(kinds.wheelDescribed, id(2), WHEEL_BODY),
  make(kinds.instrumentDescribed, id(3), GAUGE_BODY),
  ...slots.flatMap(({ slot }) => [
    make(kinds.componentDescribed, componentIn(slot), {
      componentKind: mustSlot(construction, slot).kind,
      stamp: '',
      ...STAMPS,
      ...MAKER,
    }),
    make(kinds.componentFitted, componentIn(slot), { ...FITTING, wheel: id(2), slot }),
    ...Array.from({ length: YEARS + 1 }, (_, year) =>
      make(kinds.dutyHoursNoted, componentIn(slot), {
        hours: 5000 * year,
        giveOrTakeHours: 20,
        basis: 'meter of the machine',
        on: new Date(BEGAN + year * 365.25 * DAY_MS).toISOString().slice(0, 10),
      }),
    ),
  ]),
];
const register = foldRegister(described);
const wheel = must(register.wheels.get(id(2)), 'the wheel');
const { tables } = tablesNamed(['demonstration-quillmoor']);

/** The entries of one inspection, submitted with its verdict. */
function inspection(nth: number): Entry[] {
  at = BEGAN + (nth / INSPECTIONS) * YEARS * 365 * DAY_MS;
  const subject = id(100_000 + nth);
  const share = nth / INSPECTIONS;
  const entries = [
    make(kinds.inspectionOpened, subject, { wheel: id(2), reason: 'bench' }),
    ...Array.from({ length: PHOTOS }, (_, n) =>
      make(kinds.photoAttached, subject, {
        photo: (nth * PHOTOS + n).toString(16).padStart(64, 'a'),
        name: 'p.jpg',
        bytes: 1,
        widthPx: 4000,
        heightPx: 3000,
        component: componentIn('rim base'),
        zone: 'gutter weld',
        clock: 3 * n || 12,
      }),
    ),
    ...Array.from({ length: READINGS }, (_, n) => {
      const { slot, characteristic, zone, from, to } = must(READ[n % READ.length], 'a quantity');
      const clock = (Math.floor(n / READ.length) % CLOCKS) + 1;
      const worn =
        from + share * (to - from) * (1 - 0.02 * (clock % 5)) + 0.02 * (((nth * 7 + n * 3) % 5) - 2);
      const valueMm = Math.round(Math.max(0, worn) * 100) / 100;
      return make(kinds.readingEntered, subject, {
        reading: id(1_000_000 + nth * READINGS + n),
        component: componentIn(slot),
        characteristic,
        zone,
        clock,
        state: null,
        typed: `${valueMm}`,
        defaultUnit: 'mm',
        valueMm,
        instrument: id(3),
        repeat: 1,
        confirmed: false,
        overlap: false,
      });
    }),
  ];
  const state = foldInspection(entries);
  const verdict = evaluate(gatherEvidence(state, wheel, register, new Date(at).toISOString()), tables);
  const submitted = make(kinds.inspectionSubmitted, subject, {
    covers: [...state.coverable],
    verdict: { ...verdict },
  });
  return [...entries, submitted];
}

const all = Array.from({ length: INSPECTIONS }, (_, nth) => inspection(nth));
const read = all.flat().filter((entry) => entry.kind === kinds.readingEntered.kind);

function fromEntries() {
  const measured = all.map((entries) => measuredIn(foldInspection(entries))).filter((one) => one !== null);
  return wearsOf(measured, { register, tables, on: '2026-01-04' }, wheel.id);
}

function plainLoop(): number {
  const sums = new Map<string, { n: number; x: number; y: number; xx: number; xy: number }>();
  for (const { at: when, body } of read) {
    const key = `${body.component}|${body.characteristic}|${body.zone}`;
    const [x, y] = [Date.parse(when), Number(body.valueMm)];
    const so = sums.get(key) ?? { n: 0, x: 0, y: 0, xx: 0, xy: 0 };
    sums.set(key, { n: so.n + 1, x: so.x + x, y: so.y + y, xx: so.xx + x * x, xy: so.xy + x * y });
  }
  return [...sums.values()].reduce(
    (sum, { n, x, y, xx, xy }) => sum + (n * xy - x * y) / (n * xx - x * x),
    0,
  );
}

function medianMs(work: () => unknown): number {
  const times = Array.from({ length: RUNS }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  }).sort((a, b) => a - b);
  return must(times[Math.floor(RUNS / 2)], 'a time');
}

const measured = all.map((entries) =>
  must(measuredIn(foldInspection(entries)) ?? undefined, 'what it measured'),
);
const trends = () => wearsOf(measured, { register, tables, on: '2026-01-04' }, wheel.id);
for (const work of [plainLoop, trends, fromEntries]) medianMs(work);
const [plainMs, trendsMs, wholeMs] = [medianMs(plainLoop), medianMs(trends), medianMs(fromEntries)];
console.log(
  JSON.stringify({
    figure: 'wear of a wheel of ten years against a plain loop over its readings',
    readings: read.length,
    photos: INSPECTIONS * PHOTOS,
    trends: fromEntries().length,
    plainLoopMs: Number(plainMs.toFixed(2)),
    trendsMs: Number(trendsMs.toFixed(2)),
    fromEntriesMs: Number(wholeMs.toFixed(1)),
    ratioOfTrends: Number((trendsMs / plainMs).toFixed(1)),
    ratioFromEntries: Number((wholeMs / plainMs).toFixed(1)),
    goal: GOAL,
  }),
);
process.exitCode = wholeMs <= GOAL * plainMs ? 0 : 1;

import { must } from '../lib/base/index.ts';
import { characteristicOf } from '../lib/readings/index.ts';
import { type Entry, foldInspection, foldRegister, kinds } from '../lib/record/index.ts';
import { evaluate, gatherEvidence } from '../lib/rules/index.ts';
import { tablesNamed } from '../lib/tolerances/index.ts';
import { constructionOf } from '../lib/wheel/index.ts';
import { FITTING, STAMPS } from '../tests/support/entries.ts';
import { entriesAt, GAUGE_BODY, id, MAKER, SITE_BODY, WHEEL_BODY } from './support/record.ts';

/**
 * Folding and evaluating an inspection of 500 entries against JSON.parse of the same bytes, one run, medians.
 * Goal: at most ten times.
 */
const ENTRIES = 500;
const RUNS = 60;
const GOAL = 10;

const make = entriesAt((serial) => 1_780_000_000_000 + serial * 1000);

const slots = constructionOf('five-piece').slots.filter((slot) => slot.inspected);
const registerEntries = [
  make(kinds.siteDescribed, id(1), { ...SITE_BODY, tables: ['29 CFR 1910.177', 'demonstration-quillmoor'] }),
  make(kinds.wheelDescribed, id(2), WHEEL_BODY),
  make(kinds.instrumentDescribed, id(3), GAUGE_BODY),
  ...slots.flatMap((slot, i) => [
    make(kinds.componentDescribed, id(10 + i), {
      componentKind: slot.kind,
      stamp: '',
      ...STAMPS,
      ...MAKER,
    }),
    make(kinds.componentFitted, id(10 + i), { wheel: id(2), slot: slot.slot, ...FITTING }),
  ]),
];

/** Readings, looks, photos with scales, and marks in the proportions of a long inspection. */
function inspection(): Entry[] {
  const entries = [make(kinds.inspectionOpened, id(4), { wheel: id(2), reason: 'bench' })];
  for (let n = 0; entries.length < ENTRIES; n += 1) {
    const index = n % slots.length;
    const slot = must(slots[index], 'a slot');
    const component = id(10 + index);
    const zone = must(slot.zones[n % slot.zones.length], 'a zone').zone;
    const photo = (n % 40).toString(16).padStart(64, 'a');
    const required = must(slot.readings[n % slot.readings.length], 'a reading');
    const clock = (n % 24) / 2 + 0.5;
    const states = characteristicOf(required.characteristic).states;
    const readingZone = must(
      characteristicOf(required.characteristic).zones[slot.kind]?.find((one) =>
        slot.zones.some((s) => s.zone === one),
      ),
      'its zone',
    );
    const pick = n % 10;
    if (pick < 5) {
      const valueMm = 10 + (n % 30) / 10;
      entries.push(
        make(kinds.readingEntered, id(4), {
          reading: id(1000 + n),
          component,
          characteristic: required.characteristic,
          zone: readingZone,
          clock: states.length > 0 ? null : clock,
          state: states[n % Math.max(1, states.length)] ?? null,
          typed: `${valueMm}`,
          defaultUnit: 'mm',
          valueMm,
          instrument: id(3),
          repeat: 1,
          confirmed: false,
          overlap: false,
        }),
      );
    } else if (pick < 7)
      entries.push(make(kinds.zoneLookedAt, id(4), { component, zone, result: 'nothing seen', note: '' }));
    else if (pick === 7) {
      entries.push(
        make(kinds.photoAttached, id(4), {
          photo,
          name: 'p.jpg',
          bytes: 1,
          widthPx: 4000,
          heightPx: 3000,
          component,
          zone,
          clock,
        }),
      );
      entries.push(
        make(kinds.scaleSet, id(4), {
          photo,
          scale: {
            source: 'known length',
            ends: [
              [0, 0],
              [1000, 0],
            ],
            lengthMm: 100,
            typed: '100',
            what: 'tape',
          },
          camera: { widthPx: 4000, heightPx: 3000, focal35Mm: 26, profile: null },
        }),
      );
    } else {
      const points = Array.from({ length: 12 }, (_, i): [number, number] => [
        100 + i * 30,
        200 + ((n + i) % 7) * 11,
      ]);
      const shape =
        pick === 8
          ? { form: 'trace' as const, branches: [points] }
          : { form: 'patch' as const, outline: points };
      entries.push(
        make(kinds.markDrawn, id(4), {
          mark: id(3000 + n),
          photo,
          shape,
          defect: pick === 8 ? 'crack' : 'corrosion',
          component,
          zone,
          clock,
          method: 'visual',
          note: '',
        }),
      );
    }
  }
  return entries.slice(0, ENTRIES);
}

function medianMs(work: () => unknown): number {
  const times = Array.from({ length: RUNS }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  }).sort((a, b) => a - b);
  return must(times[Math.floor(RUNS / 2)], 'a time');
}

const text = JSON.stringify(inspection());
const entries = JSON.parse(text) as Entry[];
const register = foldRegister(registerEntries);
const wheel = must(register.wheels.get(id(2)), 'the wheel');
const { tables } = tablesNamed(must(register.sites.get(id(1)), 'the site').tables);
const whole = () =>
  evaluate(gatherEvidence(foldInspection(entries), wheel, register, '2026-06-01T00:00:00.000Z'), tables);

const parse = () => JSON.parse(text);
medianMs(parse);
medianMs(whole);
const parseMs = medianMs(parse);
const wholeMs = medianMs(whole);
const ratio = wholeMs / parseMs;
console.log(
  JSON.stringify({
    figure: 'fold and evaluate 500 entries against JSON.parse',
    kB: Math.round(text.length / 1000),
    parseMs: Number(parseMs.toFixed(3)),
    foldAndEvaluateMs: Number(wholeMs.toFixed(3)),
    ratio: Number(ratio.toFixed(2)),
    goal: GOAL,
  }),
);
process.exitCode = ratio <= GOAL ? 0 : 1;

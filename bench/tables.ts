import { must } from '../lib/base/index.ts';
import soundFivePiece from '../lib/rules/examples/sound-five-piece.json' with { type: 'json' };
import {
  consequencesOf,
  Evidence,
  evaluate,
  inEffectAlways,
  lookThrough,
  readInspectionFile,
  withDraft,
} from '../lib/rules/index.ts';
import { type Table, tablesNamed } from '../lib/tolerances/index.ts';

/**
 * Assessments of an inspection of 60 readings on 5 components; the consequences of a draft for 10 000 wheels, against a
 * plain loop that parses the JSON of the same evidence; the look through a table while it is typed. One core, one run.
 */
const READINGS = 60;
const WHEELS = 10_000;
const ASSESS_MS = 2_000;
/** Goals: times the plain loop, and MB above it. */
const PREVIEW_RATIO_MAX = 15;
const PREVIEW_MB_MAX = 64;

const read = readInspectionFile(structuredClone(soundFivePiece));
if (!read.ok) throw new Error(JSON.stringify(read.error));
const sound = read.value.evidence;

/** The sound example with its readings repeated until there are 60, each a little off, from a plain seeded sequence. */
function inspection(seed: number): Evidence {
  let state = seed;
  const next = () => {
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
    return state / 2_147_483_648;
  };
  const evidence = structuredClone(sound);
  const given = evidence.parts.flatMap((part) => part.readings.map((reading) => ({ part, reading })));
  // Wear differs from wheel to wheel, so that some lie beyond the draft's limit.
  const worn = next() * 1.6;
  for (let n = 0; n < READINGS; n += 1) {
    const { part, reading } = must(given[n % given.length], 'a reading');
    const valueMm =
      reading.characteristic === 'gutter depth' ? reading.valueMm - worn + next() * 0.05 : reading.valueMm;
    if (n < given.length) Object.assign(reading, { valueMm });
    else part.readings.push({ ...reading, valueMm, id: `${reading.id} ${n}` });
  }
  return evidence;
}

const { tables } = tablesNamed(['29 CFR 1910.177', 'demonstration-quillmoor']);
const own = must(tables[1], 'the demonstration table');
const draft: Table = {
  ...own,
  edition: 'bench',
  rows: own.rows.map((row) =>
    row.type === 'limit' && row.characteristic === 'gutter depth' ? { ...row, keep: { min: 11 } } : row,
  ),
};

function mb(): number {
  globalThis.gc?.();
  return process.memoryUsage().heapUsed / 1e6;
}

function print(figure: Record<string, unknown>): void {
  console.log(JSON.stringify(figure));
}

const one = inspection(1);
const count = one.parts.reduce((sum, part) => sum + part.readings.length, 0);
const warm = performance.now() + 500;
while (performance.now() < warm) evaluate(one, tables);
let done = 0;
const start = performance.now();
while (performance.now() - start < ASSESS_MS) {
  evaluate(one, tables);
  done += 1;
}
print({
  figure: 'assessments per second on one core',
  readings: count,
  components: sound.parts.filter((part) => part.readings.length > 0 || part.looks.length > 0).length,
  rows: tables.reduce((sum, table) => sum + table.rows.length, 0),
  perSecond: Math.round((done / (performance.now() - start)) * 1000),
});

const texts = Array.from({ length: WHEELS }, (_, n) => JSON.stringify(inspection(n + 1)));
const before = inEffectAlways(tables);
const after = inEffectAlways(withDraft(tables, draft));

function timed(work: (text: string) => number): { ms: number; sum: number; mb: number } {
  const at = mb();
  let most = at;
  let sum = 0;
  const from = performance.now();
  texts.forEach((text, n) => {
    sum += work(text);
    if (n % 1000 === 999) most = Math.max(most, process.memoryUsage().heapUsed / 1e6);
  });
  return { ms: performance.now() - from, sum, mb: Math.max(0, most - at) };
}

const plain = timed((text) => (JSON.parse(text) as Evidence).parts.length);
const checked = timed((text) => Evidence.parse(JSON.parse(text)).parts.length);
const previewed = timed((text) => consequencesOf(JSON.parse(text) as Evidence, before, after).changed.length);
const ratio = previewed.ms / plain.ms;
const kept = mb();
print({
  figure: 'preview of consequences for 10 000 wheels against JSON.parse of the same evidence',
  evidenceMB: Math.round(texts.reduce((sum, text) => sum + text.length, 0) / 1e6),
  parseMs: Math.round(plain.ms),
  parseAndCheckMs: Math.round(checked.ms),
  previewMs: Math.round(previewed.ms),
  wheelsPerSecond: Math.round((WHEELS / previewed.ms) * 1000),
  partsChanged: previewed.sum,
  ratio: Number(ratio.toFixed(1)),
  goal: PREVIEW_RATIO_MAX,
  heapMbAtMost: Math.round(previewed.mb),
  heapMbOfParsing: Math.round(plain.mb),
  heapMbInAll: Math.round(kept),
});

/** Rows that all reach one place, each a little stricter than the one before: the most that they can have to do with each other. */
function ofOnePlace(rows: number): Table {
  const limit = must(
    own.rows.find((row) => row.type === 'limit' && row.characteristic === 'gutter depth'),
    'a limit of the gutter depth',
  );
  return {
    ...own,
    edition: 'bench',
    rows: Array.from({ length: rows }, (_, n) => ({
      ...limit,
      row: `row ${n}`,
      keep: { min: 10 + n / 1000 },
      repair: { min: 8 + n / 1000 },
    })),
  };
}

/** The quickest of several looks through a table: both the linter and the search for worse readings. */
function timedLook(table: Table, looks: number): { ms: number; findings: number } {
  const times = Array.from({ length: looks }, () => {
    const from = performance.now();
    const findings = lookThrough(table).length;
    return { ms: performance.now() - from, findings };
  });
  return times.reduce((best, one) => (one.ms < best.ms ? one : best));
}

const looked = [
  { figure: 'look through the demonstration table while it is typed', table: draft, looks: 20, goalMs: 10 },
  { figure: 'look through 15 limits of one place', table: ofOnePlace(15), looks: 20, goalMs: 10 },
  { figure: 'look through 5000 limits of one place', table: ofOnePlace(5000), looks: 3, goalMs: 2_000 },
].map(({ figure, table, looks, goalMs }) => {
  const { ms, findings } = timedLook(table, looks);
  print({ figure, rows: table.rows.length, findings, ms: Number(ms.toFixed(1)), goal: goalMs });
  return ms <= goalMs;
});

const missed = ratio > PREVIEW_RATIO_MAX || previewed.mb > plain.mb + PREVIEW_MB_MAX;
if (missed || looked.includes(false)) process.exitCode = 1;

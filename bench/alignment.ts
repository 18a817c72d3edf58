import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { must } from '../lib/base/index.ts';
import { greyPicture } from '../lib/imaging/server/index.ts';
import { alignLooked, type Looked, loadCv, look } from '../lib/imaging/vision/index.ts';
import {
  type Alignment,
  type GreyPicture,
  isKnownAt,
  mapPoint,
  mapThrough,
  type Point,
  type RimScene,
} from '../lib/photo/index.ts';
import { commonSpots } from './support/correspond.ts';
import { rephotographed } from './support/rephotographed.ts';
import { rimOf } from './support/rimOf.ts';
import { Chance, pairs, quantile, type Truth, truths } from './support/truth.ts';

/**
 * How well two photos of one place are laid over each other, with a card on the rim or without one, and whether photos of
 * different places are refused. Rendered pairs: the same metal months apart, aged, from other places, in other light; where
 * each spot of it is in both pictures the renderer tells. Flat pictures photographed anew by `rephotographed` have an exact
 * truth as well. Errors are told in px of a picture of 12 megapixels (4000 px wide): those of smaller pictures are
 * multiplied accordingly. The series and the pairs called `try` were looked at while the method was made, those called `held`
 * after a first figure was taken of them; those called `fresh` are held out, and flat pictures whose name sums to an odd
 * number. Ends with 1 when a goal is missed on what is held out, or too many different places are laid over each other.
 *
 * Parts: `series`, `try`, `held`, `fresh`, `anew`, `wrong`; all of them when none is named.
 */
const WIDTH_PX = 4000;
const GOALS = { medianPx: 3, success: 0.9, falseAccept: 0.01 } as const;
const PARTS = ['series', 'try', 'held', 'fresh', 'anew', 'wrong'] as const;
const asked = process.argv.slice(2);
for (const part of asked)
  if (!(PARTS as readonly string[]).includes(part))
    throw new Error(`${part}: the parts are ${PARTS.join(', ')}`);
const runs = (part: (typeof PARTS)[number]) => asked.length === 0 || asked.includes(part);
/** Strangers that each picture is laid over, besides two of the same zone. */
const STRANGERS = 2;

const { cv } = await loadCv();
const chance = new Chance(2026);
const single = truths();
const paired = truths(pairs);
const isHeld = (name: string) => [...name].reduce((sum, c) => sum + c.charCodeAt(0), 0) % 2 === 1;

interface Outcome {
  readonly name: string;
  /** Null: refused. */
  readonly alignment: Alignment | null;
  readonly why: string;
  /** Errors at true spots, px at 4000 px wide; `middle`: of those in the middle half of the first picture. */
  readonly errors: readonly number[];
  readonly middle: readonly number[];
  /** Share of the spots that both show of which the map says something. */
  readonly known: number;
  readonly seconds: number;
}

const looked = new Map<string, { picture: GreyPicture; look: Looked; rim: RimScene | null }>();
async function lookedAt(truth: Truth) {
  const known = looked.get(truth.name);
  if (known !== undefined) return known;
  const picture = await greyPicture(readFileSync(join(truth.folder, truth.file)));
  const made = { picture, look: look(cv, picture), rim: rimOf(cv, truth, picture) };
  looked.set(truth.name, made);
  return made;
}

const missed = (alignment: Alignment, from: Point, to: Point) => {
  const [x, y] = mapThrough(alignment.map, from);
  return (Math.hypot(x - to[0], y - to[1]) * WIDTH_PX) / alignment.map.to.widthPx;
};

const inMiddle = ([x, y]: Point, { widthPx: w, heightPx: h }: Truth) =>
  Math.abs(x - w / 2) < w / 4 && Math.abs(y - h / 2) < h / 4;

async function pair(a: Truth, b: Truth, by: 'card' | 'no card', same = true): Promise<Outcome> {
  const [one, other] = [await lookedAt(a), await lookedAt(b)];
  const rims =
    by === 'no card' || one.rim === null || other.rim === null ? null : ([one.rim, other.rim] as const);
  const started = performance.now();
  const result = alignLooked(cv, one.look, other.look, one.picture, other.picture, rims);
  const seconds = (performance.now() - started) / 1000;
  const name = `${a.name} → ${b.name}`;
  if (!result.ok)
    return { name, alignment: null, why: result.error.code, errors: [], middle: [], known: 0, seconds };
  const both = same ? commonSpots(a, b) : [];
  const common = both.filter(({ from }) => isKnownAt(result.value.map, from));
  const errorOf = ({ from, to }: { from: Point; to: Point }) => missed(result.value, from, to);
  return {
    name,
    alignment: result.value,
    why: '',
    errors: common.map(errorOf),
    middle: common.filter(({ from }) => inMiddle(from, a)).map(errorOf),
    known: common.length / Math.max(1, both.length),
    seconds,
  };
}

async function anew(truth: Truth): Promise<Outcome> {
  const { picture, look: first } = await lookedAt(truth);
  const second = rephotographed(picture, chance);
  const other = look(cv, second.picture);
  const started = performance.now();
  const result = alignLooked(cv, first, other, picture, second.picture);
  const seconds = (performance.now() - started) / 1000;
  other.forget();
  if (!result.ok)
    return {
      name: truth.name,
      alignment: null,
      why: result.error.code,
      errors: [],
      middle: [],
      known: 0,
      seconds,
    };
  const errors: number[] = [];
  for (let y = 40; y < picture.heightPx; y += picture.heightPx / 30)
    for (let x = 40; x < picture.widthPx; x += picture.widthPx / 40)
      if (isKnownAt(result.value.map, [x, y]))
        errors.push(missed(result.value, [x, y], mapPoint(second.truth, [x, y])));
  return {
    name: truth.name,
    alignment: result.value,
    why: '',
    errors,
    middle: errors,
    known: 1,
    seconds,
  };
}

const px = (value: number) => (Number.isFinite(value) ? value.toFixed(1) : '–');
function line({ name, alignment, why, errors, middle, known, seconds }: Outcome): string {
  if (alignment === null) return `| ${name} | refused (${why}) | | | | | | | ${seconds.toFixed(1)} |`;
  const own = `${px(((alignment.medianPx ?? Number.NaN) * WIDTH_PX) / alignment.map.to.widthPx)}`;
  return `| ${name} | ${alignment.method} | ${alignment.inliers} | ${own} | ${px(quantile(errors, 0.5))} | ${px(quantile(errors, 0.95))} | ${px(quantile(middle, 0.5))} | ${Math.round(100 * known)} % | ${seconds.toFixed(1)} |`;
}
const share = (count: number, of: number) =>
  of === 0 ? 'not looked at' : `${count} of ${of} (${((100 * count) / of).toFixed(1)} %)`;

/** A pair counts as laid right when the median error is below this, px at 4000 px wide: about 1 mm. */
const RIGHT_PX = 10;
const isRight = ({ alignment, errors }: Outcome) => alignment !== null && quantile(errors, 0.5) < RIGHT_PX;

interface Told {
  readonly success: number;
  readonly medianPx: number;
}

function told(title: string, list: readonly Outcome[]): Told {
  const laid = list.filter(({ alignment }) => alignment !== null);
  const medians = laid.map(({ errors }) => quantile(errors, 0.5));
  const right = list.filter(isRight);
  const all = laid.flatMap(({ errors }) => errors);
  console.log(
    `${title}: laid ${share(laid.length, list.length)}, right ${share(right.length, list.length)}; ` +
      `median of the pairs’ median errors ${px(quantile(medians, 0.5))} px, of all but the worst tenth below ${px(quantile(medians, 0.9))} px; ` +
      `median over all spots ${px(quantile(all, 0.5))} px; ${px(
        quantile(
          list.map(({ seconds }) => seconds),
          0.5,
        ),
      )} s a pair`,
  );
  return { success: right.length / list.length, medianPx: quantile(medians, 0.5) };
}

function table(list: readonly Outcome[]): void {
  console.log('| pair | by | places | own median | true median | true 95 % | in the middle | known | s |');
  console.log('| --- | --- | --- | --- | --- | --- | --- | --- | --- |');
  for (const one of list) console.log(line(one));
}

if (runs('series')) {
  const list: Outcome[] = [];
  for (const name of ['groove', 'flange', 'weld', 'seat']) {
    const dates = single.filter((truth) => new RegExp(`^${name}-[1-4]$`).test(truth.name));
    for (const [i, a] of dates.entries())
      for (const b of dates.slice(i + 1)) list.push(await pair(a, b, 'card'));
  }
  table(list);
  told('Series, looked at', list);
}

const failed: string[] = [];
for (const part of ['try', 'held', 'fresh'] as const) {
  if (!runs(part)) continue;
  const firsts = paired.filter(({ name }) => name.startsWith(part) && name.endsWith('-1'));
  for (const by of ['no card', 'card'] as const) {
    const list: Outcome[] = [];
    for (const a of firsts) {
      const b = must(
        paired.find(({ name }) => name === `${a.name.slice(0, -1)}2`),
        a.name,
      );
      if (by === 'no card' || a.scale !== null) list.push(await pair(a, b, by));
    }
    table(list);
    const { success, medianPx } = told(
      `Pairs ${part === 'fresh' ? 'held out' : 'looked at'}, ${by === 'card' ? 'by their cards' : 'without a card'}`,
      list,
    );
    if (part === 'fresh' && !(success >= GOALS.success)) failed.push(`${by}: right ${success}`);
    if (part === 'fresh' && !(medianPx <= GOALS.medianPx)) failed.push(`${by}: median ${px(medianPx)} px`);
  }
}

if (runs('anew')) {
  const again: Outcome[] = [];
  for (const truth of single) again.push(await anew(truth));
  for (const one of again.filter((outcome) => !isRight(outcome))) console.log(line(one));
  told(
    'Photographed anew, looked at',
    again.filter(({ name }) => !isHeld(name)),
  );
  const { success, medianPx } = told(
    'Photographed anew, held out',
    again.filter(({ name }) => isHeld(name)),
  );
  if (!(success >= GOALS.success)) failed.push(`anew: right ${success}`);
  if (!(medianPx <= GOALS.medianPx)) failed.push(`anew: median ${px(medianPx)} px`);
}

if (runs('wrong')) {
  const wrong: Outcome[] = [];
  const all = [...single, ...paired];
  for (const [i, a] of all.entries()) {
    const strangers = all.filter((b) => b.wheel !== a.wheel || b.zone !== a.zone || b.slot !== a.slot);
    const alike = strangers.filter((b) => b.zone === a.zone);
    const chosen = [
      ...alike.slice(0, 2),
      ...Array.from({ length: STRANGERS }, (_, k) =>
        must(strangers[(i * 7 + k * 13) % strangers.length], 'stranger'),
      ),
    ];
    for (const b of new Set(chosen)) wrong.push(await pair(a, b, 'card', false));
  }
  const accepted = wrong.filter(({ alignment }) => alignment !== null);
  for (const one of accepted) console.log(line(one));
  console.log(`Different places laid over each other: ${share(accepted.length, wrong.length)}`);
  if (accepted.length > GOALS.falseAccept * wrong.length) failed.push(`wrong ones laid: ${accepted.length}`);
}
for (const { look: one } of looked.values()) one.forget();
if (failed.length > 0) {
  console.error(`Missed: ${failed.join('; ')}`);
  process.exit(1);
}

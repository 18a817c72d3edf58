import { CholeskyDecomposition, type Matrix } from 'ml-matrix';
import { sharesOf } from './estimate.ts';
import type { Point } from './homography.ts';
import type { Placing } from './placement.ts';
import type { Reference } from './reference.ts';
import { continued, type Lines, sizeOn, type Taking } from './size.ts';

/** One named part of an uncertainty, in the unit of the value. */
export interface Contribution {
  readonly name: string;
  readonly u: number;
}

/** What a size depends on: the located reference, the placed surface and the picked points. */
export interface Model {
  readonly reference: Reference;
  readonly placing: Placing;
  readonly lines: Lines;
  readonly taking: Taking;
  /** Standard uncertainty of one coordinate of a picked point, px. */
  readonly pickU: number;
}

export interface Propagated {
  readonly value: number;
  readonly u: number;
  /** Largest first. */
  readonly contributions: readonly Contribution[];
  readonly by: 'first order' | 'Monte Carlo';
}

export const PICK_EVIDENCE = 'picking the points of the mark';

function valueAt(
  { reference, placing, taking }: Model,
  values: readonly number[],
  unknowns: readonly number[],
  lines: Lines,
  chordMm?: number,
): number | null {
  const view = reference.viewOf(values);
  return sizeOn(placing.surfaceOf(view, unknowns), view.lens, lines, taking, chordMm);
}

/** First and second derivative times the step, from values one step either way; one-sided where one side is missing. */
function slopes(
  taking: Taking,
  middle: number,
  moved: (sign: 1 | -1) => number | null,
): { first: number; second: number } | null {
  const near = (one: number | null) => (one === null ? null : continued(taking, middle, one));
  const [plus, minus] = [near(moved(1)), near(moved(-1))];
  if (plus !== null && minus !== null)
    return { first: (plus - minus) / 2, second: plus - 2 * middle + minus };
  const one = plus ?? minus;
  return one === null ? null : { first: one - middle, second: one - middle };
}

/**
 * Where second-order terms reach this share of the variance, first order is not trusted and Monte Carlo is used: then
 * the first-order standard uncertainty is wrong by some five percent (JCGM 100, 5.1.2, note).
 */
const CURVED_SHARE = 0.1;

/**
 * Standard uncertainty of a size to first order by central differences of one standard uncertainty (JCGM 100,
 * 5.1.2 and 5.1.3), each source of evidence apart; where the second order counts, by seeded Monte Carlo (JCGM 101).
 * Null when a line of sight misses the surface.
 */
export function propagate(model: Model, draws = DRAWS): Propagated | null {
  const linear = firstOrder(model);
  if (linear === null) return null;
  const { value, curved } = linear;
  const contributions = withDoubt(linear.contributions, model, value);
  const u = Math.hypot(...contributions.map((one) => one.u));
  if (curved <= CURVED_SHARE * u * u) return { value, u, contributions, by: 'first order' };
  const lines = thinned(model.lines);
  const spread = monteCarlo({ ...model, lines }, draws);
  if (spread === null) return null;
  const doubt = contributions.find(({ name }) => name === DOUBT)?.u ?? 0;
  return { value, u: Math.max(u, Math.hypot(spread.u, doubt)), contributions, by: 'Monte Carlo' };
}

const DOUBT = 'where the reference lies is in doubt';

/** Adds the spread between the poses and the surfaces that may be meant, weighted by how likely each is. */
function withDoubt(contributions: readonly Contribution[], model: Model, value: number): Contribution[] {
  const { reference, placing } = model;
  const others: { weight: number; model: Model }[] = [
    ...placing.alternatives.map((one) => ({ weight: one.weight, model: { ...model, placing: one.placing } })),
    ...reference.alternatives.map((one) => ({
      weight: one.weight,
      model: { ...model, reference: one.reference },
    })),
  ];
  const square = others.reduce((sum, { weight, model: other }) => {
    const still = other.placing.unknowns.map(() => 0);
    const size = valueAt(other, other.reference.estimate.values, still, other.lines);
    return sum + (size === null ? 0 : weight * apart(model.taking, value, size) ** 2);
  }, 0);
  return square === 0
    ? [...contributions]
    : [...contributions, { name: DOUBT, u: Math.sqrt(square) }].sort((a, b) => b.u - a.u);
}

/** From one size of the same lines to another, in their unit; which way round an outline runs is left out. */
function apart(taking: Taking, from: number, to: number): number {
  return taking === 'angle' ? continued(taking, from, to) - from : Math.abs(to) - Math.abs(from);
}

/** How much of a line the uncertainty is worked out from: no more points than this of each, and chords this long, mm. */
const THIN_POINTS = 60;
const THIN_CHORD_MM = 20;

/** Every k-th point of long lines, ends included: enough for how a size changes, not for the size. */
function thinned(lines: Lines): Lines {
  return lines.map((line) => {
    const step = Math.ceil(line.length / THIN_POINTS);
    return step === 1 ? line : line.filter((_, i) => i % step === 0 || i === line.length - 1);
  });
}

/** Value, contributions and the second-order part of the variance. */
export function firstOrder(
  model: Model,
): { value: number; contributions: Contribution[]; curved: number } | null {
  const { reference, placing, pickU } = model;
  const base = reference.estimate.values;
  const still = placing.unknowns.map(() => 0);
  const value = valueAt(model, base, still, model.lines);
  const lines = thinned(model.lines);
  const at = (values: readonly number[], unknowns: readonly number[]) =>
    valueAt(model, values, unknowns, lines, THIN_CHORD_MM);
  const middle = at(base, still);
  if (value === null || middle === null) return null;
  // What the thinned lines lose of the size they lose of its changes as well.
  const kept = middle === 0 ? 1 : value / middle;
  const slopeOf = (moved: (sign: 1 | -1) => number | null) => slopes(model.taking, middle, moved);
  const moving = (by: readonly number[]) => (sign: 1 | -1) =>
    at(
      base.map((one, k) => one + sign * (by[k] ?? 0)),
      still,
    );
  let curved = 0;
  const gradient: number[] = [];
  for (let i = 0; i < base.length; i += 1) {
    const step = Math.sqrt(reference.estimate.covariance.get(i, i));
    const slope = slopeOf(moving(base.map((_, k) => (k === i ? step : 0))));
    if (slope === null) return null;
    gradient.push((kept * slope.first) / step);
  }
  const parts = new Map<string, number>();
  const put = (name: string, u: number) => parts.set(name, Math.hypot(parts.get(name) ?? 0, u));
  for (const { name, u } of sharesOf(reference.estimate, gradient)) put(name, u);
  for (const [i, { name, u }] of placing.unknowns.entries()) {
    if (u === 0) continue;
    const slope = slopeOf((sign) =>
      at(
        base,
        still.map((_, k) => (k === i ? sign * u : 0)),
      ),
    );
    if (slope === null) return null;
    curved += (kept * slope.second) ** 2 / 2;
    put(name, kept * slope.first);
  }
  for (const direction of principalSteps(reference.estimate.covariance)) {
    curved += (kept * (slopeOf(moving(direction))?.second ?? 0)) ** 2 / 2;
  }
  put(PICK_EVIDENCE, pickSpread(model) * pickU);
  const contributions = [...parts].map(([name, u]) => ({ name, u })).sort((a, b) => b.u - a.u);
  return { value, contributions, curved };
}

/** Independent steps of one standard uncertainty each: the columns of the covariance’s Cholesky factor. */
function principalSteps(covariance: Matrix): number[][] {
  const factor = new CholeskyDecomposition(covariance).lowerTriangularMatrix;
  return Array.from({ length: factor.columns }, (_, j) => factor.getColumn(j));
}

/**
 * Root sum of squares of the derivatives by every coordinate of the picked points. Moving one point changes only what
 * lies between its neighbours, so each derivative is taken there and the whole is linear in the points; an angle is taken
 * with all three of its points.
 */
function pickSpread({ reference, placing, lines, taking }: Model): number {
  const { values } = reference.estimate;
  const view = reference.viewOf(values);
  const surface = placing.surfaceOf(
    view,
    placing.unknowns.map(() => 0),
  );
  const STEP_PX = 0.5;
  let squares = 0;
  for (const line of lines) {
    const n = line.length;
    line.forEach(([x, y], i) => {
      const before = line[taking === 'area' ? (i + n - 1) % n : i - 1];
      const after = line[taking === 'area' ? (i + 1) % n : i + 1];
      const by = (dx: number, dy: number) => {
        const moved = [x + dx, y + dy] as const;
        const near = [before, moved, after].filter((point) => point !== undefined);
        return sizeOn(surface, view.lens, [taking === 'angle' ? line.with(i, moved) : near], taking);
      };
      const middle = by(0, 0);
      for (const [dx, dy] of middle === null ? [] : STEPS) {
        const slope = slopes(taking, middle ?? 0, (sign) => by(sign * dx * STEP_PX, sign * dy * STEP_PX));
        squares += ((slope?.first ?? 0) / STEP_PX) ** 2;
      }
    });
  }
  return Math.sqrt(squares);
}

const STEPS = [
  [1, 0],
  [0, 1],
] as const;
const DRAWS = 200;
/** Draws that must count in effect; where the weights leave fewer, more are drawn, up to this many times as many. */
const EFFECTIVE_DRAWS = 60;
const MORE_DRAWS = 8;
/** A size that misses the surface in more draws than this share has no uncertainty worth stating. */
const MISSED_SHARE = 0.1;

/**
 * Spread about the nominal value over draws from all distributions, normal each, seeded, so that it can be repeated.
 * The unknowns of the reference are drawn from the first-order covariance and weighted by what the evidence itself
 * says of each draw (importance sampling; Robert & Casella, Monte Carlo Statistical Methods, 3.3): a plane seen
 * squarely may lean less than the first order admits. Null where too many draws miss the surface.
 */
export function monteCarlo(model: Model, draws: number): { mean: number; u: number } | null {
  const { reference, placing, lines, pickU } = model;
  const { values, covariance, chiSquare, chiSquareAt } = reference.estimate;
  const factor = new CholeskyDecomposition(covariance).lowerTriangularMatrix;
  const nominal = valueAt(
    model,
    values,
    placing.unknowns.map(() => 0),
    lines,
    THIN_CHORD_MM,
  );
  if (nominal === null) return null;
  const normal = normals(20_260_401);
  let [all, missed, squaredWeights, sum, squares] = [0, 0, 0, 0, 0];
  for (let n = 0; n < draws * MORE_DRAWS; n += 1) {
    if (n >= draws && (all * all) / squaredWeights >= EFFECTIVE_DRAWS) break;
    const z = values.map(() => normal());
    const drawn = values.map(
      (one, i) => one + z.slice(0, i + 1).reduce((total, zk, k) => total + factor.get(i, k) * zk, 0),
    );
    const excess = chiSquareAt(drawn) - chiSquare - z.reduce((total, zk) => total + zk * zk, 0);
    const weight = Math.min(1, Math.exp(-excess / 2));
    const unknowns = placing.unknowns.map(({ u }) => u * normal());
    const picked = lines.map((line) =>
      line.map(([x, y]): Point => [x + pickU * normal(), y + pickU * normal()]),
    );
    const one = weight < 1e-6 ? nominal : valueAt(model, drawn, unknowns, picked, THIN_CHORD_MM);
    all += weight;
    squaredWeights += weight * weight;
    if (one === null) missed += weight;
    else {
      const off = continued(model.taking, nominal, one) - nominal;
      sum += weight * off;
      squares += weight * off ** 2;
    }
  }
  if (missed > MISSED_SHARE * all) return null;
  return { mean: nominal + sum / (all - missed), u: Math.sqrt(squares / (all - missed)) };
}

/** Normal numbers by Box and Muller from a 32-bit generator (mulberry32, public domain): the same ones each time. */
function normals(seed: number): () => number {
  let state = seed;
  const uniform = () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

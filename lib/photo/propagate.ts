import { CholeskyDecomposition, type Matrix } from 'ml-matrix';
import { sharesOf } from './estimate.ts';
import { DRAWS, monteCarlo } from './monteCarlo.ts';
import { atBest } from './placement.ts';
import { continued, type Lines, sizeOn, type Taking } from './size.ts';
import { type Model, THIN_CHORD_MM, valueAt } from './sizeModel.ts';

/** One named part of an uncertainty, in the unit of the value. */
export interface Contribution {
  readonly name: string;
  readonly u: number;
}

export interface Propagated {
  readonly value: number;
  readonly u: number;
  /** Largest first. */
  readonly contributions: readonly Contribution[];
  readonly by: 'first order' | 'Monte Carlo';
}

export const PICK_EVIDENCE = 'picking the points of the mark';

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
    const size = valueAt(other, other.reference.estimate.values, [], other.lines);
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

/** How much of a line the uncertainty is worked out from: no more points than this of each. */
const THIN_POINTS = 60;

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
  const { view, surface } = atBest(reference, placing);
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

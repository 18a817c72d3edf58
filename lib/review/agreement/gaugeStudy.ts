import fCdf from '@stdlib/stats-base-dists-f-cdf';
import { fail, mean, ok, type Problem, problem, type Result } from '../../base/index.ts';

/** Readings of a gauge study: by part, then by person, then by trial; every one with as many people and trials. */
export type StudyReadings = readonly (readonly (readonly number[])[])[];

/** Standard deviations of a gauge study, in the unit of the readings. */
export interface GaugeStudy {
  readonly parts: number;
  readonly people: number;
  readonly trials: number;
  /** One person reading one part again. */
  readonly repeatability: number;
  /** Between people. */
  readonly reproducibility: number;
  /** Both together: what the measuring itself scatters. */
  readonly gauge: number;
  /** Between the parts. */
  readonly part: number;
  readonly total: number;
  /** Each over the total, percent; only their squares add up to 100². */
  readonly percent: {
    readonly repeatability: number;
    readonly reproducibility: number;
    readonly gauge: number;
    readonly part: number;
  };
  /** How many classes of parts the gauge tells apart: 1.41 times part over gauge, cut to a whole number; null without scatter. */
  readonly distinct: number | null;
}

/** Analysis of variance of a gauge study, parts and people drawn at random. */
export interface GaugeAnalysis extends GaugeStudy {
  readonly meanSquares: {
    readonly parts: number;
    readonly people: number;
    readonly interaction: number;
    readonly repeatability: number;
  };
  /** Probability of so large an interaction by chance; F is the interaction over the repeatability. */
  readonly interactionF: number;
  readonly interactionP: number;
  /** The interaction was counted as repeatability because it may well be chance. */
  readonly pooled: boolean;
  /** Standard deviation of the interaction; 0 where it was pooled or came out negative. */
  readonly interaction: number;
}

/** Interactions likelier than this by chance are pooled (AIAG Measurement Systems Analysis, 4th edition, chapter III). */
const POOLED_FROM = 0.25;

/** Constants 1/d2* of the average-range method by number of trials, people and parts (the same manual; appendix C). */
const K1: Readonly<Record<number, number>> = { 2: 0.8862, 3: 0.5908 };
const K2: Readonly<Record<number, number>> = { 2: Math.SQRT1_2, 3: 0.5231 };
const K3: Readonly<Record<number, number>> = {
  2: Math.SQRT1_2,
  3: 0.5231,
  4: 0.4467,
  5: 0.403,
  6: 0.3742,
  7: 0.3534,
  8: 0.3375,
  9: 0.3249,
  10: 0.3146,
};

const range = (values: readonly number[]) => Math.max(...values) - Math.min(...values);

function checked(readings: StudyReadings): Result<{ p: number; o: number; r: number }, Problem> {
  const [p, o, r] = [readings.length, readings[0]?.length ?? 0, readings[0]?.[0]?.length ?? 0];
  const full = readings.every(
    (part) => part.length === o && part.every((own) => own.length === r && own.every(Number.isFinite)),
  );
  return full && p >= 2 && o >= 2 && r >= 2
    ? ok({ p, o, r })
    : fail(
        problem(
          'study-readings',
          'readings',
          `${p} parts × ${o} people × ${r} trials`,
          'A gauge study needs two parts, people and trials or more, and every reading of them',
          'Have the readings that are missing taken, or leave the part, person or trial out.',
        ),
      );
}

function studyOf(
  size: { p: number; o: number; r: number },
  repeatability: number,
  reproducibility: number,
  part: number,
): GaugeStudy {
  const gauge = Math.hypot(repeatability, reproducibility);
  const total = Math.hypot(gauge, part);
  const share = (one: number) => (total > 0 ? (100 * one) / total : 0);
  return {
    parts: size.p,
    people: size.o,
    trials: size.r,
    repeatability,
    reproducibility,
    gauge,
    part,
    total,
    percent: {
      repeatability: share(repeatability),
      reproducibility: share(reproducibility),
      gauge: share(gauge),
      part: share(part),
    },
    distinct: gauge > 0 ? Math.trunc((1.41 * part) / gauge) : null,
  };
}

/**
 * Gauge study by average and range (AIAG Measurement Systems Analysis, 4th edition, chapter III), in standard
 * deviations. Two or three trials and people, two to ten parts: the constants are known for these. Fails outside, and
 * for readings with gaps.
 */
export function byAverageRange(readings: StudyReadings): Result<GaugeStudy, Problem> {
  const size = checked(readings);
  if (!size.ok) return size;
  const { p, o, r } = size.value;
  const [k1, k2, k3] = [K1[r], K2[o], K3[p]];
  if (k1 === undefined || k2 === undefined || k3 === undefined) {
    return fail(
      problem(
        'study-size',
        'readings',
        `${p} parts × ${o} people × ${r} trials`,
        'Average and range go with two or three trials and people and two to ten parts',
        'Use the analysis of variance.',
      ),
    );
  }
  const meanRange = mean(readings.flatMap((part) => part.map(range)));
  const byPerson = Array.from({ length: o }, (_, j) => mean(readings.flatMap((part) => part[j] ?? [])));
  const repeatability = meanRange * k1;
  const between = (range(byPerson) * k2) ** 2 - repeatability ** 2 / (p * r);
  const part = range(readings.map((one) => mean(one.flat()))) * k3;
  return ok(studyOf(size.value, repeatability, Math.sqrt(Math.max(0, between)), part));
}

/**
 * Gauge study by a two-way crossed analysis of variance, parts and people random (the same manual): people and parts are
 * compared with the interaction; where that may be chance (p above 0.25) it is pooled with the repeatability. Negative
 * variances are reported as 0. Fails for readings with gaps, and where every reading is alike.
 */
export function byVariance(readings: StudyReadings, pooling = true): Result<GaugeAnalysis, Problem> {
  const size = checked(readings);
  if (!size.ok) return size;
  const { p, o, r } = size.value;
  const grand = mean(readings.flat(2));
  const from = (values: readonly number[], centre: number) =>
    values.reduce((sum, one) => sum + (one - centre) ** 2, 0);
  const byPart = readings.map((part) => mean(part.flat()));
  const byPerson = Array.from({ length: o }, (_, j) => mean(readings.flatMap((part) => part[j] ?? [])));
  const SSpart = o * r * from(byPart, grand);
  const SSpeople = p * r * from(byPerson, grand);
  const SSwithin = readings.flat().reduce((sum, own) => sum + from(own, mean(own)), 0);
  const SScells = r * from(readings.flat().map(mean), grand);
  const SSinteraction = Math.max(0, SScells - SSpart - SSpeople);
  const [dfInteraction, dfWithin] = [(p - 1) * (o - 1), p * o * (r - 1)];
  const meanSquares = {
    parts: SSpart / (p - 1),
    people: SSpeople / (o - 1),
    interaction: SSinteraction / dfInteraction,
    repeatability: SSwithin / dfWithin,
  };
  if (!(meanSquares.repeatability > 0)) {
    return fail(
      problem(
        'study-alike',
        'readings',
        meanSquares.repeatability,
        'Every person read every part alike each time, so there is no scatter to compare with',
        'Read with a finer instrument, or note that the scatter is below its step.',
      ),
    );
  }
  const interactionF = meanSquares.interaction / meanSquares.repeatability;
  const interactionP = 1 - fCdf(interactionF, dfInteraction, dfWithin);
  const pooled = pooling && interactionP > POOLED_FROM;
  const within = pooled ? (SSinteraction + SSwithin) / (dfInteraction + dfWithin) : meanSquares.repeatability;
  const against = pooled ? within : meanSquares.interaction;
  const root = (variance: number) => Math.sqrt(Math.max(0, variance));
  const interaction = pooled ? 0 : root((meanSquares.interaction - meanSquares.repeatability) / r);
  const people = root((meanSquares.people - against) / (p * r));
  const part = root((meanSquares.parts - against) / (o * r));
  return ok({
    ...studyOf(size.value, Math.sqrt(within), Math.hypot(people, interaction), part),
    meanSquares,
    interactionF,
    interactionP,
    pooled,
    interaction,
  });
}

/** What a gauge study says of the gauge: our own words for the manual’s three classes. */
export type GaugeClass = 'good enough' | 'doubtful' | 'not good enough';

/**
 * Class of a gauge by its share of the total scatter: up to 10 % good enough, up to 30 % doubtful, above not (the same
 * manual, which leaves 10 % and 30 % themselves open; here they belong to the better class).
 */
export function gaugeClass(percentGauge: number): GaugeClass {
  return percentGauge <= 10 ? 'good enough' : percentGauge <= 30 ? 'doubtful' : 'not good enough';
}

/** Classes of parts that a gauge must tell apart to be of use (the same manual). */
export const DISTINCT_MIN = 5;

/** Six standard deviations of the gauge over a tolerance, percent: the share of the tolerance that measuring eats. */
export function percentOfTolerance(gauge: number, tolerance: number): number {
  return (100 * 6 * gauge) / tolerance;
}

/** Standard deviations pooled by their degrees of freedom (NIST/SEMATECH e-Handbook, 2.4.4.3). Null for none. */
export function pooledDeviation(
  studies: readonly { readonly sd: number; readonly degrees: number }[],
): { readonly sd: number; readonly degrees: number } | null {
  const degrees = studies.reduce((sum, one) => sum + one.degrees, 0);
  if (!(degrees > 0)) return null;
  const squares = studies.reduce((sum, one) => sum + one.degrees * one.sd ** 2, 0);
  return { sd: Math.sqrt(squares / degrees), degrees };
}

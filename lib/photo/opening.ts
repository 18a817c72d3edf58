import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import {
  checkInside,
  checkPicture,
  type Encoding,
  type GreyPicture,
  lightTable,
  medianOf,
  noiseIn,
  spreadOf,
  windowAround,
} from './grey.ts';
import type { Point } from './homography.ts';
import {
  type BlurRange,
  blurAbout,
  type DipOnStrip,
  RANGE_IN_U,
  refitted,
  sharedBlur,
} from './openingBlur.ts';
import { type FittedDip, fitDip, PIXEL_VARIANCE } from './openingFit.ts';
import { roughDip, type Station, stationsOn, stripAt } from './strip.ts';

/** How the opening is taken; every field has a default. */
export interface OpeningSearch {
  /** Distance between profiles along the trace, px, 2 or more. Default 4. */
  readonly everyPx?: number;
  /** How far a profile reaches to both sides, px. Default 20: enough for openings of about 24 px. */
  readonly reachPx?: number;
  /** How far the crack may lie beside the trace, px. Default 4. */
  readonly searchPx?: number;
  /** Blur of the lens near the crack, standard deviation, px; null: taken from the profiles. Default null. */
  readonly blurPx?: number | null;
  /** Depth of the dark line in multiples of the noise below which a profile does not count. Default 6. */
  readonly depthMin?: number;
  /** Default `sRGB`. */
  readonly encoding?: Encoding;
}

/** Width of the dark line of a crack in px. */
export type Opening =
  | {
      readonly known: 'width';
      readonly medianPx: number;
      /** Largest of the medians of three neighbouring profiles. */
      readonly largestPx: number;
      /** Standard uncertainty of the median and of the largest, px. */
      readonly uPx: number;
      readonly largestUPx: number;
      readonly blurPx: number;
      readonly profiles: number;
      /** Of these, narrower than the blur lets through; they count as narrower than the median. */
      readonly unresolved: number;
    }
  | {
      /** The crack is narrower than the blur: only that it is not wider than this is known. */
      readonly known: 'upper bound';
      readonly atMostPx: number;
      readonly profiles: number;
    };

/** A line of less than this many standard deviations of the blur has no bottom to read the full depth from. */
const RESOLVED = 2;
/** How much of the metal beside the line is fitted with it, px: enough for a blur of about 1.5 px, too little for stains. */
const BESIDE_PX = 4;
/** Most profiles along a trace; on a longer one they stand further apart. */
const PROFILES_MAX = 80;
/** Fewest profiles that an answer rests on. */
const PROFILES_MIN = 5;
/** Share of the profiles looked at that must show a dark line. */
const SHOWN_SHARE = 0.5;
/** Two edges of 0.05 px, and what the tone curve and JPEG of a phone do to a dark line: own choice, px. */
const MODEL_U_PX = 0.1;
/** Where the blurs that fit make the width differ by more than this share of it, only the larger end is told. Own choice. */
const RANGE_MAX_SHARE = 0.6;

interface Dip extends DipOnStrip {
  readonly station: Station;
}

const refusal = (code: string, field: string, value: unknown, message: string, wayOut: string) =>
  fail(problem(code, field, value, message, wayOut));

function checkSearch(search: Required<OpeningSearch>): Problem | null {
  const least = { everyPx: 2, reachPx: 6, searchPx: 0, depthMin: 0 } as const;
  for (const [field, min] of Object.entries(least) as [keyof typeof least, number][]) {
    if (!(Number.isFinite(search[field]) && search[field] >= min)) {
      return problem('opening-search', field, search[field], `This must be ${min} or more`, 'Leave it out.');
    }
  }
  return search.blurPx === null || (Number.isFinite(search.blurPx) && search.blurPx >= 0)
    ? null
    : problem('opening-search', 'blurPx', search.blurPx, 'A blur is 0 px or more', 'Leave it out.');
}

/** Dark lines at the stations that show one deep enough, blur free. */
function dipsAlong(
  picture: GreyPicture,
  stations: readonly Station[],
  search: Required<OpeningSearch>,
  light: Float64Array,
): Dip[] {
  const given = search.blurPx === null ? null : Math.sqrt(search.blurPx ** 2 + PIXEL_VARIANCE);
  const found: Dip[] = [];
  for (const station of stations) {
    const whole = stripAt(picture, station, search.reachPx, light);
    const rough = whole === null ? null : roughDip(whole, search.reachPx, search.searchPx);
    if (whole === null || rough === null) continue;
    const near = rough.width / 2 + BESIDE_PX;
    const strip = whole.filter(({ across }) => Math.abs(across - rough.centre) <= near);
    const start = Math.max(1, rough.width - 0.5);
    const fit = fitDip(strip, { centre: rough.centre, width: start, blur: given ?? 1 }, given);
    if (fit === null || Math.abs(fit.centre - rough.centre) > near) continue;
    const noise = noiseIn(picture, windowAround(picture, [station.at], search.reachPx), light);
    if (fit.depth >= search.depthMin * Math.max(noise, fit.scatter)) found.push({ ...fit, station, strip });
  }
  return found;
}

const resolved = ({ width, blur }: FittedDip) => width >= RESOLVED * blur;

/** Widths square to the crack itself, which may run askew to the trace as picked: by the centres of the neighbours. */
function straightened(dips: readonly Dip[], everyPx: number): number[] {
  return dips.map((dip, i) => {
    const [before, after] = [dips[i - 1] ?? dip, dips[i + 1] ?? dip];
    const way = after.station.wayPx - before.station.wayPx;
    if (way === 0 || way > 3 * everyPx) return dip.width;
    return dip.width * Math.cos(Math.atan((after.centre - before.centre) / way));
  });
}

/** Standard error of a median, √(π/2) times that of a mean; the crack’s own changes of width count as scatter. */
const uOfMedian = (widths: readonly number[]) => (1.2533 * spreadOf(widths)) / Math.sqrt(widths.length);

/** The answer from the widths with the best blur and with the ends of its range. */
function answerOf(free: readonly Dip[], blur: BlurRange, everyPx: number): Opening {
  const dips = refitted(free, blur.best);
  const widths = straightened(dips, everyPx);
  const widest = straightened(refitted(free, blur.least), everyPx);
  const narrowest = straightened(refitted(free, blur.most), everyPx);
  const unresolved = dips.filter((dip) => !resolved(dip)).length;
  const medianPx = medianOf(widths);
  const range = medianOf(widest) - medianOf(narrowest);
  if (2 * unresolved >= widths.length || range > RANGE_MAX_SHARE * medianPx) {
    const u = Math.hypot(uOfMedian(widest), MODEL_U_PX);
    return { known: 'upper bound', atMostPx: medianOf(widest) + 2 * u, profiles: widest.length };
  }
  const common = Math.hypot(range / (2 * RANGE_IN_U), MODEL_U_PX);
  const runs = widths.map((width, i) => medianOf([widths[i - 1] ?? width, width, widths[i + 1] ?? width]));
  const largestPx = Math.max(...runs);
  return {
    known: 'width',
    medianPx,
    largestPx,
    uPx: Math.hypot(uOfMedian(widths), common),
    largestUPx: Math.hypot(dips[runs.indexOf(largestPx)]?.widthU ?? 0, common),
    blurPx: Math.sqrt(Math.max(0, blur.best ** 2 - PIXEL_VARIANCE)),
    profiles: widths.length,
    unresolved,
  };
}

/**
 * Opening of a crack from the light across it, in px; the caller turns px into mm with the surface.
 *
 * Every `everyPx` along the trace the pixels across it are fitted with a dark line of even width between two levels of
 * light on an even slope, blurred by a Gaussian: the width is the missing light divided by the full depth. The blur is
 * one for all profiles, from those where the line is wide enough to show its edges, or given. Where the line is
 * narrower than two standard deviations of the blur, its bottom is not reached and depth and width cannot be told
 * apart; where that is so for half of the profiles the answer is an upper bound.
 *
 * The uncertainty is that of the width of the dark line as the picture shows it: the scatter of the profiles (the
 * crack’s own changes of width in it), the blur, and 0.1 px for the model. On drawn lines of 3 to 12 px with noise on an
 * uneven ground ±2u holds the truth. It does NOT hold the opening of the metal: rust, shadow and dirt along the mouth
 * are dark as well and read as opening. On the rendered cracks the line is wider than the opening asked of the renderer
 * by 0.3 mm in the median (0.0 to 0.9 mm for four of five), and ±2u holds that opening in 2 of 16 (bench/openings.ts).
 * The largest width is that of the noisiest profiles too, and leans high. Show it as the width of the dark line.
 *
 * Refused: fewer than 5 profiles, or less than half of those looked at, with a dark line of `depthMin` times the noise
 * within `searchPx` of the trace; a trace of fewer than two points or off the picture.
 */
export function crackOpening(
  picture: GreyPicture,
  trace: readonly Point[],
  search: OpeningSearch = {},
): Result<Opening, Problem> {
  const checked = checkPicture(picture);
  if (!checked.ok) return checked;
  const whole: Required<OpeningSearch> = {
    ...{ everyPx: 4, reachPx: 20, searchPx: 4, blurPx: null, depthMin: 6, encoding: 'sRGB' },
    ...search,
  };
  const wrong = checkSearch(whole);
  if (wrong !== null) return fail(wrong);
  for (const [k, point] of trace.entries()) {
    const inside = checkInside(picture, `trace[${k}]`, point);
    if (!inside.ok) return inside;
  }
  const stations = trace.length < 2 ? [] : stationsOn(trace, whole.everyPx, PROFILES_MAX);
  if (stations.length < PROFILES_MIN) {
    const least = PROFILES_MIN * whole.everyPx;
    const what = `A trace of at least ${least} px is needed for ${PROFILES_MIN} profiles`;
    return refusal('opening-short', 'trace', `${trace.length} points`, what, 'Move closer.');
  }
  const free = dipsAlong(picture, stations, whole, lightTable(whole.encoding));
  if (free.length < Math.max(PROFILES_MIN, SHOWN_SHARE * stations.length)) {
    return refusal(
      'opening-contrast',
      'trace',
      `${free.length} of ${stations.length} profiles`,
      'Too few places along the trace show a dark line that stands out',
      'Move closer, add light from the side, or draw the trace nearer to the crack.',
    );
  }
  const blur =
    whole.blurPx === null ? sharedBlur(free) : blurAbout(Math.sqrt(whole.blurPx ** 2 + PIXEL_VARIANCE));
  return blur === null
    ? refusal('opening-fit', 'trace', trace.length, 'The profiles fit no dark line', 'Draw the trace again.')
    : ok(answerOf(free, blur, whole.everyPx));
}

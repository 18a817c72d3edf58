import type { FittedDip, StripPixel } from './openingFit.ts';
import { fitDip, PIXEL_VARIANCE } from './openingFit.ts';

/** A dark line with the strip that it was fitted to. */
export interface DipOnStrip extends FittedDip {
  readonly strip: readonly StripPixel[];
}

/** Blur that lines have in common, the pixel’s own square in it, px: best, and the least and most that fit. */
export interface BlurRange {
  readonly best: number;
  readonly least: number;
  readonly most: number;
}

/** Standard uncertainties from the best to the ends of a range. */
export const RANGE_IN_U = 2.5;
/**
 * Texture makes neighbouring pixels alike, so that their squares tell less than they seem to: twice the squares are
 * asked for. Own choice.
 */
const TEXTURE = 2;
/**
 * Relative standard uncertainty of any blur, however well it fits or is given: real blur is not a Gaussian, and it
 * changes across the picture. Own choice.
 */
const SHARE_U = 0.08;
/** Lines that the blur is taken from at most, evenly chosen. */
const LINES_MAX = 24;
const FACTOR = 1.2;
const MOST_PX = 5;

/** The same lines with one blur for all; lines that cannot be fitted with it are left out. */
export function refitted<T extends DipOnStrip>(dips: readonly T[], blur: number): T[] {
  return dips.flatMap((dip) => {
    const spread = dip.width ** 2 + 12 * (dip.blur ** 2 - blur ** 2);
    const fit = fitDip(dip.strip, { ...dip, width: Math.sqrt(Math.max(spread, blur ** 2)) }, blur);
    return fit === null ? [] : [{ ...dip, ...fit }];
  });
}

/**
 * The blur that all lines share, by the sum of their squares as a function of it, each line free in its place, width
 * and levels (profile likelihood: Venzon and Moolgavkar, Applied Statistics 37, 1988). Where the lines are narrow many
 * blurs fit alike and the range is wide: that is what tells that a width is not known. Null where no blur can be tried.
 */
export function sharedBlur(free: readonly DipOnStrip[]): BlurRange | null {
  const every = Math.max(1, free.length / LINES_MAX);
  const chosen = free.filter((_, i) => Math.floor(i / every) !== Math.floor((i - 1) / every));
  const variances = chosen.map(({ squares, effective }) => squares / Math.max(1, effective - 7));
  const tried: { blur: number; misfit: number }[] = [];
  for (let blur = Math.sqrt(PIXEL_VARIANCE); blur <= MOST_PX; blur *= FACTOR) {
    let misfit = 0;
    for (const [i, dip] of chosen.entries()) {
      const [fit] = refitted([dip], blur);
      if (fit === undefined) return null;
      misfit += fit.squares / ((variances[i] ?? 1) * TEXTURE);
    }
    tried.push({ blur, misfit });
    // The misfit only grows from here on.
    if (misfit > Math.min(...tried.map((one) => one.misfit)) + 10 * RANGE_IN_U ** 2) break;
  }
  const at = tried.reduce((best, one, i) => (one.misfit < (tried[best]?.misfit ?? 0) ? i : best), 0);
  const [before, here, after] = [tried[at - 1], tried[at], tried[at + 1]];
  if (here === undefined) return null;
  // A parabola in the logarithm of the blur through the least and its neighbours.
  const bend = before && after ? before.misfit - 2 * here.misfit + after.misfit : 0;
  const off = before && after && bend > 0 ? (before.misfit - after.misfit) / (2 * bend) : 0;
  const least = here.misfit - (before && after ? (off * (after.misfit - before.misfit)) / -4 : 0);
  const limit = Math.min(here.misfit, least) + RANGE_IN_U ** 2;
  const best = here.blur * FACTOR ** off;
  const byBend = bend > 0 ? FACTOR ** (RANGE_IN_U * Math.sqrt(2 / bend)) : FACTOR;
  const loosest = blurAbout(best);
  return {
    best,
    least: Math.min(
      loosest.least,
      crossing(tried.slice(0, at + 1).reverse(), limit) ?? tried[0]?.blur ?? best,
    ),
    most: Math.max(loosest.most, crossing(tried.slice(at), limit) ?? best * byBend),
  };
}

/** The range about a blur that is given, the pixel’s own square in it, px. */
export function blurAbout(best: number): BlurRange {
  const least = Math.max(Math.sqrt(PIXEL_VARIANCE), best * (1 - RANGE_IN_U * SHARE_U));
  return { best, least, most: best * (1 + RANGE_IN_U * SHARE_U) };
}

/** Where the misfit first rises over a limit, between two blurs tried; null where it never does. */
function crossing(tried: readonly { blur: number; misfit: number }[], limit: number): number | null {
  for (const [i, one] of tried.entries()) {
    const last = tried[i - 1];
    if (i === 0 || last === undefined || one.misfit <= limit) continue;
    // The misfit rises with the square of the distance.
    const share = Math.sqrt(Math.max(0, limit - last.misfit) / (one.misfit - last.misfit));
    return last.blur * (one.blur / last.blur) ** share;
  }
  return null;
}

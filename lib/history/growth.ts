import type { Problem, Result } from '../base/index.ts';
import { type DefectKind, type MarkPair, pairMarks, type Shape } from '../marks/index.ts';
import type { PhotoMap } from '../photo/index.ts';
import type { DutyHours } from './clock.ts';
import { otherWay, shapeOver, type Way } from './laidOver.ts';

/** Size of a mark as measured on its own photo: mm or mm² by what it is, with its standard uncertainty. */
export interface MarkSize {
  readonly quantity: 'length' | 'area' | 'angle';
  readonly value: number;
  readonly u: number;
}

/** A mark on the photo of one date. */
export interface DatedMark {
  readonly mark: string;
  readonly shape: Shape;
  readonly defect: DefectKind | null;
  readonly author: string;
  /** Fails where it has no size, with the reason. */
  readonly size: Result<MarkSize, Problem>;
}

/** The photo of one date with its marks. */
export interface DatedPhoto {
  readonly photo: string;
  /** When it was taken down, ISO 8601. */
  readonly at: string;
  readonly marks: readonly DatedMark[];
  /** Hours on duty of the part on that day, with a standard uncertainty; null where not known. */
  readonly hours: DutyHours | null;
}

/** A difference and what it comes to over time; units of the size, and the same per year and per 1000 h. */
export interface Change {
  readonly quantity: MarkSize['quantity'];
  readonly earlier: number;
  readonly later: number;
  readonly value: number;
  /**
   * Standard uncertainty of the difference, both sizes taken as independent. Where the same card was used in both its
   * printing error is common and takes part of itself away, so that this is rather too large than too small.
   */
  readonly u: number;
  readonly perYear: PerTime | null;
  readonly per1000Hours: PerTime | null;
  /** Beyond ± 2 u: sure to have grown, or to have become smaller, which wear and cracks do not do by themselves. */
  readonly says: 'grown' | 'smaller' | 'no change beyond the uncertainty';
}

/** A change over a time, with its standard uncertainty. */
export interface PerTime {
  readonly value: number;
  readonly u: number;
}

/** What became of a mark between two dates. */
export interface Growth {
  readonly earlier: DatedMark | null;
  readonly later: DatedMark | null;
  readonly says: 'in both' | 'new since last time' | 'gone' | 'not shown in the other photo';
  /** Where both have a size of one quantity; null otherwise. */
  readonly change: Change | null;
}

/**
 * Follows marks from one date to the next: those of the earlier photo are laid over the later one and paired with the marks
 * there (`pairMarks`). One without a fellow is new, or gone, only where the other photo shows its place; nothing is said
 * of places it does not show. `way` is the map’s from the earlier photo to the later one.
 */
export function growthOf(map: PhotoMap, way: Way, earlier: DatedPhoto, later: DatedPhoto): Growth[] {
  const over = earlier.marks.map((mark) => ({ mark, laid: shapeOver(map, mark.shape, way) }));
  const onLater = over.flatMap(({ mark, laid }) =>
    laid === null ? [] : [{ photo: later.photo, shape: laid.shape, defect: mark.defect, mark, laid }],
  );
  const there = later.marks.map((mark) => ({
    photo: later.photo,
    shape: mark.shape,
    defect: mark.defect,
    mark,
    laid: shapeOver(map, mark.shape, otherWay(way)),
  }));
  const pairs = pairMarks([...onLater], [...there] as typeof onLater);
  const lost = over.filter(({ laid }) => laid === null).map(({ mark }) => mark);
  return [
    ...pairs.map((pair) => told(pair, earlier, later)),
    ...lost.map(
      (mark): Growth => ({ earlier: mark, later: null, says: 'not shown in the other photo', change: null }),
    ),
  ];
}

interface Laid {
  readonly photo: string;
  readonly shape: Shape;
  readonly defect: DefectKind | null;
  readonly mark: DatedMark;
  readonly laid: { readonly shown: boolean } | null;
}

function told({ first, second }: MarkPair<Laid>, earlier: DatedPhoto, later: DatedPhoto): Growth {
  const [before, after] = [first?.mark ?? null, second?.mark ?? null];
  if (before !== null && after !== null)
    return {
      earlier: before,
      later: after,
      says: 'in both',
      change: changeOf(before, after, earlier, later),
    };
  const shown = (first ?? second)?.laid?.shown === true;
  const alone = before === null ? ('new since last time' as const) : ('gone' as const);
  return {
    earlier: before,
    later: after,
    says: shown ? alone : 'not shown in the other photo',
    change: null,
  };
}

const DAY_MS = 86_400_000;
/** Mean length of a year in days. */
const YEAR_DAYS = 365.25;
/** Rates over less than this say nothing. */
const DAYS_MIN = 1;

function changeOf(
  before: DatedMark,
  after: DatedMark,
  earlier: DatedPhoto,
  later: DatedPhoto,
): Change | null {
  if (!before.size.ok || !after.size.ok) return null;
  const [a, b] = [before.size.value, after.size.value];
  if (a.quantity !== b.quantity || a.quantity === 'angle') return null;
  const value = b.value - a.value;
  const u = Math.hypot(a.u, b.u);
  const days = (Date.parse(later.at) - Date.parse(earlier.at)) / DAY_MS;
  return {
    quantity: a.quantity,
    earlier: a.value,
    later: b.value,
    value,
    u,
    perYear: days >= DAYS_MIN ? { value: (value * YEAR_DAYS) / days, u: (u * YEAR_DAYS) / days } : null,
    per1000Hours: overHours(value, u, earlier.hours, later.hours),
    says: value > 2 * u ? 'grown' : value < -2 * u ? 'smaller' : 'no change beyond the uncertainty',
  };
}

/** Change per 1000 h on duty, with the uncertainty of the hours (JCGM 100, 5.1.2); null where the hours are not known to differ. */
function overHours(
  value: number,
  u: number,
  from: DatedPhoto['hours'],
  to: DatedPhoto['hours'],
): PerTime | null {
  if (from === null || to === null) return null;
  const hours = to.hours - from.hours;
  const hoursU = Math.hypot(from.u, to.u);
  if (!(hours > 2 * hoursU) || hours <= 0) return null;
  const rate = (1000 * value) / hours;
  return { value: rate, u: Math.hypot((1000 * u) / hours, (rate * hoursU) / hours) };
}

import { characteristicOf } from '../readings/index.ts';
import { sizeText } from '../rules/index.ts';
import { fromMm, showNumber, type UnitPreference } from '../units/index.ts';
import { isoDay } from './clock.ts';
import { FLEET_MIN } from './fleet.ts';
import type { Silence } from './reach.ts';
import type { Wear } from './wear.ts';

const SILENCE: Readonly<Record<Silence, string>> = {
  'no limit': 'No limit is on file, so nothing says when it would be worn out.',
  'one reading and no fleet': `Cannot say: there is one time of reading, and fewer than ${FLEET_MIN} other parts of its kind to go by.`,
  'no wear to be told': 'Cannot say when: wear cannot be told from none yet.',
  'getting better': 'Cannot say: its readings get better, and wear does not heal.',
  'out of reach': 'Out of reach: at this rate the keep limit is decades away.',
};

/** A time on the clock of a series: hours on duty, or the day. */
export function timeText({ series }: Pick<Wear, 'series'>, x: number): string {
  return series.clock === 'hours' ? `${showNumber(x, 0)} h on duty` : isoDay(x);
}

function sizeOf({ series }: Wear, value: number, units: UnitPreference): string {
  return sizeText(series.characteristic, value, units);
}

/** What is measured where, for a heading. */
export function quantityText({ series }: Pick<Wear, 'series'>): string {
  const { characteristic, zone, state } = series;
  return `${characteristicOf(characteristic).label}${state === null ? '' : `, ring ${state}`} (${zone})`;
}

/** When the limit is reached, or why that cannot be said. */
export function reachSentence(wear: Wear, units: UnitPreference): string {
  const { trend, by, perDay, series } = wear;
  const { reach } = trend;
  if (reach.state === 'cannot say') {
    const open =
      reach.bandX === null
        ? ''
        : ` What is not known leaves open that the limit is reached at ${timeText(wear, reach.bandX)}${dayText(wear)}.`;
    return `${SILENCE[reach.why]}${open}`;
  }
  const limit = `the keep limit of ${sizeOf(wear, reach.end.value, units)}`;
  if (reach.state === 'reached') {
    return reach.by === 'value'
      ? `The last reading is beyond ${limit}.`
      : `The last reading is within ${limit}, but a reading now may be beyond it by more than 5 %.`;
  }
  const line = reach.lineX === null ? '' : `; the line itself at ${timeText(wear, reach.lineX)}`;
  const rate =
    by === null || series.clock === 'days' || perDay === null ? '' : ` at ${showNumber(perDay, 1)} h a day`;
  return `The worse edge of the 95 % band reaches ${limit} at ${timeText(wear, reach.x)}${dayText(wear)}${rate}${line}.`;
}

function dayText({ by, series }: Wear): string {
  if (series.clock === 'days') return '';
  return by === null ? ', no day: its hours a day are not known' : `, about ${by}`;
}

/** The same in few words, for lists. */
export function reachWords(wear: Wear, units: UnitPreference): string {
  const { reach } = wear.trend;
  if (reach.state === 'cannot say') return SILENCE[reach.why];
  const limit = `keep limit ${sizeOf(wear, reach.end.value, units)}`;
  const label = reach.end.rule.source.kind === 'demonstration' ? ' (demonstration)' : '';
  if (reach.state === 'reached')
    return `${reach.by === 'value' ? 'The last reading is beyond the' : 'The band is at the'} ${limit}${label}.`;
  const line = reach.lineX === null ? '' : `, the line at ${timeText(wear, reach.lineX)}`;
  return `Band at the ${limit}${label} at ${timeText(wear, reach.x)}${line}.`;
}

/** A slope for reading, per thousand hours or per year. */
export function slopeText({ series }: Pick<Wear, 'series'>, slope: number, units: UnitPreference): string {
  const [factor, per] = series.clock === 'hours' ? [1000, '1000 h'] : [365.25, 'year'];
  const value = slope * factor;
  return units === 'metric'
    ? `${showNumber(value, 3)} mm per ${per}`
    : `${showNumber(fromMm(value, 'in'), 5)} in per ${per}`;
}

/** What the slope rests on, and what is in doubt about it; a sentence each. */
export function basisSentences(wear: Wear, units: UnitPreference): readonly string[] {
  const { trend, series } = wear;
  const { line, fleet, own, share, basis } = trend;
  const kind = `${fleet?.count ?? 0} others of its kind`;
  const slope =
    line === null
      ? ''
      : `${slopeText(wear, line.slope, units)} ± ${slopeText(wear, 2 * Math.sqrt(line.slopeVariance), units)} (k = 2)`;
  const times = `${trend.counted.length === 1 ? 'one reading' : `its ${trend.counted.length} readings`}`;
  const said = {
    'own and fleet': `Slope ${slope}: ${showNumber(100 * share, 0)} % from ${times}${own === null ? '' : ` (alone ${slopeText(wear, own.slope, units)})`}, the rest from ${kind} (${slopeText(wear, fleet?.slope ?? 0, units)}).`,
    own: `Slope ${slope}, from ${times} alone: fewer than ${FLEET_MIN} others of its kind have a slope.`,
    fleet: `It was read at one time only: the slope ${slope} is that of ${kind} alone.`,
    none: 'It was read at one time only, and there is no fleet to take a slope from.',
  }[basis];
  return [
    said,
    ...(trend.doubt === null
      ? []
      : [
          `In doubt: a reading is better than an earlier one by more than both may be off, and wear does not heal: a measurement went wrong, the part was repaired, or it is another part. Nothing is averaged over it; the line is drawn ${trend.doubt === 'without what went back' ? 'without what went back' : 'only through what was read since'}, which reaches the limit sooner.`,
          ...notReadAgain(wear),
        ]),
    ...repairSentences(series),
    ...(series.clock === 'hours'
      ? []
      : ['Held against dates: the hours on duty are not known for each of its inspections.']),
  ];
}

function repairSentences({ repaired, points }: Wear['series']): readonly string[] {
  if (repaired === null) return [];
  return (points[0]?.on ?? '') >= repaired
    ? [`Counted since the repair of ${repaired}; what was read before stays in the book.`]
    : [`Repaired on ${repaired} and not read since: all of this is how it was before the repair.`];
}

/** Whether the place that was worst before was left out when readings went back: then it may still be as worn as it was. */
function notReadAgain({ series }: Wear): readonly string[] {
  const back = series.points.findIndex(({ healed }) => healed);
  const [before, after] = [series.points[back - 1], series.points[back]];
  if (before === undefined || after === undefined || after.clocks.includes(before.clock)) return [];
  const place = before.clock === null ? 'without a clock position' : `at ${before.clock} o’clock`;
  return [`The place that was worst before (${place}) was not read again on ${after.on}.`];
}

import { counted } from '../base/index.ts';
import { nominalU } from '../tolerances/index.ts';
import { showNumber, showProbability, type UnitPreference } from '../units/index.ts';
import { atHandFor } from './atHand.ts';
import type { ReadingEvidence } from './evidence.ts';
import type { LimitFinding, PositionValue, ReadingGroup } from './finding.ts';
import { acceptanceInterval } from './probability.ts';
import { relativeText, takenText } from './sentences.ts';
import { whatWouldSettle } from './settle.ts';
import { settlingSentences } from './settleWords.ts';
import { closingSteps, ruleLines, type TraceContext, type TraceStep } from './traceSteps.ts';
import { boundsText, sizeText, uText } from './words.ts';

/** A limit finding with how its sizes are shown. */
interface Shown {
  readonly finding: LimitFinding;
  readonly size: (value: number) => string;
  readonly u: (u: number) => string;
  readonly bounds: (bounds: LimitFinding['keep']) => string;
  readonly preference: UnitPreference;
}

function place(clock: number | null): string {
  return clock === null ? 'No place given' : `${clock} o'clock`;
}

function instrumentText(reading: Pick<ReadingEvidence, 'method' | 'instrument'>): string {
  if (reading.method === 'photo') return 'from a photo';
  return reading.instrument === null ? 'no instrument named' : `with ${reading.instrument.name}`;
}

function readingsStep({ finding, size, u }: Shown, readings: readonly ReadingEvidence[]): TraceStep {
  const used = finding.positions.flatMap((position) => position.readings);
  const found = used.flatMap((id) => readings.filter((reading) => reading.id === id));
  const lines = found.map((reading) => {
    const typed =
      reading.typed === '' ? size(reading.valueMm) : `“${reading.typed}”, ${size(reading.valueMm)}`;
    return `${place(reading.clock)}: ${typed}, ${instrumentText(reading)}, u = ${u(reading.uMm)}`;
  });
  // Sizes of marked patches are no readings of the part: the finding itself holds them.
  const gist = found.length === 0 ? 'a size from marks on a photo' : counted(found.length, 'reading');
  return { title: 'Readings as typed', gist, lines };
}

function groupLine({ size, u }: Shown, clock: number | null, group: ReadingGroup): string {
  const by = group.method === 'photo' ? 'from photos' : (group.instrument ?? 'no instrument named');
  return `${place(clock)}, ${by}: ${size(group.value)}, u = ${u(group.u)}, ${counted(group.repeats, 'reading')}`;
}

function meanText(at: PositionValue): string {
  return `${at.groups === undefined ? '' : 'weighted '}mean of ${at.repeats}`;
}

function placeLines(shown: Shown, at: PositionValue): string[] {
  const mean = at.repeats === 1 ? '' : `, ${at.counted === undefined ? meanText(at) : takenText(at)}`;
  const ratio = at.birgeRatio ?? 1;
  const widened =
    ratio > 1 ? `; u widened ${showNumber(ratio, 1)} times, for the instruments differ by more than it` : '';
  return [
    `${place(at.clock)}: ${shown.size(at.value)}, u = ${shown.u(at.u)}${mean}${widened}`,
    ...(at.groups ?? []).map((group) => groupLine(shown, at.clock, group)),
  ];
}

function placesSteps(shown: Shown): TraceStep[] {
  const { positions, governing } = shown.finding;
  return [
    {
      title: 'Each place',
      gist: counted(positions.length, 'place'),
      lines: positions.flatMap((at) => placeLines(shown, at)),
    },
    {
      title: 'Governing place',
      gist: `${place(governing.clock)}: ${shown.size(governing.value)} ± ${shown.size(2 * governing.u)} (k = 2)`,
      lines: positions.length > 1 ? ['The worst place decides, never the mean of the places.'] : [],
    },
  ];
}

function limitStep(shown: Shown, context: TraceContext): TraceStep {
  const { finding, bounds, u, preference } = shown;
  const { keep, repair, relative } = finding;
  const ofNominal = relative === undefined ? 0 : nominalU(relative);
  return {
    title: 'Limit',
    gist: `keep ${bounds(keep)}${repair === null ? '' : `; repair ${bounds(repair)}`}`,
    lines: [
      ...(relative === undefined ? [] : [`Counted${relativeText(finding, preference)}`]),
      ...(ofNominal === 0
        ? []
        : [`The new size itself is known to u = ${u(ofNominal)}, which adds to the comparison`]),
      ...ruleLines(finding.rule, context.tables),
    ],
  };
}

function chancesStep({ finding, size }: Shown): TraceStep {
  const { beyondKeep, beyondRepair, repair, margin } = finding;
  return {
    title: 'Chance of being worse',
    gist: `beyond keep ${showProbability(beyondKeep)}${repair === null ? '' : `, beyond repair ${showProbability(beyondRepair)}`}`,
    lines: [`Margin to keep: ${size(margin)}${margin < 0 ? ' (beyond it)' : ''}`],
  };
}

function guardStep({ finding, bounds, u }: Shown): TraceStep {
  const { keep, repair, risk, governing, relative } = finding;
  const all = Math.hypot(governing.u, relative === undefined ? 0 : nominalU(relative));
  const accepted = (name: string, limit: LimitFinding['keep']) => {
    const interval = acceptanceInterval(limit, all, risk);
    const band =
      interval === null
        ? 'no value at all: u is too large for these limits'
        : `${bounds(interval)} (guard band ${u(Math.abs((interval.min ?? interval.max ?? 0) - (limit.min ?? limit.max ?? 0)))})`;
    return `Accepted as ${name}: ${band}`;
  };
  return {
    title: 'Guard band',
    gist: `risk ${showProbability(risk)} at u = ${u(all)}`,
    lines: [accepted('keep', keep), ...(repair === null ? [] : [accepted('repair or better', repair)])],
  };
}

function classStep({ finding }: Shown): TraceStep {
  const { guardedClass, simpleClass, decisionRule } = finding;
  const agree = guardedClass === simpleClass;
  return {
    title: 'Guarded and simple',
    gist: agree ? `both say ${guardedClass}` : `guarded ${guardedClass}, by the value alone ${simpleClass}`,
    lines: [`The table decides by ${decisionRule === 'guarded' ? 'the guard band' : 'simple acceptance'}.`],
  };
}

function settlingSteps({ finding, preference }: Shown, context: TraceContext): TraceStep[] {
  const instruments = atHandFor(finding.characteristic, context.instruments, context.at);
  const settling = whatWouldSettle(finding, context.readings, instruments);
  if (settling === null) return [];
  const [first = '', ...rest] = settlingSentences(finding, settling, preference);
  return [{ title: 'What would settle it', gist: first, lines: rest }];
}

/** The steps of a limit finding. */
export function limitSteps(
  finding: LimitFinding,
  context: TraceContext,
  preference: UnitPreference,
): TraceStep[] {
  const { characteristic } = finding;
  const shown: Shown = {
    finding,
    size: (value) => sizeText(characteristic, value, preference),
    u: (u) => uText(characteristic, u, preference),
    bounds: (bounds) => boundsText(characteristic, bounds, preference),
    preference,
  };
  return [
    readingsStep(shown, context.readings),
    ...placesSteps(shown),
    limitStep(shown, context),
    chancesStep(shown),
    guardStep(shown),
    classStep(shown),
    ...closingSteps(finding, context.tables),
    ...settlingSteps(shown, context),
  ];
}

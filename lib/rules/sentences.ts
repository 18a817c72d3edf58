import { showLength, showNumber, showProbability, type UnitPreference } from '../units/index.ts';
import { DAYS_A_YEAR, dayOf } from './dates.ts';
import {
  type AgeFinding,
  type DefectFinding,
  type Finding,
  type LimitFinding,
  onOffer,
  type PositionValue,
  type RuleCited,
} from './finding.ts';
import {
  atClock,
  boundsInWords,
  boundsText,
  DEFECT_NAMES,
  quantityText,
  sizeText,
  sourceText,
} from './words.ts';

type Unsaid<F extends Finding> = Omit<F, 'sentence'>;

function bannedText(noRework: RuleCited | null): string {
  return noRework === null ? '' : ` Rework is not on offer (${sourceText(noRework.source)}).`;
}

/** "at most 15 % lost" or "-2.0 mm or more from nominal": bounds as the row states them. */
export function relativeText(finding: Unsaid<LimitFinding>, preference: UnitPreference): string {
  const { relative, characteristic } = finding;
  if (relative === undefined) return '';
  const size = (value: number) => sizeText(characteristic, value, preference);
  const percent = relative.boundsOf === 'percent lost';
  const one = (bounds: LimitFinding['keep']): string =>
    boundsInWords(bounds, (end) => (percent ? `${showNumber(end, 1)} %` : size(end)));
  const repair = relative.repair === null ? '' : `, repair ${one(relative.repair)}`;
  return ` [keep ${one(relative.keep)}${repair}, ${percent ? 'lost of' : 'from'} the new size of ${size(relative.nominal.value)}]`;
}

/** What the other decision rule would say, where it says something else, and whether measuring better could help. */
function differsText(finding: Unsaid<LimitFinding>): string {
  const { guardedClass, simpleClass } = finding;
  if (guardedClass === simpleClass) return '';
  const guarded = finding.decisionRule === 'guarded';
  const other = guarded ? simpleClass : guardedClass;
  const by = guarded
    ? 'By the reading alone'
    : `With a guard band for a risk of ${showProbability(finding.risk)}`;
  if (onOffer(finding, guardedClass) !== onOffer(finding, simpleClass))
    return ` ${by} it would be ${other}: a better measurement is worth the walk.`;
  return ` ${by} it would be ${other}${other === 'repair' ? ', for which rework is not on offer' : ''}.`;
}

/** How the value of a place with several readings is made of them, in words. */
export function takenText({ groups, counted, disagree, repeats }: PositionValue): string {
  if (counted === undefined) {
    return groups === undefined
      ? `mean of ${repeats}`
      : `weighted mean of ${repeats} readings by ${groups.length} instruments`;
  }
  const of = (groups ?? []).filter((group) => group.readings.some((id) => counted.includes(id)));
  const [first] = of;
  if (of.length > 1) return `weighted mean of ${counted.length} of ${repeats} readings`;
  if (first === undefined) return `the worst of ${repeats} that cannot support keep`;
  const by = first.method === 'photo' ? 'photos' : (first.instrument ?? 'the instrument that is not named');
  return `by ${by} alone${disagree === true ? ', for the instruments disagree' : ''}`;
}

function limitSentence(finding: Unsaid<LimitFinding>, preference: UnitPreference): string {
  const { characteristic, governing, positions, keep, repair } = finding;
  const worst = positions.length > 1 ? `, the worst of ${positions.length} places` : '';
  const bounds = (one: LimitFinding['keep']) => boundsText(characteristic, one, preference);
  const limits = `Keep: ${bounds(keep)}${repair === null ? '' : `; repair: ${bounds(repair)}`}${relativeText(finding, preference)}`;
  const beyond = `Beyond keep with probability ${showProbability(finding.beyondKeep)}`;
  const chances =
    repair === null ? beyond : `${beyond}, beyond repair ${showProbability(finding.beyondRepair)}`;
  const repeats = governing.repeats > 1 ? `, ${takenText(governing)}` : '';
  const value =
    `${sizeText(characteristic, governing.value, preference)} ± ` +
    `${sizeText(characteristic, 2 * governing.u, preference)} (k = 2${repeats})`;
  return (
    `${quantityText(finding)}${atClock(governing.clock)} is ${value}${worst}. ` +
    `${limits} (${sourceText(finding.rule.source)}). ${chances}.${differsText(finding)}${bannedText(finding.noRework)}`
  );
}

type Defect = Pick<DefectFinding, 'defect' | 'zone' | 'clock' | 'method'> & {
  readonly basis: Pick<NonNullable<DefectFinding['basis']>, 'note' | 'lengthMm'>;
};

/** "Crack in the gutter weld at 5 o'clock, found by visual means, 40.0 mm ± 2.0 mm long (k = 2)". */
export function defectText(
  { defect, zone, clock, method, basis }: Defect,
  preference: UnitPreference = 'metric',
): string {
  const { lengthMm } = basis;
  const size =
    defect !== 'crack'
      ? ''
      : lengthMm === null
        ? ', length not measured'
        : `, ${showLength(lengthMm.value, preference)} ± ${showLength(2 * lengthMm.u, preference)} long (k = 2)`;
  const note = basis.note === '' ? '' : ` (${basis.note})`;
  return `${DEFECT_NAMES[defect]} in the ${zone}${atClock(clock)}, found by ${method} means${size}${note}`;
}

function defectSentence(
  finding: Unsaid<DefectFinding>,
  basis: NonNullable<DefectFinding['basis']>,
  preference: UnitPreference,
): string {
  const { rule, noRework } = finding;
  const what = defectText({ ...finding, basis }, preference);
  if (rule === null)
    return `${what}. Any crack, bend or break takes a part out of service; no rule on file says whether repair is open.${bannedText(noRework)}`;
  const upTo = [
    ...(basis.repairUpToMm === null ? [] : [showLength(basis.repairUpToMm, preference)]),
    ...(basis.repairUpToMm2 === null ? [] : [sizeText('corrosion area', basis.repairUpToMm2, preference)]),
  ];
  const limit = upTo.length === 0 ? '' : ` Repair is open up to ${upTo.join(' and ')}.`;
  return `${what}. ${basis.says ?? ''}${limit} (${sourceText(rule.source)}).${bannedText(noRework)}`;
}

/** When a part was made and how old it is at most on the day `on` (ISO date), in words. */
export function madeText(made: AgeFinding['made'], on: string): string {
  if (made === null) return 'nobody knows when it was made';
  const years = showNumber((dayOf(on) - dayOf(made.from)) / DAYS_A_YEAR, 1);
  return made.from === made.to
    ? `made on ${made.from}, ${years} years old`
    : `made between ${made.from} and ${made.to}, at most ${years} years old`;
}

/** Hours on duty with their expanded uncertainty, in words. */
export function hoursText(hours: AgeFinding['dutyHours']): string {
  return hours === null
    ? 'its hours on duty are not known'
    : `${showNumber(hours.value, 0)} h ± ${showNumber(2 * hours.u, 0)} h on duty (k = 2)`;
}

function ageSentence(finding: Unsaid<AgeFinding>, basis: NonNullable<AgeFinding['basis']>): string {
  const { upToYears, upToHours, says, on } = basis;
  const said = [
    ...(upToYears === null ? [] : [`${madeText(finding.made, on)}; the limit is ${upToYears} years`]),
    ...(upToHours === null ? [] : [`${hoursText(finding.dutyHours)}; the limit is ${upToHours} h`]),
  ];
  const chance =
    finding.beyond === null ? '' : ` Beyond with probability ${showProbability(finding.beyond)}.`;
  return `Age: ${said.join('; ')}. ${says} (${sourceText(finding.rule.source)}).${chance}${bannedText(finding.noRework)}`;
}

/**
 * The sentence of a finding, as a person would say it, with lengths in mm or inches and areas in cm² or in². It is built
 * from the fields of the finding alone; in metric it is the stored sentence. Findings of versions 1 and 2 of the engine
 * do not carry what a sentence about a defect or an age says: theirs is given as stored.
 */
export function sentenceOf(finding: Finding, preference: UnitPreference): string {
  if (finding.about === 'limit') return limitSentence(finding, preference);
  if (finding.basis === undefined) return finding.sentence;
  return finding.about === 'defect'
    ? defectSentence(finding, finding.basis, preference)
    : ageSentence(finding, finding.basis);
}

/** The finding with its sentence, which is kept in metric units. */
export function said<F extends Finding>(finding: Unsaid<F>): F {
  const whole = { ...finding, sentence: '' } as F;
  return { ...whole, sentence: sentenceOf(whole, 'metric') };
}

import { showProbability, type UnitPreference } from '../units/index.ts';
import { CLASSES, type LimitFinding } from './finding.ts';
import type { Settling, SettlingAction } from './settle.ts';
import { listed, quantityText, uText } from './words.ts';

/** How many actions are named; the best of them come first. */
const NAMED_MAX = 3;

/** Classes less likely than this are not said. */
const SAID_FROM = 0.01;

function placesText(places: readonly (number | null)[]): string {
  const clocks = places.filter((clock) => clock !== null);
  return clocks.length === 0 ? '' : ` at ${listed(clocks)} o'clock`;
}

function actionSentence(quantity: string, action: SettlingAction): string {
  const classes = [...CLASSES]
    .sort((a, b) => action.as[b] - action.as[a])
    .filter((one) => action.as[one] >= SAID_FROM)
    .map((one) => `${one} ${showProbability(action.as[one])}`);
  const times =
    action.repeats === 1 ? '' : `, ${action.repeats} times${action.places.length > 1 ? ' each' : ''}`;
  return (
    `Measure the ${quantity} again${placesText(action.places)} with ${action.instrument}${times}: ` +
    `${showProbability(action.settled)} likely to settle it (${classes.join(', ')}).`
  );
}

/**
 * What would settle a finding, as a person would say it: the best actions, one sentence each; or that nothing at hand
 * would, with the standard uncertainty that would do it with a chance of 80 %.
 */
export function settlingSentences(
  finding: LimitFinding,
  settling: Settling,
  preference: UnitPreference = 'metric',
): string[] {
  const label = quantityText(finding);
  const quantity = label.charAt(0).toLowerCase() + label.slice(1);
  if (settling.actions.length > 0)
    return settling.actions.slice(0, NAMED_MAX).map((action) => actionSentence(quantity, action));
  const { neededU, newSizeInDoubt, doubtful } = settling;
  if (neededU === null && !newSizeInDoubt)
    return [
      'Nothing at hand would settle it, and no one measurement would with a chance of 80 %: what was read there before still counts.',
    ];
  if (neededU === null)
    return [
      'Nothing at hand would settle it, and no gauge could: the size of the new part is not known well enough.',
    ];
  const where = placesText(doubtful);
  return [
    `Nothing at hand would settle it. A measurement${where} with a standard uncertainty of ${uText(finding.characteristic, neededU, preference)} would, with a chance of 80 %.`,
  ];
}

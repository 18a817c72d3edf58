import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import type { FiguresNear } from '../record/index.ts';
import { QUALITY_LIMITS, type QualityFigure } from './qualityLimits.ts';

/** What is known of a photo at a mark; null: not known, and then not judged. */
export interface PhotoQuality {
  /** Figures of the picture near the mark: `figuresNear`. */
  readonly near: FiguresNear | null;
  /** Size of a pixel on the surface at the mark, mm. */
  readonly mmPerPx: number | null;
  /** Between the line of sight and square to the surface at the mark, 0 to 90 degrees. */
  readonly obliquityDegrees: number | null;
  /** Distance of the mark from the middle of the reference over that from the camera, from 0 up. */
  readonly referenceShare: number | null;
  /** Shortest side of the scale card’s markers in the picture, px; `not found`: looked for in vain; null: not looked for. */
  readonly markerPx: number | 'not found' | null;
}

export type QualityLevel = 'good' | 'warn' | 'refuse';

/** One figure judged. */
export interface QualityJudgement {
  readonly figure: QualityFigure | 'card';
  /** In the unit of its limit; null where it could not be told. */
  readonly value: number | null;
  readonly level: QualityLevel;
  /** Short and plain, no full stop. */
  readonly words: string;
  /** What to do, a sentence; empty where it is good. */
  readonly wayOut: string;
}

/** What is said at a level; beside good, what to do as well. */
interface Said {
  readonly words: string;
  readonly wayOut: string;
}

const said = (words: string, wayOut = ''): Said => ({ words, wayOut });

const MOVE_CLOSER = 'Move closer.';
const SQUARER = 'Hold the phone squarer to the part.';
const SIDE_LIGHT = 'Add light from the side.';
const LARGER_CARD = 'Move closer, or use the larger card.';

const WORDS: Readonly<Record<QualityFigure, Readonly<Record<QualityLevel, Said>>>> = {
  'mm per pixel': {
    good: said('Near enough'),
    warn: said('Far away: fine cracks are lost', MOVE_CLOSER),
    refuse: said('Too far away to measure', MOVE_CLOSER),
  },
  obliquity: {
    good: said('Square enough'),
    warn: said('Seen at a slant', SQUARER),
    refuse: said('Seen too much from the side to measure', SQUARER),
  },
  focus: {
    good: said('Sharp'),
    warn: said('Not quite sharp', 'Tap on the mark to focus and hold still.'),
    refuse: said(
      'Blurred: nothing fine can be measured',
      'Tap on the mark to focus, hold still, take it again.',
    ),
  },
  highlights: {
    good: said('No glare'),
    warn: said('Glare near the mark', 'Turn the light or the phone a little.'),
    refuse: said('Glare hides the mark', 'Turn the light or the phone, take it again.'),
  },
  shadows: {
    good: said('No black shadow'),
    warn: said('Black shadow near the mark', SIDE_LIGHT),
    refuse: said('Black shadow hides the mark', 'Add light from the side, take it again.'),
  },
  'too dark': {
    good: said('Light enough'),
    warn: said('Dark', SIDE_LIGHT),
    refuse: said('Too dark', SIDE_LIGHT),
  },
  'too bright': {
    good: said('Not too bright'),
    warn: said('Bright', 'Tap on the part to set the exposure, or shade it.'),
    refuse: said('Too bright', 'Shade the part or take the lamp away.'),
  },
  'distance from reference': {
    good: said('The reference lies near the mark'),
    warn: said('The reference lies far from the mark', 'Lay it closer.'),
    refuse: said('The reference lies too far from the mark to measure', 'Lay it closer.'),
  },
  'marker size': {
    good: said('The card is large enough'),
    warn: said('The card is small in the picture', LARGER_CARD),
    refuse: said('The card is too small in the picture', LARGER_CARD),
  },
};

/** Which side of its limits a figure lies on; a value at a limit belongs to the better side. */
export function qualityLevel(figure: QualityFigure, value: number): QualityLevel {
  const { worse, warn, refuse } = QUALITY_LIMITS[figure];
  const beyond = (limit: number) => (worse === 'above' ? value > limit : value < limit);
  return beyond(refuse) ? 'refuse' : beyond(warn) ? 'warn' : 'good';
}

function judged(figure: QualityFigure, value: number): QualityJudgement {
  const level = qualityLevel(figure, value);
  return { figure, value, level, ...WORDS[figure][level] };
}

const UNKNOWN_FOCUS: QualityJudgement = {
  figure: 'focus',
  value: null,
  level: 'warn',
  ...said('No clear edge to tell the focus by', 'Look whether the mark is sharp, and take it again if not.'),
};

const NO_CARD: QualityJudgement = {
  figure: 'card',
  value: null,
  level: 'refuse',
  ...said(
    'The card is not in the picture',
    'Lay it beside the mark, whole and unfolded, or set another scale.',
  ),
};

/** Figures of a photo that are numbers, by name; a photo judged on NaN would pass every limit. */
function numbersOf(quality: PhotoQuality): [QualityFigure, number][] {
  const { near, mmPerPx, obliquityDegrees, referenceShare, markerPx } = quality;
  const given: [QualityFigure, number | null | 'not found' | undefined][] = [
    ['marker size', markerPx],
    ['mm per pixel', mmPerPx],
    ['obliquity', obliquityDegrees],
    ['distance from reference', referenceShare],
    ['focus', near?.edgeBlurPx],
    ['too dark', near?.brightness],
    ['too bright', near?.brightness],
    ['highlights', near?.highlightShare],
    ['shadows', near?.shadowShare],
  ];
  return given.filter((one): one is [QualityFigure, number] => typeof one[1] === 'number');
}

/**
 * Judges what is known of a photo at a mark against `QUALITY_LIMITS`, worst first. `refuse` refuses a measurement,
 * never the photo: it stays as evidence. What is not known is left out, but a card looked for in vain is refused, and
 * a focus that cannot be told for want of edges warns. Fails for a figure that is not a number from 0 up.
 */
export function judgeQuality(quality: PhotoQuality): Result<readonly QualityJudgement[], Problem> {
  const numbers = numbersOf(quality);
  const wrong = numbers.find(([, value]) => !(Number.isFinite(value) && value >= 0));
  if (wrong !== undefined) {
    const [figure, value] = wrong;
    return fail(
      problem(
        'quality-figure',
        figure,
        value,
        'A figure of quality is a number from 0 up',
        'Measure it again.',
      ),
    );
  }
  const all = [
    ...(quality.markerPx === 'not found' ? [NO_CARD] : []),
    ...(quality.near !== null && quality.near.edgeBlurPx === null ? [UNKNOWN_FOCUS] : []),
    ...numbers.map(([figure, value]) => judged(figure, value)),
  ];
  const rank: Readonly<Record<QualityLevel, number>> = { refuse: 0, warn: 1, good: 2 };
  return ok(all.sort((a, b) => rank[a.level] - rank[b.level]));
}

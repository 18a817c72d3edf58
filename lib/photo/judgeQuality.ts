import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import type { PictureFigures } from './quality.ts';
import { QUALITY_LIMITS, type QualityFigure } from './qualityLimits.ts';

/** What is known of a photo at a mark; null: not known, and then not judged. */
export interface PhotoQuality {
  /** Figures of the picture near the mark: `pictureFigures` in a `windowAround` it. */
  readonly near: PictureFigures | null;
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
  /** Short and plain, with a way out where it is not good. */
  readonly words: string;
}

type Words = Readonly<Record<QualityLevel, string>>;

const WORDS: Readonly<Record<QualityFigure, Words>> = {
  'mm per pixel': {
    good: 'Near enough',
    warn: 'Far away: fine cracks are lost. Move closer',
    refuse: 'Too far away to measure. Move closer',
  },
  obliquity: {
    good: 'Square enough',
    warn: 'Seen at a slant. Hold the phone squarer to the part',
    refuse: 'Seen too much from the side to measure. Hold the phone squarer to the part',
  },
  focus: {
    good: 'Sharp',
    warn: 'Not quite sharp. Tap on the mark to focus and hold still',
    refuse: 'Blurred: nothing fine can be measured. Tap on the mark to focus, hold still, take it again',
  },
  highlights: {
    good: 'No glare',
    warn: 'Glare near the mark. Turn the light or the phone a little',
    refuse: 'Glare hides the mark. Turn the light or the phone, take it again',
  },
  shadows: {
    good: 'No black shadow',
    warn: 'Black shadow near the mark. Add light from the side',
    refuse: 'Black shadow hides the mark. Add light from the side, take it again',
  },
  'too dark': {
    good: 'Light enough',
    warn: 'Dark. Add light from the side',
    refuse: 'Too dark: add light from the side',
  },
  'too bright': {
    good: 'Not too bright',
    warn: 'Bright. Tap on the part to set the exposure, or shade it',
    refuse: 'Too bright: shade the part or take the lamp away',
  },
  'distance from reference': {
    good: 'The reference lies near the mark',
    warn: 'The reference lies far from the mark. Lay it closer',
    refuse: 'The reference lies too far from the mark to measure. Lay it closer',
  },
  'marker size': {
    good: 'The card is large enough',
    warn: 'The card is small in the picture. Move closer, or use the larger card',
    refuse: 'The card is too small in the picture. Move closer, or use the larger card',
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
  return { figure, value, level, words: WORDS[figure][level] };
}

const UNKNOWN_FOCUS: QualityJudgement = {
  figure: 'focus',
  value: null,
  level: 'warn',
  words: 'No clear edge to tell the focus by. Look whether the mark is sharp, and take it again if not',
};

const NO_CARD: QualityJudgement = {
  figure: 'card',
  value: null,
  level: 'refuse',
  words: 'The card is not in the picture. Lay it beside the mark, whole and unfolded, or set another scale',
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

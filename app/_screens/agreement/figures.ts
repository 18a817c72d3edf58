import {
  type CallAgreement,
  type Interval,
  type ReadingAgreement,
  statedWords,
} from '../../../lib/review/agreement/index.ts';
import { showNumber } from '../../../lib/units/index.ts';
import type { LengthScale } from '../../_plots/scale.ts';
import type { Figure } from './FigureList.tsx';

const NOT_DEFINED = 'not defined';
const LIMITS_SOURCE =
  'bias and limits: Bland & Altman, Lancet 327, 1986, and Statistical Methods in Medical Research 8, 1999 (the latter from memory)';
const WITHIN_SOURCE = 'standard deviation within pairs: Bland & Altman, BMJ 313, 1996 (from memory)';
const ICC_SOURCE = 'intraclass correlation: Shrout & Fleiss, Psychological Bulletin 86, 1979';
const EN_SOURCE = 'normalised error: ISO 13528:2022, with expanded uncertainties, k = 2';
const KAPPA_SOURCE =
  'weighted kappa: Cohen, Psychological Bulletin 70, 1968; its interval: Fleiss, Cohen & Everitt, Psychological Bulletin 72, 1969';
const COUNT_SOURCE = 'counts as they are';

const between = ([low, high]: Interval, decimals: number): string =>
  `${showNumber(low, decimals)} to ${showNumber(high, decimals)}`;

/** Figures of reading pairs in words, lengths in the unit shown. */
export function readingFigures(agreement: ReadingAgreement, scale: LengthScale): readonly Figure[] {
  return [...limitFigures(agreement, scale), ...otherFigures(agreement, scale)];
}

function limitFigures({ limits }: ReadingAgreement, scale: LengthScale): readonly Figure[] {
  if (!limits.ok) return [];
  const { bias, biasInterval, limits: band, lowerInterval, upperInterval } = limits.value;
  const length = (mm: number) => `${showNumber(scale.of(mm), scale.decimals)} ${scale.unit}`;
  const interval = ([low, high]: Interval) =>
    `${between([scale.of(low), scale.of(high)], scale.decimals)} ${scale.unit}`;
  return [
    {
      name: 'Bias',
      value: length(bias),
      interval: interval(biasInterval),
      says: 'By so much the inspector reads higher than the second person on average; below zero, lower.',
      source: LIMITS_SOURCE,
    },
    {
      name: 'Lower limit of agreement',
      value: length(band[0]),
      interval: interval(lowerInterval),
      says: 'About 19 of 20 differences lie between this and the upper limit.',
      source: LIMITS_SOURCE,
    },
    {
      name: 'Upper limit of agreement',
      value: length(band[1]),
      interval: interval(upperInterval),
      says: 'If such a difference could change a verdict, one reading is not enough to decide on.',
      source: LIMITS_SOURCE,
    },
  ];
}

function otherFigures({ withinMm, icc, stated, n }: ReadingAgreement, scale: LengthScale): readonly Figure[] {
  return [
    {
      name: 'Standard deviation within pairs',
      value:
        withinMm === null ? NOT_DEFINED : `${showNumber(scale.of(withinMm), scale.decimals)} ${scale.unit}`,
      interval: '',
      says: 'How far a single reading scatters about what both would read on average; the bias is part of it.',
      source: WITHIN_SOURCE,
    },
    {
      name: icc?.form === 'same two' ? 'Intraclass correlation, same two people' : 'Intraclass correlation',
      value: icc === null ? NOT_DEFINED : showNumber(icc.value, 2),
      interval: icc === null || icc.interval === null ? '' : between(icc.interval, 2),
      says: 'Share of the scatter of readings that comes from the parts; near 1, one person can stand in for another. It falls when the parts are much alike.',
      source: ICC_SOURCE,
    },
    {
      name: 'Pairs within the stated uncertainty',
      value: n === 0 ? NOT_DEFINED : statedWords(stated),
      interval: '',
      says: 'About 19 of 20 should be, if the instruments and hands are as good as they are said to be.',
      source: EN_SOURCE,
    },
  ];
}

/** Figures of call pairs in words. */
export function callFigures({ n, same, milder, moreSevere, kappa }: CallAgreement): readonly Figure[] {
  const of = (count: number) => `${count} of ${n} (${showNumber((100 * count) / n, 1)} %)`;
  const value = kappa.ok ? kappa.value : null;
  return [
    {
      name: 'The same call',
      value: of(same),
      interval: '',
      says: 'How often both called a part alike; some of that is chance.',
      source: COUNT_SOURCE,
    },
    {
      name: 'Second call more severe',
      value: of(moreSevere),
      interval: '',
      says: 'How often the second person saw what the inspector had let pass.',
      source: COUNT_SOURCE,
    },
    {
      name: 'Second call milder',
      value: of(milder),
      interval: '',
      says: 'How often the inspector was more careful than the second person.',
      source: COUNT_SOURCE,
    },
    {
      name: 'Weighted kappa',
      value: value === null || value.kappa === null ? NOT_DEFINED : showNumber(value.kappa, 2),
      interval: value === null || value.interval === null ? '' : between(value.interval, 2),
      says: 'Agreement beyond chance: 1 is whole, 0 is as by chance. Calls one step apart (keep, hold, repair, scrap) count two thirds, two steps one third, three steps nothing.',
      source: KAPPA_SOURCE,
    },
  ];
}

import type { ReactNode } from 'react';
import type { ZoneStanding } from '../_screens/inspect/zoneStates.ts';
import classes from './SectionDrawing.module.css';

/** From worst to best, the order of the key. */
export const STANDINGS: readonly ZoneStanding[] = ['scrap', 'repair', 'to do', 'keep', 'seen', 'none'];

const WORDS: Readonly<Record<ZoneStanding, string>> = {
  scrap: 'scrap',
  repair: 'repair',
  'to do': 'to do',
  keep: 'keep so far',
  seen: 'looked at',
  none: 'nothing yet',
};

const CLASS_NAMES: Readonly<Record<ZoneStanding, string>> = {
  scrap: 'scrap',
  repair: 'repair',
  'to do': 'toDo',
  keep: 'keep',
  seen: 'seen',
  none: 'none',
};

/** Signs 16 × 16 round the origin: the outlines of the verdicts, an empty box to tick, a thin ring, a dot. */
const SIGNS: Readonly<Record<ZoneStanding, ReactNode>> = {
  scrap: <path d="M-7-2.800h14v5.600h-14z" fill="currentColor" />,
  repair: <path d="M0-7 7 5.500H-7z" fill="currentColor" />,
  'to do': <path d="M-5-5H5V5H-5z" fill="none" stroke="currentColor" strokeWidth="2" />,
  keep: <circle r="5.500" fill="currentColor" />,
  seen: <circle r="4.500" fill="none" stroke="currentColor" strokeWidth="1.500" />,
  none: <circle r="2" fill="currentColor" />,
};

export function standingWord(standing: ZoneStanding): string {
  return WORDS[standing];
}

/** Class of the colour and line style of a standing. */
export function standingClass(standing: ZoneStanding): string {
  return classes[CLASS_NAMES[standing]] ?? '';
}

/** The sign itself, to be placed inside a drawing. */
export function StandingShape({ standing }: { standing: ZoneStanding }) {
  return SIGNS[standing];
}

/** The sign in running text. */
export function StandingSign({ standing }: { standing: ZoneStanding }) {
  return (
    <svg
      viewBox="-8 -8 16 16"
      width="16"
      height="16"
      aria-hidden="true"
      className={`${classes.sign} ${standingClass(standing)}`}
    >
      <StandingShape standing={standing} />
    </svg>
  );
}

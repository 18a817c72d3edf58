import type { WorkEvent } from './work.ts';

/** A key press as data: the key's name as the web platform gives it. */
export interface KeyPress {
  readonly key: string;
  readonly shift: boolean;
}

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};
const NUDGE_PX = 1;
const NUDGE_PX_SHIFT = 10;

/** What a key means for the marks: arrows nudge by 1 px of the photo (10 with shift); null for keys with no meaning here. */
export function eventOfKey(press: KeyPress): WorkEvent | null {
  const arrow = ARROWS[press.key];
  if (arrow) {
    const px = press.shift ? NUDGE_PX_SHIFT : NUDGE_PX;
    return { kind: 'nudge', byPx: [arrow[0] * px, arrow[1] * px] };
  }
  switch (press.key) {
    case 'Delete':
    case 'Backspace':
      return { kind: 'remove' };
    case 'Escape':
      return { kind: 'cancel' };
    case 'Enter':
      return { kind: 'finish' };
    case '[':
      return { kind: 'point', step: -1 };
    case ']':
      return { kind: 'point', step: 1 };
    default:
      return null;
  }
}

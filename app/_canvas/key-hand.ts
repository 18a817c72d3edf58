import { eventOfKey, type KeyPress } from '../../lib/marks/index.ts';
import type { Easel } from './easel.ts';

const KEY_ZOOM = 1.25;
const KEY_PAN_CSS = 24;

/** A key press on the canvas; `command` is Ctrl or the command key. */
export interface CanvasKeyPress extends KeyPress {
  readonly command: boolean;
}

/** Does what a key means for the canvas; false when it means nothing here. */
export function pressKey(easel: Easel, press: CanvasKeyPress): boolean {
  const name = press.key.toLowerCase();
  if (press.command) return commandKey(easel, name, press.shift);
  if (name === '+' || name === '=') easel.zoomTo(easel.view.scale * KEY_ZOOM);
  else if (name === '-') easel.zoomTo(easel.view.scale / KEY_ZOOM);
  else if (name === '0') easel.fit();
  else return markKey(easel, press);
  return true;
}

function commandKey(easel: Easel, name: string, shift: boolean): boolean {
  if (name !== 'z' && name !== 'y') return false;
  if (name === 'y' || shift) easel.props.onRedo?.();
  else if (!easel.stepBack()) easel.props.onUndo?.();
  return true;
}

function markKey(easel: Easel, press: KeyPress): boolean {
  const event = eventOfKey(press);
  if (event === null) return false;
  if (event.kind === 'nudge') {
    const [dx, dy] = event.byPx;
    if (!easel.nudge(event.byPx)) easel.panBy(-dx * KEY_PAN_CSS, -dy * KEY_PAN_CSS);
    return true;
  }
  if (event.kind !== 'cancel') easel.settle();
  easel.dispatch(event);
  return true;
}

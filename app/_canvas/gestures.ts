import type { PointPx } from '../../lib/marks/index.ts';
import type { Easel } from './easel.ts';
import type { Pointer } from './pointer.ts';

const LONG_PRESS_MS = 750;
const WHEEL_ZOOM_PER_PX = 0.0016;
const PINCH_WHEEL_ZOOM_PER_PX = 0.01;
const LINE_CSS = 16;

type Mode = 'none' | 'work' | 'pan' | 'pinch' | 'spent';

/**
 * Turns pointers, fingers and the wheel into doings of the easel: one finger works or pans,
 * two fingers pan and zoom, the wheel zooms at the pointer, space or the middle button pans.
 */
export class Gestures {
  readonly #element: HTMLElement;
  readonly #easel: Easel;
  readonly #down = new Map<number, PointPx>();
  #mode: Mode = 'none';
  #space = false;
  #longTimer: ReturnType<typeof setTimeout> | undefined;
  #corner: { left: number; top: number } = { left: 0, top: 0 };

  constructor(element: HTMLElement, easel: Easel) {
    this.#element = element;
    this.#easel = easel;
  }

  /** Begins to listen; the returned function ends it. */
  attach(): () => void {
    const ending = new AbortController();
    const { signal } = ending;
    const element = this.#element;
    element.addEventListener('pointerdown', (event) => this.#pointerDown(event), { signal });
    element.addEventListener('pointermove', (event) => this.#pointerMove(event), { signal });
    element.addEventListener('pointerup', (event) => this.#pointerUp(event), { signal });
    element.addEventListener('pointercancel', (event) => this.#pointerLost(event), { signal });
    element.addEventListener('pointerleave', () => this.#left(), { signal });
    element.addEventListener('wheel', (event) => this.#wheel(event), { signal, passive: false });
    // Some browsers zoom the page with their own pinch events, whatever touch-action says.
    element.addEventListener('gesturestart', (event) => event.preventDefault(), { signal, passive: false });
    element.addEventListener('contextmenu', (event) => event.preventDefault(), { signal });
    element.addEventListener('keydown', (event) => this.#spaceKey(event, true), { signal });
    element.addEventListener('keyup', (event) => this.#spaceKey(event, false), { signal });
    element.addEventListener('blur', () => this.#holdSpace(false), { signal });
    return () => {
      ending.abort();
      clearTimeout(this.#longTimer);
    };
  }

  #place(event: { clientX: number; clientY: number }): PointPx {
    return [event.clientX - this.#corner.left, event.clientY - this.#corner.top];
  }

  #measure(): void {
    const { left, top } = this.#element.getBoundingClientRect();
    this.#corner = { left, top };
  }

  #pointerDown(event: PointerEvent): void {
    this.#measure();
    const at = this.#place(event);
    const isPan = event.button === 1 || (event.button === 0 && this.#space);
    if (event.button !== 0 && !isPan) return;
    event.preventDefault();
    this.#element.focus({ preventScroll: true });
    this.#element.setPointerCapture(event.pointerId);
    this.#down.set(event.pointerId, at);
    clearTimeout(this.#longTimer);
    if (this.#down.size > 1) {
      if (this.#mode === 'work' || this.#mode === 'pan') this.#easel.drop();
      this.#mode = this.#down.size === 2 ? 'pinch' : this.#mode;
      return;
    }
    if (isPan) {
      this.#mode = 'pan';
      this.#element.dataset.moving = 'true';
      return;
    }
    this.#easel.point('down', at, pointerOf(event));
    this.#mode = this.#easel.holds() ? 'work' : 'pan';
    if (this.#mode === 'work' && event.pointerType !== 'mouse') {
      this.#longTimer = setTimeout(() => this.#easel.dispatch({ kind: 'long' }), LONG_PRESS_MS);
    }
  }

  #pointerMove(event: PointerEvent): void {
    const before = this.#down.get(event.pointerId);
    if (!before) {
      if (this.#down.size > 0 || event.pointerType === 'touch') return;
      this.#measure();
      this.#easel.point('hover', this.#place(event), pointerOf(event));
      return;
    }
    const at = this.#place(event);
    if (this.#mode === 'pinch') this.#pinch(event.pointerId, at);
    this.#down.set(event.pointerId, at);
    if (this.#mode === 'work' || (this.#mode === 'pan' && !this.#space && event.buttons !== 4)) {
      this.#easel.point('move', at, pointerOf(event));
    }
    if (this.#mode === 'pan' || this.#mode === 'spent')
      this.#easel.panBy(at[0] - before[0], at[1] - before[1]);
  }

  #pinch(moving: number, at: PointPx): void {
    const others = [...this.#down].filter(([id]) => id !== moving);
    const before = this.#down.get(moving);
    const fixed = others[0]?.[1];
    if (!before || !fixed) return;
    const spread = (p: PointPx): number => Math.max(1, Math.hypot(p[0] - fixed[0], p[1] - fixed[1]));
    const middle: PointPx = [(at[0] + fixed[0]) / 2, (at[1] + fixed[1]) / 2];
    const easel = this.#easel;
    easel.panBy((at[0] - before[0]) / 2, (at[1] - before[1]) / 2);
    easel.zoomTo((easel.view.scale * spread(at)) / spread(before), middle);
  }

  #pointerUp(event: PointerEvent): void {
    if (!this.#down.delete(event.pointerId)) return;
    clearTimeout(this.#longTimer);
    const at = this.#place(event);
    const mode = this.#mode;
    if (this.#down.size === 0) {
      this.#mode = 'none';
      delete this.#element.dataset.moving;
    } else if (mode === 'pinch') {
      // The finger that stays moves the photo on; it must not draw.
      this.#mode = 'spent';
    }
    if (mode === 'work' || (mode === 'pan' && event.button === 0)) {
      this.#easel.point('up', at, pointerOf(event));
    }
  }

  #pointerLost(event: PointerEvent): void {
    if (!this.#down.delete(event.pointerId)) return;
    clearTimeout(this.#longTimer);
    this.#easel.drop();
    this.#mode = this.#down.size === 0 ? 'none' : 'spent';
  }

  #left(): void {
    if (this.#down.size === 0) this.#easel.drop();
  }

  #wheel(event: WheelEvent): void {
    event.preventDefault();
    this.#measure();
    const unit = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? LINE_CSS : 1;
    if (event.shiftKey) {
      const along = event.deltaX === 0 ? event.deltaY : event.deltaX;
      this.#easel.panBy(-along * unit, 0);
      return;
    }
    const perPx = event.ctrlKey ? PINCH_WHEEL_ZOOM_PER_PX : WHEEL_ZOOM_PER_PX;
    const easel = this.#easel;
    easel.zoomTo(easel.view.scale * Math.exp(-event.deltaY * unit * perPx), this.#place(event));
  }

  #spaceKey(event: KeyboardEvent, held: boolean): void {
    if (event.key !== ' ' || event.target !== this.#element) return;
    event.preventDefault();
    this.#holdSpace(held);
  }

  #holdSpace(held: boolean): void {
    this.#space = held;
    if (held) this.#element.dataset.space = 'true';
    else delete this.#element.dataset.space;
  }
}

function pointerOf(event: PointerEvent): Pointer {
  return event.pointerType === 'mouse' ? 'mouse' : event.pointerType === 'pen' ? 'pen' : 'touch';
}

import { loupeAt, type PointPx } from '../../lib/marks/index.ts';
import type { Easel } from './easel.ts';
import { paintActive, paintPhotos } from './layers.ts';
import { HANDLE_LIGHT } from './looks.ts';
import { paintCross } from './paint.ts';
import type { RestPainter } from './rest-painter.ts';
import { loupePlace, SCALE_MAX, seenBox, toPhoto } from './view.ts';

/** Diameter of the loupe, CSS px. */
const LOUPE_CSS = 148;
const ENLARGES = 3;
const SCALE_LEAST = 0.5;

/** Where the loupe looks, px of the photo, while a finger or pen hides the place it points at; else null. */
export function loupeTarget(easel: Easel): PointPx | null {
  if (easel.finger === null || easel.pointer === 'mouse') return null;
  if (easel.guide.pressed) return easel.guide.at;
  const { press, edit } = easel.work;
  const isWidth = press?.kind === 'width' || edit?.grip?.kind === 'width';
  return isWidth ? toPhoto(easel.view, easel.finger) : loupeAt(easel.work);
}

/** Draws the loupe for the finger that is down, or hides it. `element` lies over the canvas, at its corner. */
export function paintLoupe(
  element: HTMLCanvasElement,
  easel: Easel,
  rest: RestPainter,
  pixelRatio: number,
): void {
  const at = loupeTarget(easel);
  if (at === null || easel.finger === null) {
    element.hidden = true;
    return;
  }
  const pen = element.getContext('2d');
  if (!pen) throw new Error('Broken invariant: no drawing context for the loupe');
  const sizePx = Math.round(LOUPE_CSS * pixelRatio);
  if (element.width !== sizePx) {
    element.width = sizePx;
    element.height = sizePx;
  }
  const radius = LOUPE_CSS / 2;
  const [x, y] = loupePlace(easel.finger, easel.port, LOUPE_CSS);
  element.style.transform = `translate(${x - radius}px, ${y - radius}px)`;
  element.hidden = false;
  const scale = Math.min(SCALE_MAX, Math.max(easel.view.scale * ENLARGES, SCALE_LEAST));
  // The painters ask the easel for its view, so it is given the loupe's own while they work.
  const { view, port } = easel;
  pen.setTransform(1, 0, 0, 1, 0, 0);
  pen.fillStyle = '#0e1012';
  pen.fillRect(0, 0, sizePx, sizePx);
  easel.view = { scale, x: radius - at[0] * scale, y: radius - at[1] * scale };
  easel.port = { width: LOUPE_CSS, height: LOUPE_CSS };
  try {
    pen.setTransform(
      scale * pixelRatio,
      0,
      0,
      scale * pixelRatio,
      easel.view.x * pixelRatio,
      easel.view.y * pixelRatio,
    );
    paintPhotos(pen, easel, scale, pixelRatio);
    rest.paintBox(pen, easel, seenBox(easel.view, easel.port, 0), false);
    paintActive(pen, easel, null);
    paintCross(pen, at, radius, 7, HANDLE_LIGHT, scale);
  } finally {
    easel.view = view;
    easel.port = port;
  }
}

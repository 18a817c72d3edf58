import { boundsPx, type Mark } from '../../../lib/marks/index.ts';
import { lookOf } from '../../_canvas/looks.ts';
import { paintShape } from '../../_canvas/paint.ts';

/** A picture for a page. */
export interface PagePicture {
  readonly data: string;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Width of a photo on a page, px: 150 px to the inch at 178 mm. */
const WIDTH_PX = 1050;

/** A length drawn on a photo: how many px of the original it takes, and its words. */
export interface ScaleBar {
  readonly lengthPx: number;
  readonly words: string;
}

function loaded(url: string): Promise<HTMLImageElement> {
  return new Promise((resolve, reject) => {
    const picture = new Image();
    picture.onload = () => resolve(picture);
    picture.onerror = () => reject(new Error('A photo could not be fetched'));
    picture.src = url;
  });
}

function numbered(pen: CanvasRenderingContext2D, x: number, y: number, text: string): void {
  pen.font = '600 20px "DejaVu Sans", sans-serif';
  const width = pen.measureText(text).width + 14;
  const [left, top] = [Math.min(Math.max(x, 0), WIDTH_PX - width), Math.max(y - 30, 0)];
  pen.fillStyle = 'rgba(8, 10, 12, 0.86)';
  pen.fillRect(left, top, width, 28);
  pen.fillStyle = '#ffffff';
  pen.fillText(text, left + 7, top + 21);
}

function drawBar(pen: CanvasRenderingContext2D, { lengthPx, words }: ScaleBar, heightPx: number): void {
  const [left, bottom] = [24, heightPx - 24];
  for (const [width, colour] of [
    [9, 'rgba(8, 10, 12, 0.86)'],
    [4, '#ffffff'],
  ] as const) {
    pen.lineWidth = width;
    pen.strokeStyle = colour;
    pen.beginPath();
    pen.moveTo(left, bottom - 10);
    pen.lineTo(left, bottom);
    pen.lineTo(left + lengthPx, bottom);
    pen.lineTo(left + lengthPx, bottom - 10);
    pen.stroke();
  }
  numbered(pen, left + lengthPx + 12, bottom + 8, words);
}

/**
 * A photo with its marks, drawn by the same code as on the screen, each with its number, and with a scale bar where the
 * photo has one. `originalPx` is the width of the upright original, to which the marks refer.
 */
export async function photoWithMarks(
  url: string,
  originalPx: number,
  marks: readonly Mark[],
  bar: ScaleBar | null,
): Promise<PagePicture> {
  const picture = await loaded(url);
  const canvas = document.createElement('canvas');
  canvas.width = WIDTH_PX;
  canvas.height = Math.round((picture.naturalHeight * WIDTH_PX) / picture.naturalWidth);
  const pen = canvas.getContext('2d');
  if (pen === null) throw new Error('This browser gives no room to draw a photo');
  pen.imageSmoothingQuality = 'high';
  pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
  const scale = WIDTH_PX / originalPx;
  pen.save();
  pen.scale(scale, scale);
  for (const { shape, defect } of marks) paintShape(pen, shape, lookOf(defect), scale, 'rest');
  pen.restore();
  marks.forEach(({ shape }, i) => {
    const { left, top } = boundsPx(shape);
    numbered(pen, left * scale, top * scale, `${i + 1}`);
  });
  if (bar !== null) drawBar(pen, { ...bar, lengthPx: bar.lengthPx * scale }, canvas.height);
  return { data: canvas.toDataURL('image/jpeg', 0.82), widthPx: canvas.width, heightPx: canvas.height };
}

/** What of a drawing's style has to go with it: outside of the page it has no style sheet. */
const STYLES = [
  'fill',
  'fill-opacity',
  'stroke',
  'stroke-width',
  'stroke-dasharray',
  'stroke-linecap',
  'stroke-linejoin',
  'opacity',
  'font-family',
  'font-size',
  'font-weight',
  'text-anchor',
  'dominant-baseline',
  'paint-order',
  'visibility',
  'display',
] as const;

/** A drawing of the screen as a picture, as it looks there, `enlarged` times as fine. */
export async function drawingAsPicture(drawing: SVGSVGElement, enlarged = 3): Promise<PagePicture> {
  const { width, height } = drawing.getBoundingClientRect();
  const copy = drawing.cloneNode(true) as SVGSVGElement;
  const [from, to] = [drawing.querySelectorAll<SVGElement>('*'), copy.querySelectorAll<SVGElement>('*')];
  from.forEach((element, i) => {
    const style = getComputedStyle(element);
    for (const name of STYLES) to[i]?.setAttribute(name, style.getPropertyValue(name));
  });
  copy.setAttribute('xmlns', 'http://www.w3.org/2000/svg');
  copy.setAttribute('width', `${width * enlarged}`);
  copy.setAttribute('height', `${height * enlarged}`);
  if (!copy.hasAttribute('viewBox')) copy.setAttribute('viewBox', `0 0 ${width} ${height}`);
  const text = new XMLSerializer().serializeToString(copy);
  const picture = await loaded(`data:image/svg+xml;charset=utf-8,${encodeURIComponent(text)}`);
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(width * enlarged);
  canvas.height = Math.round(height * enlarged);
  const pen = canvas.getContext('2d');
  if (pen === null) throw new Error('This browser gives no room to draw');
  pen.fillStyle = '#ffffff';
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
  return { data: canvas.toDataURL('image/png'), widthPx: canvas.width, heightPx: canvas.height };
}

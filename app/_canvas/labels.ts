import { type BoxPx, type FramePx, frameBox, type PointPx } from '../../lib/marks/index.ts';

/** A label drawn once and then copied: text is slow, copies are not. Sizes in CSS px. */
interface LabelPicture {
  readonly canvas: HTMLCanvasElement;
  readonly width: number;
  readonly height: number;
}

/** A label's wish: its text, the colour of its mark and the box of its mark, px of the photo. */
export interface LabelWish {
  readonly text: string;
  readonly colour: string;
  readonly box: BoxPx;
}

const FONT = '600 13px system-ui, "Segoe UI", Roboto, "DejaVu Sans", sans-serif';
const HEIGHT = 20;
const PAD = 6;
const SWATCH = 4;
const GAP = 6;
const TEXT_CHARS_MAX = 28;
const PICTURES_MAX = 600;

/** Draws labels beside marks, each at a constant size, and leaves out those that would cover another. */
export class Labels {
  readonly #pictures = new Map<string, LabelPicture>();
  readonly #pixelRatio: number;

  constructor(pixelRatio: number) {
    this.#pixelRatio = pixelRatio;
  }

  /** Which of the wishes get their label at this scale, by index; earlier ones go first. Independent of panning. */
  chosen(wishes: readonly LabelWish[], scale: number, frame: FramePx): number[] {
    const taken: BoxPx[] = [];
    const chosen: number[] = [];
    wishes.forEach((wish, index) => {
      const { width } = this.#picture(wish.text, wish.colour);
      const [x, y] = labelCorner(wish.box, width, scale, frame);
      const left = x * scale;
      const top = y * scale;
      const box = { left, top, right: left + width, bottom: top + HEIGHT };
      const free = taken.every(
        (other) =>
          box.left > other.right ||
          box.right < other.left ||
          box.top > other.bottom ||
          box.bottom < other.top,
      );
      if (!free) return;
      taken.push(box);
      chosen.push(index);
    });
    return chosen;
  }

  /** Draws one label above its mark; `pen` draws in px of the photo at `scale` CSS px each. */
  draw(pen: CanvasRenderingContext2D, wish: LabelWish, scale: number, frame: FramePx): void {
    const picture = this.#picture(wish.text, wish.colour);
    const [x, y] = labelCorner(wish.box, picture.width, scale, frame);
    pen.drawImage(picture.canvas, x, y, picture.width / scale, picture.height / scale);
  }

  #picture(text: string, colour: string): LabelPicture {
    const key = `${colour} ${text}`;
    const known = this.#pictures.get(key);
    if (known) return known;
    if (this.#pictures.size >= PICTURES_MAX) this.#pictures.clear();
    const made = drawPicture(text, colour, this.#pixelRatio);
    this.#pictures.set(key, made);
    return made;
  }
}

/** Upper left corner of a label, px of the photo: above its mark, held inside the photo. */
function labelCorner(box: BoxPx, widthCss: number, scale: number, frame: FramePx): PointPx {
  const photo = frameBox(frame);
  const x = Math.max(photo.left, Math.min(box.left, photo.right - widthCss / scale));
  const y = Math.max(photo.top, box.top - (GAP + HEIGHT) / scale);
  return [x, y];
}

function drawPicture(text: string, colour: string, pixelRatio: number): LabelPicture {
  const shown = text.length > TEXT_CHARS_MAX ? `${text.slice(0, TEXT_CHARS_MAX - 1)}…` : text;
  const canvas = document.createElement('canvas');
  const ctx = canvas.getContext('2d');
  if (!ctx) throw new Error('Broken invariant: no drawing context for a label');
  ctx.font = FONT;
  const width = Math.ceil(ctx.measureText(shown).width) + 2 * PAD + SWATCH;
  canvas.width = Math.ceil(width * pixelRatio);
  canvas.height = Math.ceil(HEIGHT * pixelRatio);
  ctx.scale(pixelRatio, pixelRatio);
  ctx.font = FONT;
  ctx.textBaseline = 'middle';
  ctx.fillStyle = 'rgba(8, 10, 12, 0.86)';
  ctx.beginPath();
  ctx.roundRect(0, 0, width, HEIGHT, 4);
  ctx.fill();
  ctx.fillStyle = colour;
  ctx.fillRect(0, 3, SWATCH, HEIGHT - 6);
  ctx.fillStyle = '#ffffff';
  ctx.fillText(shown, SWATCH + PAD, HEIGHT / 2 + 0.5);
  return { canvas, width, height: HEIGHT };
}

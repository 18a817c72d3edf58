import { linesOf, type PointPx, type Shape } from '../../../lib/marks/index.ts';

/** A mark to be drawn over a pair: where, of which date, and its letter in the table. */
export interface PaintedMark {
  readonly shape: Shape;
  readonly letter: string;
  readonly date: 'earlier' | 'later';
}

export type Mode = 'swipe' | 'blink' | 'difference';

export interface Painting {
  readonly mode: Mode;
  readonly base: ImageBitmap;
  readonly over: ImageBitmap;
  readonly difference: ImageBitmap;
  /** Share of the width from which the photo laid over is shown, 0 to 1. */
  readonly split: number;
  /** Which of the two blinking shows. */
  readonly shows: 'base' | 'over';
  readonly marks: readonly PaintedMark[];
  /** Px of the picture per px of the photo. */
  readonly factor: number;
}

const CASING = 'rgba(8, 10, 12, 0.86)';
/** Earlier marks are dashed and light, later ones unbroken and yellow: told apart without colour as well. */
const LOOKS = {
  earlier: { colour: '#9fe3ff', dash: [10, 7] },
  later: { colour: '#ffd400', dash: [] },
} as const;

/** Paints a pair as one picture; its size is that of the base. */
export function paintPair(pen: CanvasRenderingContext2D, painting: Painting): void {
  const { mode, base, over, difference, split, shows } = painting;
  const { width, height } = base;
  pen.clearRect(0, 0, width, height);
  if (mode === 'difference') pen.drawImage(difference, 0, 0);
  else if (mode === 'blink') {
    pen.drawImage(base, 0, 0);
    if (shows === 'over') {
      pen.fillStyle = '#2a2e33';
      pen.fillRect(0, 0, width, height);
      pen.drawImage(over, 0, 0);
    }
  } else {
    pen.drawImage(base, 0, 0);
    const at = Math.round(split * width);
    if (at < width) {
      pen.fillStyle = '#2a2e33';
      pen.fillRect(at, 0, width - at, height);
      pen.drawImage(over, at, 0, width - at, height, at, 0, width - at, height);
    }
    pen.fillStyle = '#ffffff';
    pen.fillRect(at - 3, 0, 6, height);
    pen.fillStyle = CASING;
    pen.fillRect(at - 1, 0, 2, height);
  }
  paintMarks(pen, painting.marks, painting.factor, width);
}

/** Paints marks over a picture of a photo. */
export function paintMarks(
  pen: CanvasRenderingContext2D,
  marks: readonly PaintedMark[],
  factor: number,
  width: number,
): void {
  const unit = Math.max(1, width / 700);
  for (const mark of marks) {
    const { colour, dash } = LOOKS[mark.date];
    for (const { points, closed } of linesOf(mark.shape)) {
      const line = points.map(([x, y]): PointPx => [(x + 0.5) * factor, (y + 0.5) * factor]);
      for (const [style, wide, pattern] of [
        [CASING, 4.5 * unit, []],
        [colour, 2 * unit, dash.map((length) => length * unit)],
      ] as const) {
        pen.beginPath();
        for (const [i, [x, y]] of line.entries()) {
          if (i === 0) pen.moveTo(x, y);
          else pen.lineTo(x, y);
        }
        if (closed) pen.closePath();
        pen.strokeStyle = style;
        pen.lineWidth = wide;
        pen.setLineDash([...pattern]);
        pen.stroke();
      }
      pen.setLineDash([]);
      letter(pen, mark.letter, line[0], unit, colour);
    }
  }
}

function letter(
  pen: CanvasRenderingContext2D,
  text: string,
  at: PointPx | undefined,
  unit: number,
  colour: string,
): void {
  if (at === undefined) return;
  pen.font = `bold ${Math.round(15 * unit)}px system-ui, sans-serif`;
  const [x, y] = [at[0] - 10 * unit, at[1] - 8 * unit];
  pen.lineWidth = 4 * unit;
  pen.strokeStyle = CASING;
  pen.strokeText(text, x, y);
  pen.fillStyle = colour;
  pen.fillText(text, x, y);
}

/** Paints picked points with their numbers, and the cross that the keys move. */
export function paintPoints(
  pen: CanvasRenderingContext2D,
  picture: ImageBitmap,
  points: readonly PointPx[],
  cross: PointPx | null,
  chosen: number | null,
): void {
  const { width, height } = picture;
  pen.clearRect(0, 0, width, height);
  pen.drawImage(picture, 0, 0);
  const unit = Math.max(1, width / 700);
  const drawn = cross === null ? points : [...points, cross];
  for (const [i, [x, y]] of drawn.entries()) {
    const isCross = i === points.length;
    for (const [style, wide] of [
      [CASING, 5 * unit],
      [i === chosen || isCross ? '#ffd400' : '#ffffff', 2 * unit],
    ] as const) {
      pen.beginPath();
      for (const [dx, dy] of [
        [1, 0],
        [-1, 0],
        [0, 1],
        [0, -1],
      ] as const) {
        pen.moveTo(x + 4 * unit * dx, y + 4 * unit * dy);
        pen.lineTo(x + 14 * unit * dx, y + 14 * unit * dy);
      }
      if (!isCross) {
        pen.moveTo(x + 10 * unit, y);
        pen.arc(x, y, 10 * unit, 0, 2 * Math.PI);
      }
      pen.strokeStyle = style;
      pen.lineWidth = wide;
      pen.stroke();
    }
    if (!isCross) letter(pen, String(i + 1), [x + 22 * unit, y + 4 * unit], unit, '#ffffff');
  }
}

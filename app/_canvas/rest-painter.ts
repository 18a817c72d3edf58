import { type BoxPx, boxesMeet, frameBox } from '../../lib/marks/index.ts';
import type { Easel } from './easel.ts';
import type { Labels, LabelWish } from './labels.ts';
import { lookOfTool } from './looks.ts';
import { boxOf, paintShape } from './paint.ts';
import type { ShownMark } from './shown.ts';
import { seenBox } from './view.ts';

type Pen = CanvasRenderingContext2D;

const CULL_MARGIN_CSS = 40;
const LABEL_MARGIN_CSS = 240;
/** The picture reaches this share of the window beyond each of its sides, so that a pan has room. */
const BEYOND_SHARE = 0.2;
/** A picture enlarged or reduced by more than this is drawn anew even while the photo moves. */
const STRETCH_MAX = 1.5;
/** Marks and their labels reach no farther beyond the photo than this, CSS px. */
const OUTSIDE_CSS = 60;
/** A moving picture may be coarser than a still one: it is soon drawn again, and must come quickly. */
const COARSER = 0.6;

/** What a painting of the marks at rest depends on besides the view. */
interface Basis {
  readonly shown: Easel['shown'];
  readonly drawn: Easel['told']['drawn'];
  readonly selected: string | null;
}

/** A painting of the marks at rest around the window, made at one scale; box in px of the photo. */
interface Picture extends Basis {
  readonly box: BoxPx;
  readonly scale: number;
}

function basisOf(easel: Easel): Basis {
  return { shown: easel.shown, drawn: easel.told.drawn, selected: easel.props.selected };
}

function sameBasis(a: Basis, b: Basis): boolean {
  return a.shown === b.shown && a.drawn === b.drawn && a.selected === b.selected;
}

function holds(outer: BoxPx, inner: BoxPx): boolean {
  return (
    outer.left <= inner.left &&
    outer.top <= inner.top &&
    outer.right >= inner.right &&
    outer.bottom >= inner.bottom
  );
}

/** The text, colour and place of a mark's label. */
export function wishOf(mark: ShownMark): LabelWish {
  return { text: mark.label, colour: mark.look.colour, box: boxOf(mark.shape) };
}

/**
 * Paints the marks at rest with their labels: all but the selected one, and only those in sight.
 * While the photo moves it shows a picture of them instead, and draws them sharply once it stands still.
 */
export class RestPainter {
  readonly #labels: Labels;
  readonly #pixelRatio: number;
  #labelledFor: (Basis & { scale: number }) | null = null;
  #labelled: ShownMark[] = [];
  #picture: Picture | null = null;
  #canvas: HTMLCanvasElement | null = null;

  constructor(labels: Labels, pixelRatio: number) {
    this.#labels = labels;
    this.#pixelRatio = Math.max(1, pixelRatio * COARSER);
  }

  /** Paints onto the layer. */
  paint(pen: Pen, easel: Easel): void {
    const seen = seenBox(easel.view, easel.port, 0);
    if (!easel.moving) {
      this.#picture = null;
      this.paintBox(pen, easel, seen, true);
      return;
    }
    const { box } = this.#pictureOf(easel, seen);
    if (!this.#canvas) return;
    pen.imageSmoothingEnabled = true;
    pen.drawImage(this.#canvas, box.left, box.top, box.right - box.left, box.bottom - box.top);
  }

  /** Paints the marks that reach into a box, px of the photo, with labels where wanted. */
  paintBox(pen: Pen, easel: Easel, box: BoxPx, withLabels: boolean): void {
    const { scale } = easel.view;
    const seen = grown(box, CULL_MARGIN_CSS / scale);
    for (const mark of easel.shown) {
      if (mark.mark === easel.props.selected || !boxesMeet(boxOf(mark.shape), seen)) continue;
      paintShape(pen, mark.shape, mark.look, scale, mark.suggested ? 'suggested' : 'rest');
    }
    for (const { shape, tool } of easel.told.drawn) paintShape(pen, shape, lookOfTool(tool), scale, 'rest');
    if (!withLabels) return;
    const around = grown(box, LABEL_MARGIN_CSS / scale);
    for (const mark of this.#chosenLabels(easel)) {
      if (boxesMeet(boxOf(mark.shape), around)) {
        this.#labels.draw(pen, wishOf(mark), scale, easel.scene.frame);
      }
    }
  }

  #pictureOf(easel: Easel, seen: BoxPx): Picture {
    const { scale } = easel.view;
    const photo = frameBox(easel.scene.frame);
    const known = this.#picture;
    const stretch = known ? Math.max(known.scale / scale, scale / known.scale) : Infinity;
    if (
      known &&
      stretch <= STRETCH_MAX &&
      sameBasis(known, basisOf(easel)) &&
      holds(known.box, cut(seen, photo))
    ) {
      return known;
    }
    const { width, height } = easel.port;
    const margin = (Math.max(width, height) * BEYOND_SHARE) / scale;
    const made = {
      ...basisOf(easel),
      scale,
      box: cut(grown(seen, margin), grown(photo, OUTSIDE_CSS / scale)),
    };
    this.#draw(easel, made);
    this.#picture = made;
    return made;
  }

  #draw(easel: Easel, picture: Picture): void {
    const canvas = this.#canvas ?? document.createElement('canvas');
    this.#canvas = canvas;
    const { box, scale } = picture;
    const perPx = scale * this.#pixelRatio;
    const width = Math.ceil((box.right - box.left) * perPx);
    const height = Math.ceil((box.bottom - box.top) * perPx);
    if (canvas.width !== width || canvas.height !== height) {
      canvas.width = width;
      canvas.height = height;
    }
    const pen = canvas.getContext('2d');
    if (!pen) throw new Error('Broken invariant: no drawing context for the marks at rest');
    pen.setTransform(1, 0, 0, 1, 0, 0);
    pen.clearRect(0, 0, width, height);
    // The box is cut to whole px of the canvas, so the scale may differ from perPx by less than one of them.
    const sx = width / (box.right - box.left);
    const sy = height / (box.bottom - box.top);
    pen.setTransform(sx, 0, 0, sy, -box.left * sx, -box.top * sy);
    this.paintBox(pen, easel, box, true);
  }

  #chosenLabels(easel: Easel): readonly ShownMark[] {
    const now = { ...basisOf(easel), scale: easel.view.scale };
    const known = this.#labelledFor;
    if (known !== null && known.scale === now.scale && sameBasis(known, now)) return this.#labelled;
    // The selected mark goes first: its own label is painted above and must not be covered.
    const first = now.shown.filter(({ mark }) => mark === now.selected);
    const order = [...first, ...now.shown.filter(({ mark }) => mark !== now.selected)];
    const chosen = this.#labels.chosen(order.map(wishOf), now.scale, easel.scene.frame);
    this.#labelled = chosen
      .map((index) => order[index])
      .filter((mark): mark is ShownMark => mark !== undefined && mark.mark !== now.selected);
    this.#labelledFor = now;
    return this.#labelled;
  }
}

/** The part of a box within another; the two must meet. */
function cut(box: BoxPx, within: BoxPx): BoxPx {
  return {
    left: Math.max(box.left, within.left),
    top: Math.max(box.top, within.top),
    right: Math.min(box.right, within.right),
    bottom: Math.min(box.bottom, within.bottom),
  };
}

function grown(box: BoxPx, byPx: number): BoxPx {
  return {
    left: box.left - byPx,
    top: box.top - byPx,
    right: box.right + byPx,
    bottom: box.bottom + byPx,
  };
}

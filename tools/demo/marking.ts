import { must } from '../../lib/base/index.ts';
import type { DefectKind, PointPx, Shape } from '../../lib/marks/index.ts';
import { type CardName, cardLayout, polygonArea } from '../../lib/photo/index.ts';
import type { PhotoScale } from '../../lib/record/index.ts';
import type { Hand } from './people.ts';
import type { Picture, TrueDefect } from './pictures.ts';
import type { Chance } from './random.ts';
import type { Dealt } from './shots.ts';

/** How far a drawn line may leave the true one before a hand sets a point, px at 2000 px across. */
const FOLLOWS_PX = 3;
/** Points that a hand sets on one line at most. */
const POINTS_MAX = 40;
/** What is left of a crack that was drawn too short. */
const SHORT_SHARE = 0.45;

const DEFECT_OF: Readonly<Record<TrueDefect['kind'], DefectKind>> = {
  crack: 'crack',
  corrosion: 'corrosion',
  pitting: 'pitting',
  wear: 'wear',
  broken: 'broken',
  galling: 'other',
  nick: 'other',
};

/** How far a found corner lies from the true one, px. */
const FOUND_PX = 0.15;

function checkedRuler(layout: CardName): { nominalMm: number; measuredMm: number } {
  const ruler = cardLayout(layout).rulers.find(({ unit }) => unit === 'mm');
  const nominalMm = must(ruler, 'ruler in mm').length;
  return { nominalMm, measuredMm: nominalMm };
}

/** A defect as somebody records it: drawn on the picture, or noted where nothing can be followed with the finger. */
export interface Recorded {
  readonly defect: DefectKind;
  readonly shape: Shape | null;
}

/** Whether a picture shows its scale whole: what lies outside the frame cannot be picked. */
export function showsScale({ scale, widthPx, heightPx }: Picture): boolean {
  if (scale === null) return false;
  const points = scale.source === 'scale card' ? scale.cardCorners : scale.ends;
  return points.every(([x, y]) => x >= 0 && x <= widthPx - 1 && y >= 0 && y <= heightPx - 1);
}

/** Draws with a hand on one picture. */
export class Drawing {
  readonly #picture: Picture;
  readonly #chance: Chance;
  readonly #errorPx: number;
  readonly #followsPx: number;

  constructor(picture: Picture, hand: Hand, chance: Chance) {
    const finer = Math.max(picture.widthPx, picture.heightPx) / 2000;
    this.#picture = picture;
    this.#chance = chance;
    this.#errorPx = hand.pointPx * finer;
    this.#followsPx = FOLLOWS_PX * finer;
  }

  /** The scale as it is picked by hand; null where the picture shows none, or not all of it. */
  scale(): PhotoScale | null {
    const { scale } = this.#picture;
    if (scale === null || !showsScale(this.#picture)) return null;
    if (scale.source === 'steel tape') {
      const [from, to] = scale.ends;
      const { lengthMm } = scale;
      return {
        source: 'known length',
        ends: [this.#picked(from), this.#picked(to)],
        lengthMm,
        typed: `${lengthMm} mm`,
        what: 'Steel tape',
      };
    }
    const found = scale.markers.filter(({ visible }) => visible);
    if (found.length === 0) return null;
    return {
      source: 'scale card',
      layout: scale.layout,
      markers: found.map(({ id, corners: [a, b, c, d] }) => ({
        id,
        corners: [this.#found(a), this.#found(b), this.#found(c), this.#found(d)],
      })),
      // The demonstration’s cards were printed true to size and checked.
      ruler: checkedRuler(scale.layout),
    };
  }

  /** What is recorded of what is truly there, dealt with in this way. */
  records(dealt: Dealt): readonly Recorded[] {
    const { defects, lookAlikes } = this.#picture;
    switch (dealt) {
      case 'overlooked':
        return [];
      case 'mistaken for a crack':
        return lookAlikes.flatMap((one) => this.#mistaken(one));
      case 'crack overlooked':
        return defects.filter(({ kind }) => kind !== 'crack').flatMap((one) => this.#marked(one, 1));
      case 'drawn short':
        return defects.flatMap((one) => this.#marked(one, one.kind === 'crack' ? SHORT_SHARE : 1));
      case 'drawn':
        return defects.flatMap((one) => this.#marked(one, 1));
    }
  }

  #marked(truth: TrueDefect, share: number): Recorded[] {
    const defect = DEFECT_OF[truth.kind];
    if (truth.visibleShare === 0) return [];
    const [main, ...others] = truth.branches.map(({ px }) => px);
    if (main !== undefined) {
      const drawn =
        share < 1 ? [main.slice(0, Math.max(2, Math.ceil(main.length * share)))] : [main, ...others];
      return [{ defect, shape: { form: 'trace', branches: drawn.map((line) => this.#followed(line)) } }];
    }
    const outline = largest(truth.outlines);
    if (outline === undefined) return [{ defect, shape: null }];
    return [{ defect, shape: { form: 'patch', outline: this.#followed(outline) } }];
  }

  #mistaken({ px }: Picture['lookAlikes'][number]): Recorded[] {
    if (px === undefined) return [];
    return [{ defect: 'crack', shape: { form: 'trace', branches: [this.#followed(px)] } }];
  }

  /** A line as a hand follows it: the points that matter, each a little off. */
  #followed(line: readonly PointPx[]): PointPx[] {
    let followsPx = this.#followsPx;
    let kept = simplified(line, followsPx);
    while (kept.length > POINTS_MAX) {
      followsPx *= 1.5;
      kept = simplified(line, followsPx);
    }
    return kept.map((point) => this.#picked(point));
  }

  /** A corner of a marker as it is found in a picture, to a hundredth of a pixel. */
  #found([x, y]: PointPx): PointPx {
    const off = (at: number) => Math.round((at + FOUND_PX * this.#chance.normal()) * 100) / 100;
    return [off(x), off(y)];
  }

  /** A point as it is picked, to a tenth of a pixel and inside the picture. */
  #picked([x, y]: PointPx): PointPx {
    const { widthPx, heightPx } = this.#picture;
    const off = (at: number, max: number) => {
      const moved = Math.round((at + this.#errorPx * this.#chance.normal()) * 10) / 10;
      return Math.min(Math.max(moved, 0), max - 1);
    };
    return [off(x, widthPx), off(y, heightPx)];
  }
}

/** The outline with the largest area, px². */
function largest(outlines: readonly (readonly PointPx[])[]): readonly PointPx[] | undefined {
  return [...outlines].sort((a, b) => polygonArea(b) - polygonArea(a))[0];
}

/** The points of a line that keep it within `tolerancePx` of its old course (Douglas and Peucker); at least its ends. */
export function simplified(line: readonly PointPx[], tolerancePx: number): readonly PointPx[] {
  const first = line[0];
  const last = line.at(-1);
  if (first === undefined || last === undefined || line.length < 3) return line;
  let [worst, away] = [0, -1];
  line.slice(1, -1).forEach((point, index) => {
    const distance = awayFrom(point, first, last);
    if (distance > away) [worst, away] = [index + 1, distance];
  });
  // An outline ends where it began: its farthest point is kept whatever the tolerance.
  if (away <= tolerancePx) return [first, last];
  return [
    ...simplified(line.slice(0, worst + 1), tolerancePx).slice(0, -1),
    ...simplified(line.slice(worst), tolerancePx),
  ];
}

function awayFrom([x, y]: PointPx, [ax, ay]: PointPx, [bx, by]: PointPx): number {
  const [dx, dy] = [bx - ax, by - ay];
  const squared = dx * dx + dy * dy;
  const along = squared === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / squared));
  return Math.hypot(x - ax - along * dx, y - ay - along * dy);
}

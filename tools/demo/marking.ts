import type { DefectKind, PointPx, Shape } from '../../lib/marks/index.ts';
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

/** A mark as somebody draws it, before it gets its place in the record. */
export interface Drawn {
  readonly defect: DefectKind;
  readonly shape: Shape;
  readonly truth: TrueDefect | null;
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

  /** The scale as it is picked by hand; null where the picture shows none. */
  scale(): PhotoScale | null {
    const { scale } = this.#picture;
    if (scale === null) return null;
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
    const [a, b, c, d] = scale.cardCorners;
    return {
      source: 'rectangle',
      corners: [this.#picked(a), this.#picked(b), this.#picked(c), this.#picked(d)],
      widthMm: scale.widthMm,
      heightMm: scale.heightMm,
      what: 'Scale card',
    };
  }

  /** The marks that come of what is truly there, dealt with in this way. */
  marks(dealt: Dealt): readonly Drawn[] {
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

  #marked(truth: TrueDefect, share: number): Drawn[] {
    const defect = DEFECT_OF[truth.kind];
    if (truth.branches !== undefined) {
      const branches = share < 1 ? truth.branches.slice(0, 1) : truth.branches;
      const lines = branches.map((line) => this.#followed(line.slice(0, Math.ceil(line.length * share))));
      return [{ defect, truth, shape: { form: 'trace', branches: lines } }];
    }
    if (truth.outline === undefined) return [];
    return [{ defect, truth, shape: { form: 'patch', outline: this.#followed(truth.outline) } }];
  }

  #mistaken(one: Picture['lookAlikes'][number]): Drawn[] {
    const line = one.branches?.[0];
    if (line === undefined) return [];
    return [{ defect: 'crack', truth: null, shape: { form: 'trace', branches: [this.#followed(line)] } }];
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

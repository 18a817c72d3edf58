import { distancePx, type PointPx, type Shape } from '../../lib/marks/index.ts';

type Angle = Extract<Shape, { form: 'angle' }>;

/** The arc that shows which angle is meant, px of the photo; directions in radians from x towards y. */
export interface AngleArc {
  readonly at: PointPx;
  readonly radiusPx: number;
  readonly from: number;
  readonly to: number;
  /** Whether it runs from y towards x, so that it always goes the shorter way. */
  readonly back: boolean;
}

const RADIUS_CSS = 22;
/** No further out than this share of the shorter arm. */
const ARM_SHARE = 0.6;

/** The arc between the arms of an angle at `scale` CSS px per px of the photo. */
export function angleArc({ vertex, arms }: Angle, scale: number): AngleArc {
  const [from, to] = arms.map(([x, y]) => Math.atan2(y - vertex[1], x - vertex[0])) as [number, number];
  const armPx = Math.min(...arms.map((end) => distancePx(end, vertex)));
  return {
    at: vertex,
    radiusPx: Math.min(RADIUS_CSS / scale, ARM_SHARE * armPx),
    from,
    to,
    back: Math.sin(to - from) < 0,
  };
}

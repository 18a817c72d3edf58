'use client';
import { useEffect, useRef, useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import type { PointPx } from '../../../lib/marks/index.ts';
import {
  type Alignment,
  alignByPoints,
  PAIRS_MAX,
  PAIRS_MIN,
  type PictureSize,
  type PointPair,
} from '../../../lib/photo/index.ts';
import { Button, Card, ProblemNote } from '../../_ui/kit.tsx';
import classes from './compare.module.css';
import { paintPoints } from './paintPair.ts';

interface Picking {
  readonly pictures: readonly [ImageBitmap, ImageBitmap];
  readonly sizes: readonly [PictureSize, PictureSize];
  readonly names: readonly [string, string];
  onLaid(alignment: Alignment, pairs: readonly PointPair[]): void;
  onLeave(): void;
}

type Lists = readonly [readonly PointPx[], readonly PointPx[]];

/** Pairs of points picked by hand on two photos: three or more, the first with the first. */
export function PickPoints({ pictures, sizes, names, onLaid, onLeave }: Picking) {
  const [lists, setLists] = useState<Lists>([[], []]);
  const [wrong, setWrong] = useState<Problem | null>(null);
  const put = (side: 0 | 1, list: readonly PointPx[]) => {
    setWrong(null);
    setLists((before) => (side === 0 ? [list, before[1]] : [before[0], list]));
  };
  const count = Math.min(lists[0].length, lists[1].length);
  const even = lists[0].length === lists[1].length;
  const lay = () => {
    const original = (side: 0 | 1, i: number): PointPx => {
      const factor = sizes[side].widthPx / pictures[side].width;
      const [x, y] = lists[side][i] ?? [0, 0];
      return [(x + 0.5) * factor - 0.5, (y + 0.5) * factor - 0.5];
    };
    const pairs = Array.from({ length: count }, (_, i) => ({ from: original(0, i), to: original(1, i) }));
    const laid = alignByPoints(sizes[0], sizes[1], pairs);
    if (laid.ok) onLaid(laid.value, pairs);
    else setWrong(laid.error);
  };
  return (
    <Card title="Points by hand">
      <p>
        Pick the same {PAIRS_MIN} or 4 spots on both photos, in the same order, far apart: corners of old
        paint, punch marks, ends of a weld. More than 4 tell how well they fit. With the keys: arrows move the
        cross (Shift: far), Enter sets a point, Backspace takes the last one away.
      </p>
      <div className={classes.beside}>
        {([0, 1] as const).map((side) => (
          <PickOn
            key={side}
            picture={pictures[side]}
            name={names[side]}
            points={lists[side]}
            onPoints={(list) => put(side, list)}
          />
        ))}
      </div>
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <p role="status">
        {even
          ? `${count} ${count === 1 ? 'pair' : 'pairs'} picked.`
          : `${lists[0].length} on the first, ${lists[1].length} on the second photo: the same number is needed.`}
      </p>
      <div className={classes.row}>
        <Button tone="act" disabled={!even || count < PAIRS_MIN} onClick={lay}>
          Lay them over each other
        </Button>
        <Button onClick={() => setLists([[], []])} disabled={lists[0].length + lists[1].length === 0}>
          Start over
        </Button>
        <Button onClick={onLeave}>Leave</Button>
      </div>
    </Card>
  );
}

const NUDGES = [
  ['Left', '←', -1, 0],
  ['Up', '↑', 0, -1],
  ['Down', '↓', 0, 1],
  ['Right', '→', 1, 0],
] as const;
const KEYS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};
const FAR_PX = 20;

function PickOn({
  picture,
  name,
  points,
  onPoints,
}: {
  picture: ImageBitmap;
  name: string;
  points: readonly PointPx[];
  onPoints(list: readonly PointPx[]): void;
}) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const [cross, setCross] = useState<PointPx>([picture.width / 2, picture.height / 2]);
  const [keys, setKeys] = useState(false);
  const [zoom, setZoom] = useState('1');
  useEffect(() => {
    const pen = canvas.current?.getContext('2d');
    if (pen) paintPoints(pen, picture, points, keys ? cross : null, points.length - 1);
  });
  const within = ([x, y]: PointPx): PointPx => [
    Math.min(picture.width - 1, Math.max(0, x)),
    Math.min(picture.height - 1, Math.max(0, y)),
  ];
  const add = (at: PointPx) => {
    if (points.length < PAIRS_MAX) onPoints([...points, within(at)]);
  };
  const nudge = (dx: number, dy: number) => {
    const last = points.at(-1);
    if (last !== undefined) onPoints([...points.slice(0, -1), within([last[0] + dx, last[1] + dy])]);
  };
  const click = (event: React.MouseEvent<HTMLCanvasElement>) => {
    const box = event.currentTarget.getBoundingClientRect();
    setKeys(false);
    add([
      ((event.clientX - box.left) / box.width) * picture.width,
      ((event.clientY - box.top) / box.height) * picture.height,
    ]);
  };
  const press = (event: React.KeyboardEvent) => {
    const step = KEYS[event.key];
    if (step !== undefined) {
      const far = event.shiftKey ? FAR_PX : 2;
      setKeys(true);
      setCross(([x, y]) => within([x + far * step[0], y + far * step[1]]));
    } else if (event.key === 'Enter') add(cross);
    else if (event.key === 'Backspace') onPoints(points.slice(0, -1));
    else return;
    event.preventDefault();
  };
  return (
    <figure className={classes.single}>
      <div className={classes.frame}>
        {/* biome-ignore lint/a11y/noInteractiveElementToNoninteractiveRole: points are set on it by hand and by keys */}
        <canvas
          ref={canvas}
          width={picture.width}
          height={picture.height}
          role="application"
          aria-label={`Pick points on the photo of ${name}; ${points.length} picked`}
          tabIndex={0}
          className={`${classes.canvas} ${classes[`zoom${zoom}`]} ${classes.picking}`}
          onClick={click}
          onKeyDown={press}
        />
      </div>
      <figcaption>{name}</figcaption>
      <div className={classes.row}>
        {NUDGES.map(([words, sign, dx, dy]) => (
          <Button
            key={words}
            aria-label={`${words}: move the last point on ${name}`}
            disabled={points.length === 0}
            onClick={() => nudge(dx, dy)}
          >
            {sign}
          </Button>
        ))}
        <Button disabled={points.length === 0} onClick={() => onPoints(points.slice(0, -1))}>
          Take last away
        </Button>
        <label className={classes.pick}>
          Larger{' '}
          <select value={zoom} onChange={(event) => setZoom(event.target.value)}>
            {['1', '2', '4'].map((one) => (
              <option key={one} value={one}>
                {one} ×
              </option>
            ))}
          </select>
        </label>
      </div>
    </figure>
  );
}

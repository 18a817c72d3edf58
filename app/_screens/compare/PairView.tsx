'use client';
import { useEffect, useRef, useState } from 'react';
import type { LaidPictures } from '../../_client/aligning.ts';
import { Choice } from '../../_ui/kit.tsx';
import classes from './compare.module.css';
import { BlinkRow, LookRow, type Names, type Rate, Slider, useBlink, type Zoom } from './LookControls.tsx';
import { type Mode, type PaintedMark, paintMarks, paintPair } from './paintPair.ts';

export type Shown = Mode | 'side by side';
const MODES: readonly Shown[] = ['swipe', 'blink', 'side by side', 'difference'];
/** Two photos laid over each other, and the four ways to look at them. */
export function PairView({
  pictures,
  marks,
  factor,
  names,
}: {
  pictures: LaidPictures;
  /** On the base, and each on its own photo. */
  marks: {
    readonly laid: readonly PaintedMark[];
    readonly base: readonly PaintedMark[];
    readonly other: readonly PaintedMark[];
  };
  /** Px of the picture per px of the photo: of the base and of the other one. */
  factor: readonly [number, number];
  names: Names;
}) {
  const [shown, setShown] = useState<Shown>('swipe');
  const [split, setSplit] = useState(50);
  const [rate, setRate] = useState<Rate>('even');
  const [zoom, setZoom] = useState<Zoom>('1');
  const [withMarks, setWithMarks] = useState(true);
  const blink = useBlink(shown === 'blink', rate);
  const { shows, setRuns, turn } = blink;
  useEffect(() => {
    const key = (event: KeyboardEvent) => {
      if (event.key !== 'b' || event.ctrlKey || event.metaKey || event.altKey) return;
      if (event.target instanceof HTMLSelectElement) return;
      setShown('blink');
      setRuns(false);
      turn();
    };
    window.addEventListener('keydown', key);
    return () => window.removeEventListener('keydown', key);
  });
  const list = withMarks ? marks.laid : [];
  return (
    <div className={classes.view}>
      <Choice legend="How to look" options={MODES} value={shown} onChoose={setShown} />
      {shown === 'side by side' ? (
        <div className={classes.beside}>
          <Single
            picture={pictures.first}
            marks={withMarks ? marks.base : []}
            factor={factor[0]}
            name={names.base}
            zoom={zoom}
          />
          <Single
            picture={pictures.second}
            marks={withMarks ? marks.other : []}
            factor={factor[1]}
            name={names.over}
            zoom={zoom}
          />
        </div>
      ) : (
        <Painted
          zoom={zoom}
          label={labelOf(shown, shows, names)}
          width={pictures.first.width}
          height={pictures.first.height}
          paint={(pen) =>
            paintPair(pen, {
              mode: shown,
              base: pictures.first,
              over: pictures.over,
              difference: pictures.difference,
              split: split / 100,
              shows,
              marks: list,
              factor: factor[0],
            })
          }
          onDrag={shown === 'swipe' ? (share) => setSplit(Math.round(share * 100)) : null}
        />
      )}
      {shown === 'swipe' ? <Slider split={split} onSplit={setSplit} names={names} /> : null}
      {shown === 'blink' ? <BlinkRow blink={blink} rate={rate} onRate={setRate} names={names} /> : null}
      {shown === 'difference' ? (
        <p>
          Grey is unchanged. Dark is darker, light is lighter on {names.over} once both are brought to the
          same brightness: light and shadow show as well as rust.
        </p>
      ) : null}
      <LookRow zoom={zoom} onZoom={setZoom} withMarks={withMarks} onMarks={setWithMarks} />
    </div>
  );
}

function labelOf(mode: Mode, shows: 'base' | 'over', names: Names): string {
  if (mode === 'difference') return `Difference of ${names.over} from ${names.base}`;
  if (mode === 'blink') return `Photo of ${shows === 'base' ? names.base : names.over}`;
  return `Left ${names.base}, right ${names.over}, laid over each other`;
}

function Single({
  picture,
  marks,
  factor,
  name,
  zoom,
}: {
  picture: ImageBitmap;
  marks: readonly PaintedMark[];
  factor: number;
  name: string;
  zoom: string;
}) {
  return (
    <figure className={classes.single}>
      <Painted
        zoom={zoom}
        label={`Photo of ${name}`}
        width={picture.width}
        height={picture.height}
        paint={(pen) => {
          pen.drawImage(picture, 0, 0);
          paintMarks(pen, marks, factor, picture.width);
        }}
        onDrag={null}
      />
      <figcaption>{name}</figcaption>
    </figure>
  );
}

/** A picture that is painted anew whenever it is rendered; a drag across it tells where, as a share of its width. */
export function Painted({
  width,
  height,
  label,
  paint,
  onDrag,
  zoom,
}: {
  width: number;
  height: number;
  label: string;
  paint: (pen: CanvasRenderingContext2D) => void;
  onDrag: ((share: number) => void) | null;
  zoom: string;
}) {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const pen = canvas.current?.getContext('2d');
    if (pen) paint(pen);
  });
  const tell = (event: React.PointerEvent<HTMLCanvasElement>) => {
    if (onDrag === null || (event.buttons & 1) === 0) return;
    const box = event.currentTarget.getBoundingClientRect();
    onDrag(Math.min(1, Math.max(0, (event.clientX - box.left) / box.width)));
  };
  return (
    <div className={classes.frame}>
      <canvas
        ref={canvas}
        width={width}
        height={height}
        role="img"
        aria-label={label}
        className={`${classes.canvas} ${classes[`zoom${zoom}`]} ${onDrag === null ? '' : classes.drag}`}
        onPointerDown={tell}
        onPointerMove={tell}
      />
    </div>
  );
}

'use client';
import { useCallback, useEffect, useState } from 'react';
import { Button } from '../../_ui/kit.tsx';
import classes from './compare.module.css';

const RATES = { slow: 1500, even: 800, quick: 400 } as const;
export type Rate = keyof typeof RATES;
const ZOOMS = ['1', '2', '4'] as const;
export type Zoom = (typeof ZOOMS)[number];

/** What the photo below and the one laid over it are called: their dates. */
export interface Names {
  readonly base: string;
  readonly over: string;
}

const prefersStill = () => window.matchMedia('(prefers-reduced-motion: reduce)').matches;

/** Which of the two is shown while blinking: by itself at a rate, or by the key b alone where motion is not wanted. */
export function useBlink(on: boolean, rate: Rate) {
  const [shows, setShows] = useState<'base' | 'over'>('base');
  const [runs, setRuns] = useState(false);
  const turn = useCallback(() => setShows((before) => (before === 'base' ? 'over' : 'base')), []);
  useEffect(() => {
    if (on) setRuns(!prefersStill());
  }, [on]);
  useEffect(() => {
    if (!on || !runs) return;
    const timer = setInterval(turn, RATES[rate]);
    return () => clearInterval(timer);
  }, [on, runs, rate, turn]);
  return { shows, runs, setRuns, turn };
}

/** The handle of swiping; arrow keys move it. */
export function Slider({
  split,
  onSplit,
  names,
}: {
  split: number;
  onSplit: (split: number) => void;
  names: Names;
}) {
  return (
    <label className={classes.slider}>
      <span>
        Left {names.base} · right {names.over}
      </span>
      <input
        type="range"
        min={0}
        max={100}
        value={split}
        onChange={(event) => onSplit(Number(event.target.value))}
      />
    </label>
  );
}

/** What blinks, how fast, and by itself or not. */
export function BlinkRow({
  blink: { shows, runs, setRuns, turn },
  rate,
  onRate,
  names,
}: {
  blink: ReturnType<typeof useBlink>;
  rate: Rate;
  onRate: (rate: Rate) => void;
  names: Names;
}) {
  return (
    <div className={classes.row}>
      <output className={classes.now}>Shown: {shows === 'base' ? names.base : names.over}</output>
      <Button onClick={turn}>Change over (key b)</Button>
      <Button onClick={() => setRuns(!runs)} aria-pressed={runs}>
        {runs ? 'Stop blinking' : 'Blink by itself'}
      </Button>
      <label className={classes.pick}>
        Rate{' '}
        <select value={rate} onChange={(event) => onRate(event.target.value as Rate)}>
          {Object.keys(RATES).map((one) => (
            <option key={one}>{one}</option>
          ))}
        </select>
      </label>
    </div>
  );
}

/** How large, and with marks or without. */
export function LookRow({
  zoom,
  onZoom,
  withMarks,
  onMarks,
}: {
  zoom: Zoom;
  onZoom: (zoom: Zoom) => void;
  withMarks: boolean;
  onMarks: (on: boolean) => void;
}) {
  return (
    <div className={classes.row}>
      <label className={classes.pick}>
        Larger{' '}
        <select value={zoom} onChange={(event) => onZoom(event.target.value as Zoom)}>
          {ZOOMS.map((one) => (
            <option key={one} value={one}>
              {one} ×
            </option>
          ))}
        </select>
      </label>
      <label className={classes.pick}>
        <input type="checkbox" checked={withMarks} onChange={(event) => onMarks(event.target.checked)} /> Show
        marks
      </label>
      <span>Dashed, light blue: marked on the earlier photo. Unbroken, yellow: on the later one.</span>
    </div>
  );
}

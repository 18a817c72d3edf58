'use client';
import { useState } from 'react';
import type { Problem, Result } from '../../../lib/base/index.ts';
import type { Point } from '../../../lib/photo/index.ts';
import { Button, ProblemNote } from '../../_ui/kit.tsx';
import classes from './photo.module.css';

/** Pulls points to edges in the photo on screen. */
export type Pull = (points: readonly Point[], what: 'spans' | 'corners') => Promise<Result<Point[], Problem>>;

/** Pulls the ends of a span or the corners of an outline to the edges nearby, and puts them back. Never by itself. */
export function PullPoints({
  points,
  what,
  pull,
  onPoints,
}: {
  points: readonly Point[];
  what: 'spans' | 'corners';
  pull: Pull;
  onPoints(points: readonly Point[]): void;
}) {
  const [before, setBefore] = useState<readonly Point[] | null>(null);
  const [moved, setMoved] = useState<string | null>(null);
  const [wrong, setWrong] = useState<Problem | null>(null);
  const act = async () => {
    setWrong(null);
    const pulled = await pull(points, what);
    if (!pulled.ok) return setWrong(pulled.error);
    const most = Math.max(
      ...pulled.value.map(([x, y], i) => Math.hypot(x - (points[i]?.[0] ?? x), y - (points[i]?.[1] ?? y))),
    );
    setBefore(points);
    setMoved(`Moved by up to ${most.toFixed(1)} px.`);
    onPoints(pulled.value);
  };
  return (
    <div className={classes.pull}>
      <Button onClick={() => void act()}>Pull to edges</Button>
      {before === null ? null : (
        <Button
          onClick={() => {
            onPoints(before);
            setBefore(null);
            setMoved(null);
          }}
        >
          Put back
        </Button>
      )}
      <span role="status">{moved}</span>
      {wrong === null ? null : <ProblemNote problem={wrong} />}
    </div>
  );
}

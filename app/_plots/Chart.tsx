'use client';
import type * as PlotModule from '@observablehq/plot';
import { type ReactNode, useEffect, useState } from 'react';
import { useWidth } from '../_drawings/useWidth.ts';
import { DataTable } from './DataTable.tsx';
import classes from './plots.module.css';
import type { TableData } from './table.ts';

/** The plotting library, loaded when a chart is first shown. */
export type Plot = typeof PlotModule;

let loading: Promise<Plot> | null = null;
function plotLibrary(): Promise<Plot> {
  loading ??= import('@observablehq/plot').catch((error: unknown) => {
    // A later chart may try again, when there is a connection.
    loading = null;
    throw error;
  });
  return loading;
}

/** Width until it is known, and the widest: wider ones would be scaled down, with their words, on A4. */
const WIDTH_PX = 640;
const WIDTH_PX_MAX = 760;

/**
 * A figure: its title, a sentence that says what it shows, the drawing, and the table it is drawn from. `draw` gives the
 * drawing for a width in CSS px and must keep its identity while its data stay the same.
 */
export function Chart({
  title,
  draw,
  table,
  children,
}: {
  title: string;
  draw: (plot: Plot, widthPx: number) => Element;
  table: TableData;
  children: ReactNode;
}) {
  const [ref, widthPx] = useWidth<HTMLDivElement>(WIDTH_PX);
  const [failed, setFailed] = useState(false);
  useEffect(() => {
    let gone = false;
    plotLibrary().then(
      (plot) => {
        if (gone) return;
        const drawing = draw(plot, Math.min(widthPx, WIDTH_PX_MAX));
        // It is one picture: its pieces have no names of their own.
        for (const piece of drawing.querySelectorAll('[aria-label]')) piece.removeAttribute('aria-label');
        // A drawing that has links in it is a group of them.
        drawing.setAttribute('role', drawing.querySelector('a') === null ? 'img' : 'group');
        drawing.setAttribute('aria-label', `${title}; the figures are in the table below`);
        ref.current?.replaceChildren(drawing);
        setFailed(false);
      },
      (error: unknown) => {
        console.error('The plotting library did not load', error);
        if (!gone) setFailed(true);
      },
    );
    return () => {
      gone = true;
    };
  }, [draw, widthPx, title, ref]);
  return (
    <figure className={classes.chart}>
      <figcaption>
        <h3>{title}</h3>
        {children}
      </figcaption>
      {failed ? (
        <p role="alert">The drawing could not be loaded; the table below has its figures.</p>
      ) : (
        <div ref={ref} className={classes.drawing} />
      )}
      <DataTable data={table} />
    </figure>
  );
}

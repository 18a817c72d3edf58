import type { ReactNode } from 'react';
import { type CardShade, type CardSheet, drawingOf, GREY_SRGB } from '../../lib/photo/index.ts';
import classes from './CardPicture.module.css';

const GREY = Math.round(GREY_SRGB * 255);
const FILLS: Readonly<Record<CardShade, string>> = {
  white: '#fff',
  black: '#000',
  grey: `rgb(${GREY} ${GREY} ${GREY})`,
};

/** A page of scale cards as it will be printed, drawn from the same shapes as the PDF. */
export function SheetPicture({ sheet }: { sheet: CardSheet }) {
  const { widthMm, heightMm, cards, cuts, notes } = sheet;
  return (
    <svg
      className={classes.sheet}
      viewBox={`0 0 ${widthMm} ${heightMm}`}
      role="img"
      aria-label={`Page of ${cards.map(({ layout }) => layout.name).join(', ')}`}
    >
      <rect width={widthMm} height={heightMm} fill={FILLS.white} />
      {notes.map(({ at: [x, y], text, sizeMm }) => (
        <text key={text} x={x} y={y} fontSize={sizeMm}>
          {text}
        </text>
      ))}
      {cards.map(({ layout, leftMm, topMm }) => (
        <g key={`${leftMm} ${topMm}`} transform={`translate(${leftMm} ${topMm})`}>
          <CardShapes layout={layout} />
        </g>
      ))}
      {cuts.map(({ from, to }) => (
        <line
          key={`${from} ${to}`}
          x1={from[0]}
          y1={from[1]}
          x2={to[0]}
          y2={to[1]}
          stroke="#6e6e6e"
          strokeWidth={0.3}
        />
      ))}
    </svg>
  );
}

function CardShapes({ layout }: { layout: CardSheet['cards'][number]['layout'] }): ReactNode {
  const { boxes, lines, texts } = drawingOf(layout);
  return (
    <>
      {boxes.map(({ leftMm, topMm, widthMm, heightMm, shade }) => (
        <rect
          key={`${leftMm} ${topMm} ${widthMm} ${heightMm}`}
          x={leftMm}
          y={topMm}
          width={widthMm}
          height={heightMm}
          fill={FILLS[shade]}
        />
      ))}
      {lines.map(({ from, to, widthMm }) => (
        <line
          key={`${from} ${to}`}
          x1={from[0]}
          y1={from[1]}
          x2={to[0]}
          y2={to[1]}
          stroke={FILLS.black}
          strokeWidth={widthMm}
        />
      ))}
      {texts.map(({ at: [x, y], text, sizeMm, bold }) => (
        <text
          key={`${x} ${y}`}
          x={x}
          y={y}
          fontSize={sizeMm}
          fontWeight={bold ? 700 : 400}
          textAnchor="middle"
        >
          {text}
        </text>
      ))}
    </>
  );
}

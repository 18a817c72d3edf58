import type { ReactNode } from 'react';
import type { DefectKind } from '../../lib/marks/index.ts';
import classes from './UnrolledRim.module.css';

/** A kind of mark at a place: outline, line pattern and letters differ, so that no colour is needed. */
interface Glyph {
  readonly letters: string;
  readonly outline: ReactNode;
}

const GLYPHS: Readonly<Record<DefectKind | 'measure', Glyph>> = {
  crack: {
    letters: 'Cr',
    outline: <path d="M1 6 6 2l4 3 5-4 5 4 5-2v15l-5 4-5-3-5 4-4-4-5 2z" strokeWidth="2" />,
  },
  corrosion: {
    letters: 'Co',
    outline: <path d="M6 2h13l6 6v8l-5 6H7l-6-6V8z" strokeWidth="2" strokeDasharray="5 2.500" />,
  },
  pitting: {
    letters: 'Pi',
    outline: (
      <circle cx="13" cy="12" r="11" strokeWidth="3" strokeDasharray="0.100 4.500" strokeLinecap="round" />
    ),
  },
  wear: { letters: 'We', outline: <path d="M1 3h24v18H1z" strokeWidth="2" strokeDasharray="8 2 2 2" /> },
  bent: { letters: 'Be', outline: <path d="M7 2h18l-6 20H1z" strokeWidth="2" strokeDasharray="10 3" /> },
  broken: { letters: 'Br', outline: <path d="M2 2h9l2 4 2-4h9v20h-9l-2-4-2 4H2z" strokeWidth="3" /> },
  other: { letters: 'Ot', outline: <path d="M2 2h22v20H2z" strokeWidth="2" strokeDasharray="3 3" /> },
  measure: { letters: 'M', outline: <path d="M1 3v18M25 3v18M1 12h5M20 12h5" strokeWidth="2" /> },
};

export const KINDS = Object.keys(GLYPHS) as readonly (DefectKind | 'measure')[];

/** The glyph of a kind of mark, 26 × 24. */
export function DefectGlyph({ kind }: { kind: DefectKind | 'measure' }) {
  const { letters, outline } = GLYPHS[kind];
  return (
    <svg viewBox="0 0 26 24" width="26" height="24" aria-hidden="true" className={classes.glyph}>
      <g fill="none" stroke="currentColor">
        {outline}
      </g>
      <text x="13" y="16" textAnchor="middle">
        {letters}
      </text>
    </svg>
  );
}

import type { ReactNode } from 'react';
import type { Tool } from '../../lib/marks/index.ts';

/** Our own line drawings, 24 × 24, in the colour of the text around them; the word beside says the same. */
function Icon({ children }: { children: ReactNode }) {
  return (
    <svg
      width="24"
      height="24"
      viewBox="0 0 24 24"
      fill="none"
      stroke="currentColor"
      strokeWidth="2"
      strokeLinecap="round"
      strokeLinejoin="round"
      aria-hidden="true"
      focusable="false"
    >
      {children}
    </svg>
  );
}

const TOOL_DRAWINGS: Readonly<Record<Tool, ReactNode>> = {
  look: (
    <>
      <path d="M2.5 12c2.6-4.3 5.8-6.5 9.5-6.5s6.9 2.2 9.5 6.5c-2.6 4.3-5.8 6.5-9.5 6.5S5.100 16.300 2.500 12z" />
      <circle cx="12" cy="12" r="2.800" />
    </>
  ),
  crack: <path d="M3 5l5 3 1 4 5 1 2 5 5 2M9 12l-4 5M14 13l5-4" />,
  corrosion: (
    <>
      <path d="M5 9c1-4 5-5 8-4s7 2 6 7-3 7-8 7-7-5-6-10z" strokeDasharray="4 2.500" />
      <path d="M9 11h.01M13 9h.01M14 14h.01M10 15h.01" />
    </>
  ),
  pitting: (
    <path
      d="M6 6h.01M12 4h.01M18 7h.01M4 12h.01M10 10h.01M15 12h.01M20 14h.01M7 17h.01M13 18h.01M18 19h.01"
      strokeWidth="3.500"
    />
  ),
  'wear patch': (
    <>
      <path d="M4 8l6-4 9 3 1 8-7 5-8-3z" />
      <path d="M8 10l8 5M11 8l6 4M8 14l4 3" />
    </>
  ),
  'wear band': (
    <path d="M3 16C7 8 14 5 20 6M5.500 20C9 13 15 10 21.500 11M7 14.500l3 3M12 10.500l2 3.500M17.500 8.500l.6 2" />
  ),
  bent: <path d="M3 8h5c3 0 3 8 6 8h7M3 12h3M18 12h3" />,
  broken: <path d="M3 7h8l-2 3 3 2-2 4H3zM21 7h-6l-2 3 3 2-2 4h7z" />,
  span: <path d="M4 6v12M20 6v12M4 12h16M7 9l-3 3 3 3M17 9l3 3-3 3" />,
  angle: <path d="M20 19H4L15 5M9.6 11.9a9 9 0 0 1 3.4 7.1" />,
  spot: (
    <>
      <circle cx="12" cy="12" r="7" />
      <path d="M12 12h.01" strokeWidth="4" />
    </>
  ),
};

/** The drawing for a tool. */
export function ToolIcon({ tool }: { tool: Tool }) {
  return <Icon>{TOOL_DRAWINGS[tool]}</Icon>;
}

/** An arrow turning back. */
export function UndoIcon() {
  return (
    <Icon>
      <path d="M8 5L4 9l4 4M4 9h10a6 6 0 0 1 0 11h-3" />
    </Icon>
  );
}

/** An arrow turning forward. */
export function RedoIcon() {
  return (
    <Icon>
      <path d="M16 5l4 4-4 4M20 9H10a6 6 0 0 0 0 11h3" />
    </Icon>
  );
}

/** A cross in a box. */
export function RemoveIcon() {
  return (
    <Icon>
      <path d="M5 5h14v14H5zM9 9l6 6M15 9l-6 6" />
    </Icon>
  );
}

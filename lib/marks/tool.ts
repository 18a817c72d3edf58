import type { DefectKind, Shape, ShapeForm } from './shape.ts';

/** What the hand holds: `look` moves about and edits, every other one draws. */
export type Tool =
  | 'look'
  | 'crack'
  | 'corrosion'
  | 'pitting'
  | 'wear patch'
  | 'wear band'
  | 'bent'
  | 'broken'
  | 'span'
  | 'angle'
  | 'spot';
export type DrawingTool = Exclude<Tool, 'look'>;

/** What a drawing tool makes: the form it draws and the defect it says, null for a measure or a pointer. */
export interface ToolMakes {
  readonly form: ShapeForm;
  readonly defect: DefectKind | null;
}

export const TOOL_MAKES: Readonly<Record<DrawingTool, ToolMakes>> = {
  crack: { form: 'trace', defect: 'crack' },
  corrosion: { form: 'patch', defect: 'corrosion' },
  pitting: { form: 'patch', defect: 'pitting' },
  'wear patch': { form: 'patch', defect: 'wear' },
  'wear band': { form: 'band', defect: 'wear' },
  bent: { form: 'patch', defect: 'bent' },
  broken: { form: 'patch', defect: 'broken' },
  span: { form: 'span', defect: null },
  angle: { form: 'angle', defect: null },
  spot: { form: 'spot', defect: null },
};

/** All tools in the order they are offered. */
export const TOOLS: readonly Tool[] = [
  'look',
  'crack',
  'corrosion',
  'pitting',
  'wear patch',
  'wear band',
  'bent',
  'broken',
  'span',
  'angle',
  'spot',
];

/** The plain word for a mark when nothing better is known: its defect, or what its form is for. */
export function markWord(mark: { readonly defect: DefectKind | null; readonly shape: Shape }): string {
  if (mark.defect !== null) return mark.defect;
  const { form } = mark.shape;
  return form === 'span' || form === 'angle' || form === 'spot' ? form : 'mark';
}

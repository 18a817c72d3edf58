import type { Ref } from 'react';
import type { Problem } from '../../lib/base/index.ts';
import type { DefectKind, DrawingTool, PointPx, Shape, Tool, WorkSummary } from '../../lib/marks/index.ts';

/** What the canvas needs of a mark; a mark of the record has it all. */
export interface PhotoMark {
  readonly mark: string;
  readonly shape: Shape;
  readonly defect: DefectKind | null;
  /** Proposed by a model and not yet taken over by a person: drawn so that it cannot be mistaken for a mark. */
  readonly suggested?: boolean;
  /** Drawn by the other person of a comparison: white and dotted, whatever it says. */
  readonly otherHand?: boolean;
}

/** Points that set the scale: two ends of a known length, four corners of a rectangle or the ends of two lengths; empty at first. */
export interface ScaleGuide {
  readonly points: readonly PointPx[];
  readonly wanted: 2 | 4;
  /** Four points are the ends of two lengths, not corners. */
  readonly pairs?: boolean;
  /** Takes touches before the tool does: taps set missing points, drags move them. */
  readonly editable: boolean;
  /** Called when a point is set or has been moved. */
  readonly onChange: (points: readonly PointPx[]) => void;
}

/** A line laid over the photo under the marks, such as the measuring grid; px of the upright original. */
export interface OverlayLine {
  readonly points: readonly (readonly [number, number])[];
  readonly strong: boolean;
}

/** What the buttons around the photo can ask of it. */
export interface PhotoCanvasHandle {
  /** Shows the whole photo. */
  fit(): void;
  /** One px of the photo per CSS px, about the middle. */
  actualSize(): void;
  /** Enlarges (above 1) or reduces (below 1) about the middle. */
  zoomBy(factor: number): void;
  /** Brings a mark to the middle; does nothing for an unknown one. */
  zoomToMark(mark: string): void;
  /** Ends the shape being drawn, or goes on to the width of a band. */
  finish(): void;
  cancel(): void;
  /** Takes back the last step of the shape being drawn; false when none is, so that the record may undo. */
  stepBack(): boolean;
  /** Removes the chosen point, or withdraws the selected mark. */
  remove(): void;
  focus(): void;
}

/** A controlled view of one photo with its marks: the record stays outside and is told what the hand did. */
export interface PhotoCanvasProps {
  /** `blob:` or same-origin address of the original or a large derivative. */
  readonly photoUrl: string;
  /** Size of the upright original, px: the coordinates of marks refer to it. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** What the photo shows, for people who cannot see it. */
  readonly name: string;
  readonly marks: readonly PhotoMark[];
  readonly selected: string | null;
  readonly tool: Tool;
  readonly readOnly?: boolean;
  readonly labelFor?: (mark: PhotoMark) => string;
  /** Size of the shape being drawn, in words; asked for at each step of the hand, so it must be quick. */
  readonly draftLabel?: (shape: Shape, tool: DrawingTool) => string;
  readonly scaleGuide?: ScaleGuide | null;
  /** Lines under the marks. Keep the same array until they change. */
  readonly overlay?: readonly OverlayLine[] | null;
  /** Address of an earlier photo laid over this one, and how strongly (0 … 1, usual 0.5). */
  readonly ghost?: { readonly url: string; readonly strength?: number } | null;
  /** Shown as told until the given promise settles or the marks change. */
  readonly onDrawn: (shape: Shape, tool: DrawingTool) => void | Promise<void>;
  readonly onRedrawn: (mark: string, shape: Shape) => void | Promise<void>;
  readonly onWithdraw: (mark: string) => void | Promise<void>;
  readonly onSelect: (mark: string | null) => void;
  readonly onUndo?: () => void;
  readonly onRedo?: () => void;
  /** Told when what the buttons need to know has changed; never per movement of the pointer. */
  readonly onWork?: (summary: WorkSummary) => void;
  readonly onRefused?: (problem: Problem) => void;
  readonly handle?: Ref<PhotoCanvasHandle>;
}

import type { RoundName } from './rounds.ts';

/** How the inspector dealt with what a picture shows. */
export type Dealt =
  /** Everything that is truly there was drawn. */
  | 'drawn'
  /** Drawn, but a crack too short by far. */
  | 'drawn short'
  /** Nothing was drawn though something is there. */
  | 'overlooked'
  /** Wear or rust was drawn, the crack was not. */
  | 'crack overlooked'
  /** Something harmless was drawn as a crack. */
  | 'mistaken for a crack';

/** In which round of its wheel a picture was taken, and what the inspector made of it. */
export interface Shot {
  readonly round: RoundName;
  readonly dealt: Dealt;
  /** What stands at the mark, or at the look where nothing was drawn. */
  readonly note: string;
}

const shot = (round: RoundName, note = '', dealt: Dealt = 'drawn'): Shot => ({ round, dealt, note });

/** Every picture by name. Wheel, slot, zone and clock stand in its own truth. */
export const shots: Readonly<Record<string, Shot>> = {
  'groove-1': shot('year 1', 'Ring track in the floor, even all round'),
  'groove-2': shot('year 2', 'Scratch of a tyre lever in the corner', 'overlooked'),
  'groove-3': shot('year 3', 'Floor worn by the ring, a clear step', 'crack overlooked'),
  'groove-4': shot('now', 'Crack in the corner radius, both ends found with the brush'),
  'weld-1': shot('year 1'),
  'weld-2': shot('year 2', 'Weld toe sharp, looks like the edge of the weld', 'overlooked'),
  'weld-3': shot('year 3', '', 'overlooked'),
  'weld-4': shot('now', 'Crack along the weld toe'),
  'seat-1': shot('year 1', 'Surface rust, no depth felt'),
  'seat-2': shot('year 2', 'Patch wider than last year'),
  'seat-3': shot('year 3', 'Wider again, scale comes off with the brush'),
  'seat-4': shot('now', 'Rust over most of the seat here'),
  'flange-1': shot('year 1', 'Step under the straightedge'),
  'flange-2': shot('year 2', 'Step under the straightedge'),
  'flange-3': shot('year 3', 'Step under the straightedge'),
  'flange-4': shot('now', 'Step under the straightedge, edge of it sharp'),
  'groove-clean': shot('now'),
  'groove-hairline': shot('now', 'Hairline, seen only after brushing and with the torch from the side'),
  'groove-open': shot('now', 'Open crack, the finger nail catches all along'),
  'groove-worn': shot('year 3', 'Ring has worked itself into the floor'),
  'groove-grime': shot('now', 'Grease and dust; to be washed'),
  'lip-clean': shot('now'),
  'lip-chipped': shot('year 3', '', 'overlooked'),
  'lip-crack': shot('now', 'Runs across the lip'),
  'seal-groove-pitted': shot('now', 'Pits in the floor of the groove'),
  'seal-groove-clean': shot('now'),
  'gutter-weld-clean': shot('now', 'Looked at by torch on the night shift'),
  'gutter-weld-crack': shot('now', 'Crack at the toe, it branches'),
  'butt-weld-crack': shot('now', '', 'overlooked'),
  'butt-weld-clean': shot('year 3'),
  'centre-rust': shot('now', 'Corrosion where water stood'),
  'centre-chalk': shot('now', 'Chalk line and a drip of paint, no defect'),
  'back-weld-crack': shot('year 3', 'Crack along the back weld'),
  'back-weld-scratch': shot('now', 'A scratch: it ends blunt and shines at the bottom'),
  'back-seat-rust': shot('now', 'Rust where the bead sat'),
  'back-seat-rubber': shot('now', 'Streaks of rubber, no defect'),
  'back-radius-crack': shot('now', 'Runs round in the radius'),
  'back-radius-hair': shot('now', 'Fine dark line in the radius', 'mistaken for a crack'),
  'back-flange-worn': shot('year 3', 'Fretting under the loose flange'),
  'back-flange-clean': shot('now'),
  'taper-galled': shot('now', 'Galling where the clamp bears'),
  'taper-clean': shot('now'),
  'valve-crack': shot('now', 'From the corner of the slot'),
  'valve-clean': shot('year 3'),
  'stud-crack': shot('now', 'Starts at the hole'),
  'stud-clean': shot('now', 'Rust streak from one hole: nut found loose and tightened'),
  'gap-0': shot('year 3', 'Ends touch'),
  'gap-6': shot('now'),
  'gap-14': shot('now'),
  'gap-25': shot('now', 'Ring has lost its spring'),
  'ring-crack': shot('now', 'Runs round the ring'),
  'ring-hairline': shot('now', '', 'overlooked'),
  'ring-shadow': shot('now', 'Shadow of the cable, gone when the torch moved'),
  'ring-seat-worn': shot('now', 'Polished and worn on one side'),
  'ring-chipped': shot('now', 'End chipped, ring lying free on the floor'),
  'lip-flange-clean': shot('now'),
  'lip-flange-crack': shot('year 3', 'Starts at the edge'),
  'face-rust': shot('year 3', 'Corrosion on the tyre side'),
  'face-scratch': shot('now', 'Scratches from the tyre lever, no defect'),
  'contact-clean': shot('now'),
  'contact-worn': shot('now', 'Worn step, measured with the straightedge'),
  'flange-seat-rust': shot('now', 'Surface rust where the bead sat'),
  'band-seat-pitted': shot('year 3', 'Pits close together'),
  'band-seat-clean': shot('now', 'Polished by the rubber, no defect'),
  'band-contact-worn': shot('now', 'Worn by the ring'),
  'band-contact-crack': shot('year 3', 'Crack in the contact face', 'drawn short'),
  'seal-nicked': shot('now', 'Old ring, nicked; a new one goes in'),
  'seal-new': shot('now', 'New ring, right size'),
};

import type { Call } from '../../lib/record/index.ts';
import type { CharacteristicId, ZoneId } from '../../lib/wheel/index.ts';

/** A call with its reason, by slot. */
export type Calls = Readonly<Record<string, readonly [Call, string]>>;

/** What of an inspection went another way than most. */
export interface Turn {
  /** Calls of the inspector that are not what the verdict says. */
  readonly calls?: Calls;
  readonly notes?: readonly string[];
  /** Zones that could not be seen, by slot. */
  readonly hidden?: Readonly<Record<string, readonly ZoneId[]>>;
  /** The gutter was read with depth gauge 2. */
  readonly oldGauge?: true;
  /** The ring was not measured lying free. */
  readonly freeGapLeftOut?: true;
  /** A reading that was written down wrong. */
  readonly slip?: {
    readonly slot: string;
    readonly characteristic: CharacteristicId;
    readonly clock: number;
    readonly byMm: number;
  };
  /** The gutter was read twice at every place. */
  readonly readTwice?: true;
  readonly pressure?: readonly [found: string, recommended: string];
  /** Why it was sent back. Where it is reviewed in the end, the inspector put it right and submitted again. */
  readonly sentBack?: string;
  /** The reviewer's own calls where they are more severe than the verdict, the limit, and why it was overruled. */
  readonly overruled?: { readonly reason: string; readonly calls: Calls; readonly limit: string };
  /** What the reviewer said when agreeing. */
  readonly agreed?: string;
  /** Days before today of the review, where it took longer. */
  readonly reviewedDays?: number;
  /** Slots that the inspector has not come to; for inspections still being made. */
  readonly notYet?: readonly string[];
}

/** Keyed by wheel and round. The story of the wheel HT-02 front left stands in story.ts. */
export const turns: Readonly<Record<string, Turn>> = {
  'HT-01 rear left outer, year 1': {
    freeGapLeftOut: true,
    sentBack:
      'The lock ring was measured fitted only. Lay it free on the floor and tape the overlap: a ring that has lost its spring shows it there first.',
    agreed: 'Free overlap is in now. Numbers plausible.',
  },
  'HT-02 rear left inner, year 1': {
    slip: { slot: 'rim base', characteristic: 'gutter depth', clock: 6, byMm: -1 },
    sentBack:
      'Gutter depth at 6 o’clock is a whole millimetre below its neighbours. Read it again before we scrap a base over a slip of the pen.',
    agreed: 'Read again at 6 o’clock: a slip, corrected. The first number stays in the record.',
  },
  'WL-03 front left, year 2': {
    hidden: { 'rim base': ['O-ring groove'] },
    notes: ['O-ring groove full of hard grease, no steam cleaner today.'],
    agreed: 'Hold until the O-ring groove has been cleaned and looked at.',
  },
  'WC-05 rear right, year 2': {
    freeGapLeftOut: true,
    sentBack: 'Free overlap of the lock ring is missing.',
    agreed: '',
  },
  'HT-01 rear right outer, year 3': {
    calls: { 'rim base': ['keep', 'Groove and seats are good.'] },
    overruled: {
      reason:
        'The photo of the gutter lip shows two pieces broken out near 11 o’clock. A broken base is not used again, whatever the gauge says of the groove.',
      calls: { 'rim base': ['scrap', 'Lip broken in two places, see the photo of the gutter lip.'] },
      limit: 'demonstration-quillmoor, row broken base or flange',
    },
  },
  'HT-01 rear left outer, year 3': {
    readTwice: true,
    notes: ['Lock ring tagged unserviceable and taken out of the bay.'],
  },
  'WL-03 rear left, year 3': {
    agreed:
      'The crack in the contact face of the rear band goes on past the mark, nearly twice as far. Scrap either way; next time follow it to both ends.',
  },
  'WC-05 front left, year 3': {
    agreed: 'Measured the photos again: nothing that the inspector did not see.',
  },
  'HT-01 front left, now': {
    calls: { 'lock ring': ['hold', 'Worn on one side; no way of measuring it is on file.'] },
    notes: ['Night shift, work lamp and torch.'],
  },
  'HT-02 rear right outer, now': {
    agreed: 'Base and band are the ones fitted after the scrap of last year; both good.',
  },
  'WL-04 rear right, now': {
    calls: { 'rim base': ['keep', 'Butt weld looks even.'] },
    overruled: {
      reason:
        'There is a line across the butt weld on the photo, about 26 mm, dark at the ends: a crack. The yearly test of this base was missed too.',
      calls: { 'rim base': ['scrap', 'Crack in the butt weld, see the photo.'] },
      limit: 'demonstration-quillmoor, row crack elsewhere',
    },
  },
  'GR-06 front right, now': {
    oldGauge: true,
    freeGapLeftOut: true,
    sentBack:
      'Depth gauge 2 is out of calibration: measure the gutter again with depth gauge 1. The free overlap of the lock ring is missing too.',
  },
  'GR-06 front left, now': {
    hidden: { 'rim base': ['gutter groove', 'O-ring groove'] },
    notes: ['Steam cleaner is booked for tomorrow.'],
  },
  'WC-05 front left, now': {
    notes: ['One wheel nut found loose, tightened to the plate; rust streak washed off.'],
  },
  'GR-06 rear left, now': { calls: { 'rim base': ['scrap', 'Crack in the back flange radius.'] } },
  'HT-01 front right, now': {
    readTwice: true,
    notes: [
      'Looked at again because of the crack found on HT-02: all gutter grooves are being brushed and looked at.',
    ],
  },
  'WL-03 front left, now': {
    pressure: ['73 psi', '94 psi'],
    notes: ['Found soft on the haul road. Front lock ring tagged unserviceable and taken out of the bay.'],
  },
  'WC-05 rear left, now': { calls: { 'lock ring': ['keep', 'Looks good.'] } },
  'WC-05 front right, now': { notYet: ['side flange'] },
  'GR-06 rear right, now': { notYet: ['side flange'], freeGapLeftOut: true },
};

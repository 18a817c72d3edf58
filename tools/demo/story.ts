import { must } from '../../lib/base/index.ts';
import { kinds } from '../../lib/record/index.ts';
import type { Agenda } from './agenda.ts';
import type { DemoLog } from './log.ts';
import type { Parts } from './parts.ts';
import { writeTest } from './register.ts';
import type { Turn } from './turns.ts';

/**
 * The story of one wheel. A crack of 14 mm is taken for a scratch; a year later a reviewer sees on the photo what has
 * become of it, the base is taken out of service and tested. It is tagged, not cut up: in a night it is fitted again,
 * and runs until somebody reads the stamp and looks into the book.
 */
const WHEEL = 'HT-02 front left';
const CRACKED = `${WHEEL}|rim base`;

/** Days before today. */
const TESTED_DAYS = 322;
const SWAPPED_DAYS = 262;
const LOOKED_BACK_DAYS = 328;

export const storyTurns: Readonly<Record<string, Turn>> = {
  [`${WHEEL}, year 1`]: {
    agreed: 'Groove and weld are sound on the photos. Floor worn by less than a millimetre.',
  },
  [`${WHEEL}, year 2`]: {
    calls: { 'rim base': ['keep', 'One scratch in the corner of the groove, from a lever. Worn evenly.'] },
    agreed: 'Agreed. Readings a little further on than last year, as expected.',
  },
  [`${WHEEL}, year 3`]: {
    calls: { 'rim base': ['keep', 'The scratch from last year is still there. Depth is within the limit.'] },
    overruled: {
      reason:
        'What is called a scratch is a crack. On the photo of the gutter groove it runs along the corner radius for about 46 mm, and it was 14 mm a year ago: scratches do not grow. There is a second one at the toe of the gutter weld. Take the base out and have it tested before anyone says more.',
      calls: {
        'rim base': ['scrap', 'Cracks in the gutter groove and at the gutter weld, see both photos.'],
      },
      limit: 'demonstration-quillmoor, row crack elsewhere',
    },
    reviewedDays: LOOKED_BACK_DAYS,
  },
  [`${WHEEL}, now`]: {
    notes: [
      'Stamp read after brushing. The book says that this base was scrapped last year. It was tagged then, not cut up.',
      'Groove brushed to bare metal before the photo. Both ends of the crack found.',
    ],
    calls: { 'rim base': ['scrap', 'Cracked in the groove and at the weld. This base should not be here.'] },
    agreed:
      'Scrap, for the second time. From today a scrapped base is cut in two before it leaves the bay, and every gutter groove of the fleet is brushed and looked at again.',
    reviewedDays: 18,
  },
  [`${WHEEL}, after`]: {
    notes: ['New base. Stamps of all parts compared with the book before assembly.'],
    agreed: 'Every zone on the photos is sound. May go together.',
  },
};

/** Why the base leaves the wheel, by round. */
export const leaves: Readonly<Record<string, string>> = {
  [`${WHEEL}, year 3`]:
    'Scrap after review: cracks in gutter groove and gutter weld. Tagged unserviceable, put in the yard.',
  [`${WHEEL}, now`]: 'Scrap for the second time. Cut in two with the torch, both halves on the scrap heap.',
};

/** Plans what happens to the base between the rounds. `lookedBackAt` gives the inspection of a round. */
export function planStory(
  agenda: Agenda,
  log: DemoLog,
  parts: Parts,
  lookedBackAt: (key: string) => string | undefined,
): void {
  agenda.plan(LOOKED_BACK_DAYS, '16:40', () => {
    const earlier = must(lookedBackAt(`${WHEEL}, year 2`), 'the inspection before');
    const text =
      'Looked at again on a large screen after the overruling: the line of about 14 mm along the corner radius is there already, and so is the one at the weld toe. We both passed it. Photos of grooves are looked at full size from now on.';
    log.write(kinds.noteWritten, earlier, { text }, 'reviewer 2');
  });
  agenda.plan(TESTED_DAYS, '14:00', () => {
    writeTest(log, parts.named(CRACKED), WHEEL, 'indication', ['gutter groove', 'gutter weld']);
  });
  agenda.plan(SWAPPED_DAYS, '02:30', () => {
    const standing = must(parts.inSlot(WHEEL, 'rim base'), 'the base of the year');
    parts.remove(standing.key, 'Gutter lip broken by a rock on the haul road. Scrap.', 'inspector 3');
    parts.fit(CRACKED, WHEEL, 'rim base', 'inspector 3');
  });
}

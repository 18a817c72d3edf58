import { must } from '../../lib/base/index.ts';
import { mustSlot } from '../../lib/wheel/index.ts';
import type { Agenda } from './agenda.ts';
import { constructionOfWheel, wheelOf } from './fleet.ts';
import type { DemoLog } from './log.ts';
import type { Parts } from './parts.ts';
import type { DemoPart } from './people.ts';
import { chanceFrom, seedOf } from './random.ts';
import { writeTest } from './register.ts';

/** Parts that went from one wheel to another, or broke between the rounds. Days before today. */
const MOVES: readonly {
  readonly days: number;
  readonly wheel: string;
  readonly slot: string;
  readonly reason: string;
  /** The wheel whose part of the same slot takes its place; null: a spare. */
  readonly from: string | null;
}[] = [
  {
    days: 486,
    wheel: 'GR-06 front right',
    slot: 'lock ring',
    reason: 'Bent by a tyre lever. Scrap.',
    from: 'GR-06 front left',
  },
  {
    days: 655,
    wheel: 'WL-03 rear right',
    slot: 'front side flange',
    reason: 'Lip bent by a rock. Sent to the maker.',
    from: null,
  },
];

/** Puts a new part into a slot that is free; a rim base was tested on receipt. */
function fitSpare(log: DemoLog, parts: Parts, wheel: string, slot: string): void {
  const { kind } = mustSlot(constructionOfWheel(wheel), slot);
  const key = `${wheel}|${slot}, spare of day ${Math.floor(log.days)}`;
  const madeDays = Math.floor(log.days) + 60 + chanceFrom(seedOf(key)).below(200);
  const spare = parts.describe(key, kind, wheelOf(wheel).machine, { madeDays });
  if (kind === 'rim base') writeTest(log, spare, wheel, 'no indication');
  parts.fit(key, wheel, slot);
}

/** Takes a part out and puts a spare in. */
export function replace(
  log: DemoLog,
  parts: Parts,
  wheel: string,
  slot: string,
  reason: string,
  by: DemoPart = 'lead',
): void {
  parts.remove(must(parts.inSlot(wheel, slot), `${slot} of ${wheel}`).key, reason, by);
  fitSpare(log, parts, wheel, slot);
}

export function planMoves(agenda: Agenda, log: DemoLog, parts: Parts): void {
  for (const { days, wheel, slot, reason, from } of MOVES) {
    agenda.plan(days, '17:20', () => {
      if (from === null) {
        replace(log, parts, wheel, slot, reason);
        return;
      }
      parts.remove(must(parts.inSlot(wheel, slot), `${slot} of ${wheel}`).key, reason);
      const moved = must(parts.inSlot(from, slot), `${slot} of ${from}`).key;
      parts.remove(moved, `Taken for ${wheel}.`);
      parts.fit(moved, wheel, slot);
      fitSpare(log, parts, from, slot);
    });
  }
}

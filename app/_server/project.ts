import { bodyOf, foldInspection, type InspectionState, isReadable, kinds } from '../../lib/record/index.ts';
import {
  type Danger,
  dangerOf,
  pairsOf,
  settledParts,
  standingOf,
  submittedParts,
} from '../../lib/review/index.ts';
import type { Verdict } from '../../lib/rules/index.ts';
import type { Projector } from '../../lib/store/server/index.ts';
import { rowsOfPairs } from './agreement.ts';
import { historyOf } from './history.ts';

/** Name and version of what is derived here; any change of a line raises it, and the lists are derived again at the next opening. */
export const PROJECTOR = 'lists 6';

/** Kinds whose body names the wheel that a subject belongs to. */
const LINKING: readonly string[] = [kinds.inspectionOpened.kind, kinds.componentFitted.kind];

/**
 * What the lists know of a subject: the wheels it belongs or belonged to, and for an inspection its line in the queue.
 * Pure, so that the lists can be rebuilt from the entries alone.
 */
export const projectRecord: Projector = (subject, entries) => {
  const wheels = entries
    .filter((entry) => LINKING.includes(entry.kind) && isReadable(entry))
    .map((entry) => (bodyOf(entry) as { wheel: string }).wheel);
  if (subject.type !== 'inspection' || entries.length === 0) return { wheels };
  const state = foldInspection(entries);
  if (state.wheel === null) return { wheels };
  const verdict = state.submission?.value.verdict;
  const danger = dangerIn(state);
  return {
    wheels: [...new Set([...wheels, state.wheel])],
    pairs: rowsOfPairs(pairsOf(state)),
    history: historyOf(state),
    inspection: {
      wheel: state.wheel,
      tag: tagOf(verdict),
      status: state.status,
      inspector: state.submission?.author ?? state.opened?.author ?? '',
      inspectorName: '',
      submittedAt: state.submission?.at ?? null,
      waitingSince: waitingSince(state),
      provisional: state.conclusion === null,
      rank: danger?.rank ?? 0,
      result: danger?.cls ?? null,
      energyClass: danger?.energy.energyClass ?? null,
      assignedTo: state.assigned?.value.to ?? null,
      reviewer: state.conclusion?.author ?? null,
      concludedAt: state.conclusion?.at ?? null,
      body: {
        reason: state.reason,
        results: submittedParts(state).map(({ slot, result }) => ({ slot, result })),
        settled: (settledParts(state) ?? []).map(({ slot, settled }) => ({ slot, result: settled })),
        outcome: state.conclusion?.value.outcome ?? null,
        why: danger?.why ?? null,
        marginPoints: danger?.marginPoints ?? null,
        energy: danger?.energy.sentence ?? null,
        photos: state.photos.size,
        readings: state.readings.size,
        late: state.late.length,
        inspectors: state.inspectors,
        measuredBy: standingOf(state).measuredBy,
        demonstration: verdict?.demonstration === true,
      },
    },
  };
};

/** The place in the queue of what was submitted; null before. */
function dangerIn(state: InspectionState): Danger | null {
  if (state.submission === null) return null;
  return dangerOf({
    // A submission was judged against the engine before it was stored, so it has the engine's shape.
    verdict: state.submission.value.verdict as unknown as Verdict,
    calls: new Map([...state.calls].map(([component, { value }]) => [component, value.call])),
    recommendedKpa: state.pressure?.value.recommendedKpa ?? null,
    submittedAt: state.submission.at,
  });
}

/** What was sent back waits for the inspector since then, what was reviewed no more, everything else since it was submitted. */
function waitingSince({ status, submission, conclusion }: InspectionState): string | null {
  if (status === 'concluded') return null;
  return (status === 'sent back' ? conclusion?.at : undefined) ?? submission?.at ?? null;
}

function tagOf(verdict: Record<string, unknown> | undefined): string {
  const inputs = verdict?.inputs as { wheel?: { tag?: unknown } } | undefined;
  return typeof inputs?.wheel?.tag === 'string' ? inputs.wheel.tag : '';
}

import { bodyOf, foldInspection, isReadable, kinds } from '../../lib/record/index.ts';
import { dangerOf, pairsOf, settledParts, standingOf, submittedParts } from '../../lib/review/index.ts';
import type { Verdict } from '../../lib/rules/index.ts';
import type { Projector } from '../../lib/store/server/index.ts';
import { rowsOfPairs } from './agreement.ts';

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
  const calls = new Map([...state.calls].map(([component, { value }]) => [component, value.call]));
  return {
    wheels: [...new Set([...wheels, state.wheel])],
    pairs: rowsOfPairs(pairsOf(state)),
    inspection: {
      wheel: state.wheel,
      tag: tagOf(verdict),
      status: state.status,
      inspector: state.submission?.author ?? state.opened?.author ?? '',
      inspectorName: '',
      submittedAt: state.submission?.at ?? null,
      provisional: state.conclusion === null,
      // A submission was judged against the engine before it was stored, so it has the engine's shape.
      danger: verdict === undefined ? 0 : dangerOf(verdict as unknown as Verdict, calls),
      reviewer: state.conclusion?.author ?? null,
      concludedAt: state.conclusion?.at ?? null,
      body: {
        reason: state.reason,
        results: submittedParts(state).map(({ slot, result }) => ({ slot, result })),
        settled: (settledParts(state) ?? []).map(({ slot, settled }) => ({ slot, result: settled })),
        outcome: state.conclusion?.value.outcome ?? null,
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

function tagOf(verdict: Record<string, unknown> | undefined): string {
  const inputs = verdict?.inputs as { wheel?: { tag?: unknown } } | undefined;
  return typeof inputs?.wheel?.tag === 'string' ? inputs.wheel.tag : '';
}

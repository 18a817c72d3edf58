import { type Call, foldInspection, type InspectionState } from '../record/index.ts';

/** What one reviewer handed in for a submission: when, and which calls. */
export interface HandedIn {
  readonly at: string;
  /** By component. */
  readonly calls: ReadonlyMap<string, Call>;
}

/** What a reviewer handed in for a submission, with the calls as they stood then; null when they did not. */
export function handedInFor(
  state: Pick<InspectionState, 'seconds'>,
  reviewer: string,
  submission: string,
): HandedIn | null {
  const second = state.seconds.get(reviewer);
  const one = second?.handedIn.find(({ value }) => value.submission === submission);
  if (second === undefined || one === undefined) return null;
  const { calls } = foldInspection(second.entries.filter(({ at }) => at <= one.at));
  return { at: one.at, calls: new Map([...calls].map(([component, { value }]) => [component, value.call])) };
}

/**
 * Whether a reviewer measured a submission without having seen anybody's figures of the inspection: they did not look
 * early, handed in for no earlier submission, read no answer of the inspector before, and nothing was concluded before, for
 * a conclusion shows the figures to all.
 */
export function measuredBlind(state: InspectionState, reviewer: string, submission: string): boolean {
  const second = state.seconds.get(reviewer);
  const handedIn = handedInFor(state, reviewer, submission);
  if (second === undefined || handedIn === null) return false;
  const { at } = handedIn;
  const lookedEarly = second.lookedEarly !== null && second.lookedEarly.at <= at;
  const measuredBefore = second.handedIn.some(({ value }) => value.submission !== submission);
  const conclusions = [...state.earlierConclusions, ...(state.conclusion === null ? [] : [state.conclusion])];
  const shown = conclusions.some(
    (one) => one.at <= at && (one.value.outcome === 'agreed' || one.value.outcome === 'overruled'),
  );
  const told = state.questions.some(
    ({ asked, answer }) => asked.author === reviewer && answer !== null && answer.at <= at,
  );
  return !lookedEarly && !measuredBefore && !shown && !told;
}

import {
  bookMoments,
  type InspectionState,
  type Names,
  partWords,
  type RegisterState,
  staysOnDuty,
  type WheelState,
} from '../record/index.ts';
import { settledParts, submittedParts } from '../review/index.ts';
import { momentWords, type ReportRow, wheelRows } from './inspectionReport.ts';

/** One inspection in a wheel's history. */
export interface HistoryLine {
  readonly inspection: string;
  readonly at: string;
  readonly reason: string;
  readonly by: string;
  /** Class of each part as it holds, or as submitted where nothing is settled. */
  readonly results: string;
  readonly review: string;
}

/** A stay of a part in the wheel. */
export interface StayLine {
  readonly slot: string;
  readonly part: string;
  readonly from: string;
  readonly until: string;
  readonly hours: string;
}

/** A test or a repair, of what and with what outcome. */
export interface WorkLine {
  readonly on: string;
  readonly what: 'tested' | 'repaired';
  readonly words: string;
}

/** A wheel's whole history, for the pages before those of its inspections. */
export interface WheelReport {
  readonly title: string;
  readonly identity: readonly ReportRow[];
  readonly stays: readonly StayLine[];
  /** Tests and repairs of its parts while they were in it. */
  readonly works: readonly WorkLine[];
  readonly history: readonly HistoryLine[];
}

function resultsOf(state: InspectionState): string {
  const settled = settledParts(state);
  const parts = settled?.map(({ slot, settled: result }) => `${slot} ${result}`);
  return (
    (parts ?? submittedParts(state).map(({ slot, result }) => `${slot} ${result}`)).join(', ') ||
    'not submitted'
  );
}

function historyOf(states: readonly InspectionState[], names: Names): HistoryLine[] {
  return [...states]
    .sort((a, b) => ((a.opened?.at ?? '') < (b.opened?.at ?? '') ? -1 : 1))
    .map((state) => ({
      inspection: state.id,
      at: momentWords(state.opened?.at ?? ''),
      reason: state.reason,
      by: names.person(state.submission?.author ?? state.opened?.author ?? ''),
      results: resultsOf(state),
      review:
        state.conclusion === null
          ? 'not reviewed'
          : `${state.conclusion.value.outcome}, ${names.person(state.conclusion.author)}, ${momentWords(state.conclusion.at)}`,
    }));
}

/** The history of a wheel: what it is, which parts were in it from when to when, and every inspection with its outcome. */
export function wheelReport(
  wheel: WheelState,
  register: RegisterState,
  states: readonly InspectionState[],
  names: Names,
): WheelReport {
  const stays = [...register.components.values()].flatMap((component) =>
    component.mergedInto !== null
      ? []
      : staysOnDuty(component.fitments, register.meters)
          .filter((stay) => stay.wheel === wheel.id)
          .map((stay) => ({ stay, component })),
  );
  return {
    title: `Book of wheel ${wheel.tag}`,
    identity: wheelRows(wheel),
    stays: stays
      .sort((a, b) => (a.stay.slot + a.stay.from < b.stay.slot + b.stay.from ? -1 : 1))
      .map(({ stay, component }) => ({
        slot: stay.slot,
        part: partWords(component),
        from: momentWords(stay.from),
        until: stay.until === null ? 'there now' : momentWords(stay.until),
        hours: stay.hours === null ? `not counted: ${stay.why}` : `${stay.hours} h`,
      })),
    works: bookMoments(wheel, states, register).flatMap(({ at, what, words }) =>
      what === 'tested' || what === 'repaired'
        ? words.map((one) => ({ on: at.slice(0, 10), what, words: one }))
        : [],
    ),
    history: historyOf(states, names),
  };
}

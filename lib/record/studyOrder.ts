import { must, sha256Hex, uniformFrom } from '../base/index.ts';
import type { StudyPlan } from './kinds/study.ts';
import { type StudyState, studyCell } from './study.ts';

/** A place in the design of a study: which part in which trial. */
export interface StudyTurn {
  readonly part: string;
  readonly trial: number;
}

/** Parts in a random order, the same for the same words on every machine (Fisher and Yates’ shuffle). */
function shuffled(parts: readonly string[], words: string): string[] {
  const next = uniformFrom(Number.parseInt(sha256Hex(words).slice(0, 8), 16));
  const order = [...parts];
  for (let i = order.length - 1; i > 0; i -= 1) {
    const j = Math.floor(next() * (i + 1));
    const [a, b] = [must(order[i], 'a part'), must(order[j], 'a part')];
    order[i] = b;
    order[j] = a;
  }
  return order;
}

/**
 * Everything a person has to read, in order: trial by trial, each with the parts in a random order of its own, so that
 * nobody reads from memory. A part never comes twice in a row: where the draw gives that, it changes places with the
 * next one (own choice).
 */
export function studyOrder(
  plan: Pick<StudyPlan, 'parts' | 'trials' | 'seed'>,
  person: string,
): readonly StudyTurn[] {
  const turns: StudyTurn[] = [];
  const parts = plan.parts.map((one) => one.part);
  for (let trial = 1; trial <= plan.trials; trial += 1) {
    const [first, second, ...rest] = shuffled(parts, `${plan.seed}|${person}|${trial}`);
    const again = first === turns.at(-1)?.part;
    const order = again ? [second, first, ...rest] : [first, second, ...rest];
    turns.push(...order.filter((part) => part !== undefined).map((part) => ({ part, trial })));
  }
  return turns;
}

/** What a person has to read next in a study, or null when nothing is left, or the person is not asked. */
export function nextTurn(state: StudyState, person: string): StudyTurn | null {
  const plan = state.plan?.value;
  if (plan === undefined || state.closed !== null || !plan.people.includes(person)) return null;
  return (
    studyOrder(plan, person).find(({ part, trial }) => !state.readings.has(studyCell(person, part, trial))) ??
    null
  );
}

import type { StudyPlan } from '../../record/index.ts';
import { showNumber } from '../../units/index.ts';
import type { RangeChart } from './rangeChart.ts';

/** Something to bear in mind with a study's figures. */
export interface StudyNote {
  readonly code:
    | 'few parts'
    | 'few people'
    | 'repeatability known to'
    | 'people known to'
    | 'coarse step'
    | 'range beyond';
  /** What it is about: a person's account id for `range beyond`, empty otherwise. */
  readonly person: string;
  readonly text: string;
}

/** Usual size of a study (Measurement Systems Analysis, 4th edition, chapter III, from memory). */
const PARTS_USUAL = 10;
const PEOPLE_USUAL = 3;
/** Share of trials without any spread from which the step of the instrument is said to hide it: own choice. */
const ALIKE_SHARE = 0.5;

/**
 * Relative standard uncertainty of a standard deviation, percent, from its degrees of freedom ν: 100/√(2ν) (JCGM
 * 100:2008, E.4.3, for normal readings).
 */
export function deviationKnownTo(degrees: number): number {
  return 100 / Math.sqrt(2 * degrees);
}

/** What keeps the figures of a study from saying more than they can. */
export function studyNotes(plan: StudyPlan, ranges: RangeChart): readonly StudyNote[] {
  const [parts, people] = [plan.parts.length, plan.people.length];
  const notes: StudyNote[] = [];
  const add = (code: StudyNote['code'], text: string, person = '') => notes.push({ code, text, person });
  if (parts < PARTS_USUAL) {
    add(
      'few parts',
      `${parts} parts are fewer than the usual ${PARTS_USUAL} (usual size: from memory): how much parts differ is poorly known, and with it every share of the study’s variation.`,
    );
  }
  if (people < PEOPLE_USUAL) {
    add(
      'few people',
      `${people} people are fewer than the usual ${PEOPLE_USUAL} (usual size: from memory): the difference between people rests on one difference.`,
    );
  }
  const within = parts * people * (plan.trials - 1);
  add(
    'repeatability known to',
    `The repeatability rests on ${within} degrees of freedom, so its standard deviation is known to about ±${showNumber(deviationKnownTo(within), 0)} %.`,
  );
  add(
    'people known to',
    `The reproducibility rests on ${people} people, so its standard deviation is known to about ±${showNumber(deviationKnownTo(people - 1), 0)} %.`,
  );
  const alike = ranges.points.filter((one) => one.rangeMm === 0).length;
  if (alike > ALIKE_SHARE * ranges.points.length) {
    add(
      'coarse step',
      `${alike} of ${ranges.points.length} parts were read alike each time: the step of the instrument hides part of the scatter (own choice: said from more than half).`,
    );
  }
  for (const person of plan.people) {
    const beyond = ranges.points.filter((one) => one.person === person && one.rangeMm > ranges.upperMm);
    if (beyond.length > 0) {
      add(
        'range beyond',
        `read ${beyond.map((one) => labelOf(plan, one.part)).join(', ')} with a range beyond the control limit: chance alone hardly does that, so look for a slip or a worn spot.`,
        person,
      );
    }
  }
  return notes;
}

function labelOf(plan: StudyPlan, part: string): string {
  return plan.parts.find((one) => one.part === part)?.label ?? part;
}

import { must } from '../../lib/base/index.ts';
import { kinds, type StudyPlan, studyOrder } from '../../lib/record/index.ts';
import type { Agenda } from './agenda.ts';
import type { DemoLog } from './log.ts';
import { type DemoInspector, hands } from './people.ts';
import { chanceFrom, seedOf } from './random.ts';
import type { Gauges } from './register.ts';

interface DemoStudy {
  readonly name: string;
  readonly days: number;
  readonly plan: Pick<StudyPlan, 'characteristic' | 'trials'>;
  readonly gauge: 'depth' | 'calliper';
  /** Step to which the gauge is read, mm. */
  readonly stepMm: number;
  /** True values of the parts by their labels, mm; invented. */
  readonly parts: Readonly<Record<string, number>>;
  readonly people: readonly DemoInspector[];
  readonly toleranceMm: number | null;
  /** How many readings everybody has entered; all when left out. */
  readonly entered?: Readonly<Partial<Record<DemoInspector, number>>>;
}

const PEOPLE: readonly DemoInspector[] = ['inspector 1', 'inspector 2', 'inspector 3'];

/** One study that is done, and one that waits for readings. */
export const demoStudies: readonly DemoStudy[] = [
  {
    name: 'Depth gauge 1 on gutters, three inspectors',
    days: 18,
    plan: { characteristic: 'gutter depth', trials: 3 },
    gauge: 'depth',
    stepMm: 0.05,
    parts: {
      A: 10.92,
      B: 12.31,
      C: 11.48,
      D: 13.02,
      E: 10.15,
      F: 11.9,
      G: 12.77,
      H: 11.12,
      J: 9.71,
      K: 12.04,
    },
    people: PEOPLE,
    toleranceMm: 3,
  },
  {
    name: 'Calliper 1 on worn flanges',
    days: 4,
    plan: { characteristic: 'flange wear', trials: 2 },
    gauge: 'calliper',
    stepMm: 0.02,
    parts: { P: 0.42, Q: 1.18, R: 2.06, S: 0.86, T: 1.64 },
    people: PEOPLE,
    toleranceMm: null,
    entered: { 'inspector 1': 6, 'inspector 2': 10, 'inspector 3': 0 },
  },
];

/** Plans the gauge studies of the quarry; everybody reads in the order that the study gives them. */
export function planStudies(agenda: Agenda, log: DemoLog, gauges: Gauges): void {
  for (const study of demoStudies) {
    agenda.plan(study.days, '04:00', () => {
      const id = log.id();
      const plan = planOf(study, log, gauges);
      log.write(kinds.studyOpened, id, plan, 'lead');
      for (const person of study.people) read(study, plan, id, person, log);
      if (study.entered === undefined)
        log.write(kinds.studyClosed, id, { reason: 'All readings are taken' }, 'lead');
    });
  }
}

function planOf(study: DemoStudy, log: DemoLog, gauges: Gauges): StudyPlan {
  const { toleranceMm } = study;
  return {
    ...study.plan,
    name: study.name,
    state: null,
    instrument: gauges(study.gauge),
    parts: Object.keys(study.parts).map((label) => ({ part: log.id(), label })),
    people: study.people.map((person) => log.setting.people[person]),
    tolerance:
      toleranceMm === null ? null : { typed: `${toleranceMm}`, defaultUnit: 'mm', valueMm: toleranceMm },
    seed: seedOf(study.name),
  };
}

function read(study: DemoStudy, plan: StudyPlan, id: string, person: DemoInspector, log: DemoLog): void {
  const chance = chanceFrom(seedOf(`${study.name} ${person}`));
  const { bias, spread } = hands[person];
  const turns = studyOrder(plan, log.setting.people[person]);
  const decimals = 2;
  for (const turn of turns.slice(0, study.entered?.[person] ?? turns.length)) {
    const { label } = must(
      plan.parts.find((one) => one.part === turn.part),
      'a part of the study',
    );
    const trueMm = must(study.parts[label], `part ${label}`);
    const readMm = Math.max(0, trueMm + bias + spread * chance.normal());
    const typed = (Math.round(readMm / study.stepMm) * study.stepMm).toFixed(decimals);
    log.write(
      kinds.studyReadingEntered,
      id,
      {
        reading: log.id(),
        ...turn,
        typed,
        defaultUnit: 'mm',
        valueMm: Number(typed),
        confirmed: false,
        overlap: false,
      },
      person,
    );
  }
}

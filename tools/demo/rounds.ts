import { must } from '../../lib/base/index.ts';
import { demoMachines, demoWheels } from './fleet.ts';
import type { DemoInspector, DemoReviewer } from './people.ts';

/** The rounds of a wheel, in order of time; `after` is the look at what was put together new. */
const ROUNDS = [
  'year 1',
  'half-year 1',
  'year 2',
  'half-year 2',
  'year 3',
  'half-year 3',
  'now',
  'after',
] as const;
export type RoundName = (typeof ROUNDS)[number];

/** An inspection as it was planned. */
export interface PlannedInspection {
  readonly wheel: string;
  readonly round: RoundName;
  /** Days before today, and time of day (UTC) at which it begins. */
  readonly days: number;
  readonly clock: string;
  readonly by: DemoInspector;
  /** A walk-around leaves the air in: what can be seen and taped from outside. */
  readonly how: 'complete' | 'walk-around';
  readonly reason: string;
  /** Whether every zone that asks for a photo got one. */
  readonly photographed: boolean;
  /** How far it has come: reviewed, waiting, sent back and left so, or still being made. */
  readonly ends: 'reviewed' | 'waiting' | 'sent back' | 'open';
  readonly reviewer: DemoReviewer;
}

/** Days before today on which a machine's rounds begin, from the first yearly to the last half-yearly. */
const MACHINE_DAYS: Readonly<Record<string, readonly number[]>> = {
  'HT-01': [1062, 882, 722, 542, 362, 192],
  'HT-02': [1040, 862, 700, 517, 330, 172],
  'WL-03': [1022, 852, 682, 502, 312, 142],
  'WL-04': [980, 812, 640, 472, 300, 152],
  'WC-05': [1002, 832, 662, 482, 292, 122],
  'GR-06': [962, 782, 602, 432, 252, 102],
};

/** The newest round, wheel by wheel: day, time, and how far it has come. */
const NOW: Readonly<Record<string, readonly [days: number, clock: string, ends: PlannedInspection['ends']]>> =
  {
    'WL-04 front right': [45, '06:40', 'reviewed'],
    'WL-04 front left': [45, '10:20', 'reviewed'],
    'WL-04 rear left': [44, '06:40', 'reviewed'],
    'WL-04 rear right': [44, '10:20', 'reviewed'],
    'HT-02 front left': [20, '06:40', 'reviewed'],
    'HT-02 front right': [20, '10:20', 'reviewed'],
    'HT-02 rear left outer': [19, '06:40', 'reviewed'],
    'HT-02 rear left inner': [19, '10:20', 'reviewed'],
    'HT-02 rear right inner': [18, '06:40', 'reviewed'],
    'HT-02 rear right outer': [18, '10:20', 'reviewed'],
    'HT-01 front left': [14, '22:10', 'reviewed'],
    'HT-01 rear left outer': [13, '06:40', 'reviewed'],
    'HT-01 rear left inner': [13, '10:20', 'reviewed'],
    'HT-01 rear right inner': [12, '06:40', 'reviewed'],
    'HT-01 rear right outer': [12, '10:20', 'reviewed'],
    'GR-06 front right': [10, '06:40', 'sent back'],
    'WL-03 front right': [9, '06:40', 'reviewed'],
    'WL-03 rear right': [9, '10:20', 'reviewed'],
    'WL-03 rear left': [8, '06:40', 'reviewed'],
    'GR-06 front left': [5, '06:40', 'waiting'],
    'WC-05 front left': [5, '10:20', 'waiting'],
    'GR-06 rear left': [4, '06:40', 'waiting'],
    'HT-01 front right': [3, '06:40', 'waiting'],
    'WC-05 rear right': [3, '10:20', 'waiting'],
    'WL-03 front left': [2, '06:40', 'waiting'],
    'WC-05 rear left': [2, '10:20', 'waiting'],
    'WC-05 front right': [1, '06:40', 'open'],
    'GR-06 rear right': [1, '10:20', 'open'],
  };

/** Rounds that were not made: the machine was away on the far bench. */
const MISSED: readonly string[] = ['HT-02 front left, half-year 3'];

const AFTER = { wheel: 'HT-02 front left', days: 16, clock: '06:40' } as const;

/** Photos of every zone that asks for one came in with the third year; before, only finds were photographed. */
const PHOTOGRAPHED_YEAR_3: readonly string[] = [
  'HT-01 front left',
  'HT-01 rear right inner',
  'HT-02 front right',
  'WL-04 front left',
  'GR-06 front left',
  'WC-05 front left',
];
/** The story's wheel was photographed from the beginning; these newest rounds were not, or not yet. */
const PHOTOGRAPHED_ALWAYS: readonly string[] = ['HT-02 front left'];
const NOT_PHOTOGRAPHED_NOW: readonly string[] = [
  'HT-01 rear right inner',
  'HT-02 rear right inner',
  'WL-03 rear left',
  'WL-04 rear left',
  'GR-06 front right',
  'GR-06 rear right',
  'WC-05 front right',
];

/** Who inspected where the rota says otherwise. */
const BY: Readonly<Record<string, DemoInspector>> = {
  'HT-02 front left, year 1': 'inspector 1',
  'HT-02 front left, year 2': 'inspector 3',
  'HT-02 front left, year 3': 'inspector 2',
  'HT-02 front left, now': 'inspector 1',
  'HT-02 front left, after': 'inspector 2',
  'HT-01 rear right outer, year 3': 'inspector 3',
  'WL-04 rear right, now': 'inspector 2',
  'GR-06 front right, now': 'inspector 1',
  'GR-06 rear left, now': 'inspector 3',
  'WC-05 rear left, now': 'inspector 2',
  'WC-05 front right, now': 'inspector 3',
  'GR-06 rear right, now': 'inspector 2',
};

/** Who reviewed the story's wheel; elsewhere the two take turns. */
const REVIEWED_BY: Readonly<Record<string, DemoReviewer>> = {
  'HT-02 front left, year 1': 'reviewer 1',
  'HT-02 front left, year 2': 'reviewer 1',
  'HT-02 front left, year 3': 'reviewer 2',
  'HT-02 front left, now': 'reviewer 1',
  'HT-02 front left, after': 'reviewer 2',
};

const INSPECTORS = ['inspector 1', 'inspector 2', 'inspector 3'] as const;
const REVIEWERS = ['reviewer 1', 'reviewer 2'] as const;
const TIMES = ['06:40', '10:20'] as const;
const REASONS: Readonly<Record<RoundName, string>> = {
  'year 1': 'Tyre off',
  'half-year 1': 'Walk-around',
  'year 2': 'Tyre off',
  'half-year 2': 'Walk-around',
  'year 3': 'Yearly',
  'half-year 3': 'Walk-around',
  now: 'Yearly',
  after: 'Before assembly',
};

/** The name of an inspection among the planned ones. */
export function inspectionKey({ wheel, round }: Pick<PlannedInspection, 'wheel' | 'round'>): string {
  return `${wheel}, ${round}`;
}

function planned(
  wheel: string,
  round: RoundName,
  days: number,
  clock: string,
  ends: PlannedInspection['ends'],
  turn: number,
): PlannedInspection {
  const key = inspectionKey({ wheel, round });
  const how = round.startsWith('half-year') ? 'walk-around' : 'complete';
  const newest = round === 'now' || round === 'after';
  return {
    wheel,
    round,
    days,
    clock,
    by: BY[key] ?? must(INSPECTORS[turn % INSPECTORS.length], 'an inspector'),
    how,
    reason: REASONS[round],
    photographed:
      how === 'complete' &&
      (PHOTOGRAPHED_ALWAYS.includes(wheel) ||
        (round === 'year 3' && PHOTOGRAPHED_YEAR_3.includes(wheel)) ||
        (newest && !NOT_PHOTOGRAPHED_NOW.includes(wheel))),
    ends,
    reviewer: REVIEWED_BY[key] ?? must(REVIEWERS[(turn >> 1) % REVIEWERS.length], 'a reviewer'),
  };
}

/** Wheels of a machine in the order they are inspected: the one with a series of pictures begins on its day. */
function inOrder(code: string): readonly string[] {
  const keys = demoWheels.filter((wheel) => wheel.machine.code === code).map((wheel) => wheel.key);
  return code === 'WL-04'
    ? ['WL-04 front right', ...keys.filter((key) => key !== 'WL-04 front right')]
    : keys;
}

/** Every inspection of the three years. */
export const plannedInspections: readonly PlannedInspection[] = everyRound().filter(
  (planned) => !MISSED.includes(inspectionKey(planned)),
);

function everyRound(): PlannedInspection[] {
  return [
    ...demoMachines.flatMap(({ code }, machine) =>
      inOrder(code).flatMap((wheel, index) => [
        ...must(MACHINE_DAYS[code], `rounds of ${code}`).map((days, round) =>
          planned(
            wheel,
            must(ROUNDS[round], 'a round'),
            days - (index >> 1),
            must(TIMES[index % 2], 'a time'),
            'reviewed',
            machine + index + round,
          ),
        ),
        planned(wheel, 'now', ...must(NOW[wheel], `newest round of ${wheel}`), machine + index + 1),
      ]),
    ),
    planned(AFTER.wheel, 'after', AFTER.days, AFTER.clock, 'reviewed', 1),
  ];
}

import { must } from '../../lib/base/index.ts';
import { type Call, kinds } from '../../lib/record/index.ts';
import type { Conclusion } from '../../lib/review/index.ts';
import type { Verdict } from '../../lib/rules/index.ts';
import { parseTypedPressure } from '../../lib/units/index.ts';
import { Inspecting } from './inspecting.ts';
import type { DemoLog } from './log.ts';
import type { DemoPart } from './people.ts';
import type { Picture } from './pictures.ts';
import type { Register } from './register.ts';

/** What the four past inspections are told with. */
export interface Telling {
  readonly log: DemoLog;
  readonly register: Register;
  picture(name: string): Picture;
}

const DEPTH = { characteristic: 'gutter depth', zone: 'gutter groove', with: 'depth' } as const;
const SEAT = { characteristic: 'bead seat wear', with: 'feeler' } as const;
const FLANGE = { characteristic: 'flange wear', zone: 'flange contact face', with: 'calliper' } as const;
const GAP = { slot: 'lock ring', characteristic: 'lock-ring gap', zone: 'ring ends', with: 'tape' } as const;

/** A reviewer's call for every identified part: the submitted result, except where `own` says otherwise. */
function callsOf(verdict: Verdict, own: Readonly<Record<string, readonly [Call, string]>> = {}) {
  return verdict.parts.flatMap(({ component, slot, result }) => {
    if (component === null) return [];
    const [call, reason] = own[slot] ?? [result, ''];
    return [{ component, call, reason }];
  });
}

/** Concluded as agreed: a three-piece wheel on which everything is keep, rust patches within their limit. */
export function agreedInspection({ log, register, picture }: Telling): void {
  log.goTo(24, '07:40');
  const work = new Inspecting(log, register, 'water cart front left', 'inspector 1', 'Tyre change');
  work.makeSafe(false);
  work.lookAt('rim base', ['back bead seat']);
  work.photograph('rim base', 'gutter groove', picture('gutter-groove.jpg'), 12);
  work.photograph('rim base', 'gutter lip', picture('gutter-lip.jpg'), 2);
  work.photograph(
    'rim base',
    'back bead seat',
    picture('back-bead-seat-rust.jpg'),
    5,
    'Surface rust, no depth felt',
  );
  work.photograph('rim base', 'back flange radius', picture('back-flange-radius.jpg'), 9);
  work.readRound({ slot: 'rim base', ...DEPTH }, 11.25, 0.09, 0.05);
  work.readRound({ slot: 'rim base', zone: 'back bead seat', ...SEAT }, 0.45, 0.07, 0.05);
  work.lookAt('side flange', ['bead seat']);
  work.photograph('side flange', 'flange contact face', picture('flange-contact-face.jpg'), 4);
  work.photograph('side flange', 'bead seat', picture('bead-seat.jpg'), 7, 'Surface rust where the tyre sat');
  work.readRound({ slot: 'side flange', ...FLANGE }, 1.42, 0.06, 0.02);
  work.readRound({ slot: 'side flange', zone: 'bead seat', ...SEAT }, 0.35, 0.05, 0.05);
  work.lookAt('lock ring');
  work.photograph('lock ring', 'ring ends', picture('lock-ring-ends.jpg'), 6);
  work.photograph('lock ring', 'ring body', picture('lock-ring-body.jpg'), 11);
  work.read({ ...GAP, state: 'free', typed: '46.5', overlap: true });
  work.read({ ...GAP, state: 'fitted', typed: '10' });
  work.answerAssembly(['new O-ring', 'grooves clean', 'stamps compared', 'lock ring seated']);
  for (const slot of ['rim base', 'side flange', 'lock ring']) work.call(slot, 'keep');
  const { submission, verdict } = work.submit();
  log.goTo(23, '13:05');
  conclude(log, work.id, 'reviewer 1', {
    submission,
    outcome: 'agreed',
    reason: 'Measured both rust patches again; within a tenth of the submitted areas.',
    calls: callsOf(verdict),
  });
}

/** Concluded as overruled: the inspector passed over a broken lip that the photo shows. */
export function overruledInspection({ log, register, picture }: Telling): void {
  log.goTo(17, '10:15');
  const work = new Inspecting(log, register, 'hauler rear inner', 'inspector 2', 'Yearly inspection');
  work.makeSafe(true);
  work.lookAt('rim base');
  work.photograph('rim base', 'gutter lip', picture('gutter-lip-chipped.jpg'), 1);
  work.readRound({ slot: 'rim base', ...DEPTH }, 10.95, 0.1, 0.05);
  work.readRound({ slot: 'rim base', zone: 'back bead seat', ...SEAT }, 0.6, 0.08, 0.05);
  work.lookAt('lock ring');
  work.read({ ...GAP, state: 'free', typed: '52', overlap: true });
  work.read({ ...GAP, state: 'fitted', typed: '8.5' });
  work.lookAt('gutter side flange');
  work.readRound({ slot: 'gutter side flange', ...FLANGE }, 0.9, 0.08, 0.02);
  work.call('rim base', 'keep', 'Groove and seats are good.');
  work.call('lock ring', 'keep');
  const { submission, verdict } = work.submit();
  log.goTo(16, '09:30');
  conclude(log, work.id, 'reviewer 2', {
    submission,
    outcome: 'overruled',
    reason:
      'The photo of the gutter lip shows two pieces broken out near 1 o’clock. A broken base is not used again, whatever the gauge says of the groove.',
    calls: callsOf(verdict, {
      'rim base': ['scrap', 'Lip broken in two places, see the photo of the gutter lip.'],
    }),
  });
}

/** Sent back: one gauge was out of calibration and the ring was not measured lying free. */
export function sentBackInspection({ log, register, picture }: Telling): void {
  log.goTo(9, '06:50');
  const work = new Inspecting(log, register, 'loader front left', 'inspector 1', 'Slow leak reported');
  work.makeSafe(false);
  work.lookAt('rim base', [], ['O-ring groove']);
  work.photograph('rim base', 'centre band', picture('centre-band.jpg'), 3);
  work.readRound({ slot: 'rim base', ...DEPTH, with: 'depth, expired' }, 11.1, 0.12, 0.1);
  work.lookAt('lock ring');
  work.read({ ...GAP, state: 'fitted', typed: '9.5' });
  work.lookAt('bead seat band');
  work.readRound({ slot: 'bead seat band', zone: 'bead seat', ...SEAT }, 0.7, 0.08, 0.05);
  work.call('rim base', 'hold', 'O-ring groove full of grease.');
  const { submission } = work.submit();
  log.goTo(8, '14:20');
  conclude(log, work.id, 'reviewer 1', {
    submission,
    outcome: 'sent back',
    reason:
      'Depth gauge 2 is out of calibration: measure the gutter again with depth gauge 1. The free gap of the lock ring is missing, and the O-ring groove has to be cleaned and looked at. Is that where it leaks?',
    calls: [],
  });
}

/** Waiting in the queue: a cracked lock ring, a cracked and shallow gutter. */
export function waitingInspection({ log, register, picture }: Telling): void {
  log.goTo(1, '07:05');
  const work = new Inspecting(log, register, 'hauler rear outer', 'inspector 2', 'Noise on the haul road');
  const typed = '78 psi';
  const recommendedTyped = '102 psi';
  const kpa = (text: string) => {
    const read = parseTypedPressure(text);
    return must(read.ok ? read.value : undefined, `pressure ${text}`);
  };
  log.write(
    kinds.pressureRead,
    work.id,
    { typed, foundKpa: kpa(typed), recommendedTyped, recommendedKpa: kpa(recommendedTyped) },
    'inspector 2',
  );
  work.makeSafe(true);
  work.lookAt('rim base', ['gutter groove']);
  work.photograph(
    'rim base',
    'gutter groove',
    picture('gutter-groove-crack.jpg'),
    6,
    'Runs along the inner corner',
  );
  for (const [clock, first, second] of [
    [12, '10.65', '10.70'],
    [3, '10.20', '10.15'],
    [6, '9.35', '9.45'],
    [9, '10.05', '10.10'],
  ] as const) {
    work.read({ slot: 'rim base', ...DEPTH, clock, typed: first });
    work.read({ slot: 'rim base', ...DEPTH, clock, typed: second, repeat: 2 });
  }
  work.readRound({ slot: 'rim base', zone: 'back bead seat', ...SEAT }, 0.85, 0.08, 0.05);
  work.lookAt('lock ring', ['ring body']);
  work.photograph('lock ring', 'ring body', picture('lock-ring-body-crack.jpg'), 4.5, 'Found after brushing');
  work.read({ ...GAP, state: 'free', typed: '31', overlap: true });
  work.read({ ...GAP, state: 'fitted', typed: '13.5' });
  work.lookAt('bead seat band');
  work.readRound({ slot: 'bead seat band', zone: 'bead seat', ...SEAT }, 0.55, 0.07, 0.05);
  work.note('Lock ring tagged unserviceable and taken out of the bay.');
  work.call('lock ring', 'scrap', 'Cracked.');
  work.call('rim base', 'scrap', 'Cracked and worn in the groove.');
  work.call('bead seat band', 'hold', 'No photo taken yet.');
  work.submit();
}

function conclude(log: DemoLog, inspection: string, by: DemoPart, body: Conclusion): void {
  log.write(kinds.reviewConcluded, inspection, { ...body, calls: [...body.calls] }, by);
}

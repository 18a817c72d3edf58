import { must } from '../../lib/base/index.ts';
import { gaugeCharacteristicsAt, zoneOf } from '../../lib/readings/index.ts';
import { type Call, kinds } from '../../lib/record/index.ts';
import type { Verdict } from '../../lib/rules/index.ts';
import type { CharacteristicId, RequiredReading, Slot, ZoneId } from '../../lib/wheel/index.ts';
import type { Agenda } from './agenda.ts';
import { type Detail, placeKey } from './details.ts';
import { dialPhoto } from './dial.ts';
import { constructionOfWheel, wheelOf } from './fleet.ts';
import { Inspecting, type Measured } from './inspecting.ts';
import { instrumentFor } from './instruments.ts';
import type { DemoLog } from './log.ts';
import { replace } from './moves.ts';
import type { Part, Parts } from './parts.ts';
import { nameOf, type Picture } from './pictures.ts';
import { chanceFrom, seedOf } from './random.ts';
import type { Gauges } from './register.ts';
import { inspectionKey, type PlannedInspection } from './rounds.ts';
import { SecondLook } from './secondLook.ts';
import { type Dealt, shots } from './shots.ts';
import { leaves, storyTurns } from './story.ts';
import { type Turn, turns } from './turns.ts';
import type { Wearing } from './wear.ts';

/** A gauge on a photo, and what it shows. */
export interface Dial extends Detail {
  readonly valueMm: number;
}

/** What the inspections are told with. */
export interface Telling {
  readonly agenda: Agenda;
  readonly log: DemoLog;
  readonly parts: Parts;
  readonly gauges: Gauges;
  readonly pictures: readonly Picture[];
  readonly details: ReadonlyMap<string, Detail>;
  /** Ids of inspections by their key. */
  readonly told: Map<string, string>;
  /** Photos of gauges taken so far, by the reading that they show. */
  readonly dials: Map<string, Dial>;
}

/** Depth of pits where a picture does not say, mm. */
const PIT_DEPTH_MM = 0.9;
/** What a walk-around sees with the tyre on. */
const SEEN_FROM_OUTSIDE: Readonly<Record<Slot['kind'], readonly ZoneId[]>> = {
  'rim base': ['gutter lip'],
  'lock ring': ['ring ends', 'ring body'],
  'side flange': ['flange lip'],
  'bead seat band': [],
  'O-ring': [],
};

function turnOf(planned: PlannedInspection): Turn {
  const key = inspectionKey(planned);
  return storyTurns[key] ?? turns[key] ?? {};
}

/** Plans an inspection and whatever comes of it. */
export function planInspection(telling: Telling, planned: PlannedInspection): void {
  telling.agenda.plan(planned.days, planned.clock, () => {
    const work = new Work(telling, planned);
    if (planned.how === 'walk-around') work.walkAround();
    else work.complete();
    if (planned.ends !== 'open') work.submit();
  });
}

/** One planned inspection being told. */
class Work {
  readonly #telling: Telling;
  readonly #planned: PlannedInspection;
  readonly #turn: Turn;
  readonly #writing: Inspecting;
  readonly #slips: { reading: string; measured: Measured }[] = [];

  constructor(telling: Telling, planned: PlannedInspection) {
    const { log, parts, gauges, told } = telling;
    const key = inspectionKey(planned);
    this.#telling = telling;
    this.#planned = planned;
    this.#turn = turnOf(planned);
    const opened = { wheel: parts.wheelId(planned.wheel), by: planned.by, reason: planned.reason, key };
    this.#writing = new Inspecting(log, gauges, opened);
    told.set(key, this.#writing.id);
  }

  /** From outside, with air in the tyre: no hands on anything, so nothing can be kept on it. */
  walkAround(): void {
    const { machine, dual } = wheelOf(this.#planned.wheel);
    const { found, recommended } = machine.pressure;
    this.#writing.readPressure(found, recommended);
    this.#writing.answerGate(dual, [
      'dual considered',
      'tyre deflated',
      'valve core out',
      'components clean',
    ]);
    for (const { slot, part } of this.#slots()) {
      if (slot.side === 'back side') continue;
      for (const zone of SEEN_FROM_OUTSIDE[slot.kind]) this.#writing.look(part, zone, 'nothing seen');
      if (slot.kind !== 'lock ring') continue;
      const gap = { part, characteristic: 'lock-ring gap', zone: 'ring ends', clock: null } as const;
      this.#read({ ...gap, state: 'inflated' });
    }
  }

  /** With the tyre off: every zone, every reading that is asked for, photos of what was found. */
  complete(): void {
    const { notes = [], pressure, notYet = [] } = this.#turn;
    if (pressure !== undefined) this.#writing.readPressure(...pressure);
    this.#writing.answerGate(wheelOf(this.#planned.wheel).dual);
    for (const { slot, part } of this.#slots()) {
      if (notYet.includes(slot.slot)) continue;
      this.#lookAt(slot, part);
      if (slot.inspected) this.#measure(slot, part);
    }
    for (const note of notes) this.#writing.note(note);
    if (this.#planned.ends !== 'open') this.#writing.answerAssembly();
  }

  /** Slots whose part is known, in the order of the construction. */
  #slots(): { slot: Slot; part: Part }[] {
    const { wheel } = this.#planned;
    return constructionOfWheel(wheel).slots.flatMap((slot) => {
      const part = this.#telling.parts.inSlot(wheel, slot.slot);
      return part === undefined ? [] : [{ slot, part }];
    });
  }

  #picturesOf(slot: string): Picture[] {
    const { wheel, round } = this.#planned;
    return this.#telling.pictures.filter(
      (picture) =>
        picture.wheel === wheel && picture.slot === slot && shots[nameOf(picture)]?.round === round,
    );
  }

  #lookAt(slot: Slot, part: Part): void {
    const hidden = this.#turn.hidden?.[slot.slot] ?? [];
    const pictures = this.#picturesOf(slot.slot);
    if (!slot.inspected && pictures.length === 0) return;
    for (const { zone } of slot.zones) {
      const here = pictures.filter((picture) => picture.zone === zone);
      const shown = here.map((picture) => {
        const shot = must(shots[nameOf(picture)], picture.file);
        return { marked: this.#writing.photograph(part, picture, shot), note: shot.note };
      });
      const detail = this.#telling.details.get(
        placeKey({ inspection: this.#planned, slot: slot.slot, zone }),
      );
      if (detail !== undefined) this.#writing.attachDetail(part, zone, detail);
      const result = hidden.includes(zone)
        ? 'could not be seen'
        : shown.some(({ marked }) => marked)
          ? 'defect recorded'
          : 'nothing seen';
      const note = shown.find(({ marked }) => !marked)?.note ?? '';
      this.#writing.look(part, zone, result, note);
    }
  }

  #measure(slot: Slot, part: Part): void {
    const hidden = this.#turn.hidden?.[slot.slot] ?? [];
    for (const required of slot.readings) {
      const zone = must(zoneIn(slot, required), `${required.characteristic} of ${slot.slot}`);
      if (hidden.includes(zone)) continue;
      for (const clock of required.positions.length > 0 ? required.positions : [null]) {
        for (const state of required.states.length > 0 ? required.states : [null]) {
          if (state === 'free' && this.#turn.freeGapLeftOut === true) continue;
          this.#read({ part, characteristic: required.characteristic, zone, clock, state });
        }
      }
    }
    for (const picture of this.#picturesOf(slot.slot)) this.#measureAt(slot, part, picture);
  }

  /** Reads what wears at the very place that a picture shows, and the depth of its pits. */
  #measureAt(slot: Slot, part: Part, picture: Picture): void {
    const { zone, clock, wearMm, defects } = picture;
    const [wears] = gaugeCharacteristicsAt(slot.kind, zone).filter(({ id }) => id !== 'pitting depth');
    const asked = slot.readings.some(({ positions }) => positions.includes(clock));
    if (wearMm !== null && wears !== undefined && !asked) {
      this.#read({ part, characteristic: wears.id, zone, clock, state: null });
    }
    const pits = defects.find(({ kind }) => kind === 'pitting');
    if (pits === undefined) return;
    const depth = { part, characteristic: 'pitting depth', zone, clock, state: null } as const;
    this.#writing.read({ ...depth, truthMm: pits.depthMm ?? PIT_DEPTH_MM, with: 'pits' });
  }

  #read(what: Pick<Measured, 'part' | 'characteristic' | 'zone' | 'clock' | 'state'>): void {
    const { part, characteristic, zone, clock, state } = what;
    const truthMm = this.#telling.parts.truth(part, wearing(characteristic), zone, state, clock);
    const old = characteristic === 'gutter depth' && this.#turn.oldGauge === true;
    const gauge = old ? 'depth, old' : must(instrumentFor[characteristic], `a gauge for ${characteristic}`);
    const measured: Measured = { ...what, truthMm, with: gauge };
    const { slip, readTwice } = this.#turn;
    if (slip !== undefined && slip.characteristic === characteristic && slip.clock === clock) {
      const reading = this.#writing.read({ ...measured, truthMm: truthMm + slip.byMm });
      this.#slips.push({ reading, measured });
      return;
    }
    const reading = this.#writing.read(measured);
    if (characteristic === 'gutter depth' && !old && this.#planned.photographed)
      this.#showGauge(part, reading);
    if (readTwice === true && characteristic === 'gutter depth')
      this.#writing.read({ ...measured, repeat: 2 });
  }

  #showGauge(part: Part, reading: string): void {
    const { dials, log } = this.#telling;
    const { valueMm } = must(log.inspection(this.#writing.id).readings.get(reading)?.value, reading);
    const dial = dialPhoto(valueMm, dials.size + 1);
    dials.set(reading, { ...dial, valueMm });
    this.#writing.showGauge(part, reading, dial);
  }

  /** Calls, signature, and the plan for what comes back from the review. */
  submit(): void {
    const verdict = this.#writing.verdict();
    for (const { component, slot, result } of verdict.parts) {
      if (component === null) continue;
      const [call, reason] = this.#turn.calls?.[slot] ?? [result, ''];
      if (this.#planned.how === 'complete') this.#writing.call(component, call, reason);
    }
    const { submission, verdict: signed } = this.#writing.submit();
    const { ends, days } = this.#planned;
    if (ends === 'waiting' || ends === 'open') return;
    const { sentBack, reviewedDays } = this.#turn;
    if (sentBack === undefined) {
      this.#planReview(reviewedDays ?? Math.max(1, days - 1), submission, signed);
      return;
    }
    this.#telling.agenda.plan(days - 1, '15:30', () => {
      this.#conclude({ submission, outcome: 'sent back', reason: sentBack, calls: [], signed: SIGNED });
      if (ends === 'reviewed') this.#planSecond(days - 2);
    });
  }

  /** Puts right what was asked for, and signs again. */
  #planSecond(days: number): void {
    this.#telling.agenda.plan(days, '13:10', () => {
      for (const { reading, measured } of this.#slips) this.#writing.readAgain(reading, measured);
      for (const { slot, part } of this.#slots()) {
        if (slot.kind !== 'lock ring' || this.#turn.freeGapLeftOut !== true) continue;
        const gap = { part, characteristic: 'lock-ring gap', zone: 'ring ends', clock: null } as const;
        this.#read({ ...gap, state: 'free' });
      }
      const { submission, verdict } = this.#writing.submit();
      this.#planReview(days - 1, submission, verdict);
    });
  }

  #planReview(days: number, submission: string, verdict: Verdict): void {
    const { overruled, agreed } = this.#turn;
    const { log, agenda, parts } = this.#telling;
    agenda.plan(days, '15:30', () => {
      const calls = verdict.parts.flatMap(({ component, slot, result }) => {
        if (component === null) return [];
        const [call, reason] = overruled?.calls[slot] ?? [result, ''];
        const limit = overruled?.calls[slot] === undefined ? '' : overruled.limit;
        return [{ component, slot, call, reason, limit }];
      });
      this.#measureAgain(calls);
      this.#conclude({
        submission,
        outcome: overruled === undefined ? 'agreed' : 'overruled',
        reason: overruled?.reason ?? agreed ?? usualReason(verdict, inspectionKey(this.#planned)),
        calls: calls.map(({ slot: _, ...call }) => call),
        signed: SIGNED,
      });
      const scrapped = calls.filter(({ call }) => call === 'scrap');
      if (scrapped.length === 0) return;
      agenda.plan(days - 1, '05:30', () => {
        const { wheel } = this.#planned;
        const reason = leaves[inspectionKey(this.#planned)] ?? 'Scrap after review. Tagged unserviceable.';
        for (const { slot } of scrapped) replace(log, parts, wheel, slot, reason);
      });
    });
  }

  /** What the reviewer measures before seeing the inspector's figures. */
  #measureAgain(calls: readonly { component: string; call: Call; reason: string }[]): void {
    const { log, pictures, dials } = this.#telling;
    const look = new SecondLook(log, this.#writing.id, this.#planned.reviewer);
    look.draw(pictures, (picture) =>
      dealtAgain(must(shots[nameOf(picture)], picture.file).dealt, this.#turn),
    );
    look.readGauges((reading) => {
      const dial = dials.get(reading);
      return dial === undefined ? undefined : { photo: dial.sha256, valueMm: dial.valueMm };
    });
    for (const { component, call, reason } of calls) look.call(component, call, reason);
    look.handIn();
  }

  #conclude(body: Parameters<typeof kinds.reviewConcluded.body.parse>[0] & object): void {
    const { log } = this.#telling;
    const checked = kinds.reviewConcluded.body.parse(body);
    log.write(kinds.reviewConcluded, this.#writing.id, checked, this.#planned.reviewer);
  }
}

const SIGNED = 'password entered again';

/** What a reviewer makes of a picture: they see more of a crack, but not what nobody saw unless they overruled for it. */
function dealtAgain(dealt: Dealt, { overruled }: Turn): Dealt {
  return dealt === 'drawn short' || overruled !== undefined ? 'drawn' : dealt;
}

/** The zone of a slot in which a reading that is asked for is taken. */
function zoneIn(slot: Slot, { characteristic }: RequiredReading): ZoneId | undefined {
  return zoneOf(characteristic, slot.kind);
}

function wearing(characteristic: CharacteristicId): Wearing {
  switch (characteristic) {
    case 'gutter depth':
    case 'flange wear':
    case 'bead seat wear':
    case 'lock-ring gap':
      return characteristic;
    default:
      throw new Error(`Broken invariant: ${characteristic} follows no law of wear`);
  }
}

const USUAL = {
  scrap: [
    'Scrap stands. Tagged unserviceable and out of the bay.',
    'Agreed. Out of service as of today.',
    'Agreed after a second look at the photos.',
  ],
  keep: [
    'Photos looked at full size, readings fit the ones before.',
    'Agreed, nothing to add.',
    'All zones on the photos are sound.',
  ],
  hold: [
    'Hold stands until what is missing has been done.',
    'Readings are plausible; what is missing stands in the verdict.',
    'Agreed. Complete it at the next tyre change.',
  ],
} as const;

function usualReason(verdict: Verdict, key: string): string {
  const results = new Set(verdict.parts.map((part) => part.result));
  const words = results.has('scrap') ? USUAL.scrap : results.has('hold') ? USUAL.hold : USUAL.keep;
  return must(words[chanceFrom(seedOf(key)).below(words.length)], 'a reason');
}

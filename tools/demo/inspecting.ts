import { assert, must } from '../../lib/base/index.ts';
import { characteristicOf, readTyped } from '../../lib/readings/index.ts';
import { type Call, type GateQuestionId, gateQuestions, kinds } from '../../lib/record/index.ts';
import { decide, type Verdict } from '../../lib/rules/index.ts';
import { parseTypedPressure } from '../../lib/units/index.ts';
import type { CharacteristicId, RingState, ZoneId } from '../../lib/wheel/index.ts';
import type { Detail } from './details.ts';
import { demoInstruments, type InstrumentKey } from './instruments.ts';
import type { DemoLog } from './log.ts';
import { Drawing } from './marking.ts';
import type { Part } from './parts.ts';
import { type DemoInspector, hands, nameOf } from './people.ts';
import type { Picture } from './pictures.ts';
import { type Chance, chanceFrom, seedOf } from './random.ts';
import type { Gauges } from './register.ts';
import type { Shot } from './shots.ts';

/** A tape on ring ends is read ten times as coarsely as a gauge in a groove. */
const TAPE_COARSER = 10;

/** Something to be read, with the number that it truly has. */
export interface Measured {
  readonly part: Part;
  readonly characteristic: CharacteristicId;
  readonly zone: ZoneId;
  readonly clock: number | null;
  readonly state: RingState | null;
  readonly truthMm: number;
  readonly with: InstrumentKey;
  readonly repeat?: number;
}

/** One inspection in the making, written as the person at the wheel would. */
export class Inspecting {
  readonly id: string;
  readonly by: DemoInspector;
  readonly #log: DemoLog;
  readonly #gauges: Gauges;
  readonly #wheel: string;
  readonly #chance: Chance;

  constructor(
    log: DemoLog,
    gauges: Gauges,
    opened: {
      readonly wheel: string;
      readonly by: DemoInspector;
      readonly reason: string;
      readonly key: string;
    },
  ) {
    this.#log = log;
    this.#gauges = gauges;
    this.#wheel = opened.wheel;
    this.#chance = chanceFrom(seedOf(opened.key));
    this.by = opened.by;
    this.id = log.id();
    log.write(kinds.inspectionOpened, this.id, { wheel: opened.wheel, reason: opened.reason }, opened.by);
  }

  /** Answers the safety gate with yes, except where it says no. */
  answerGate(dual: boolean, no: readonly GateQuestionId[] = []): void {
    for (const question of gateQuestions.filter((one) => dual || !one.dualOnly)) {
      const yes = !no.includes(question.id);
      const told = yes && question.whoAndWhen;
      this.#log.write(
        kinds.gateAnswered,
        this.id,
        {
          question: question.id,
          answer: yes ? 'yes' : 'no',
          by: told ? nameOf(this.by) : '',
          doneAt: told ? this.#log.now : null,
        },
        this.by,
      );
    }
  }

  readPressure(typed: string, recommendedTyped: string): void {
    const kpa = (text: string) => {
      const read = parseTypedPressure(text);
      return must(read.ok ? read.value : undefined, `pressure ${text}`);
    };
    this.#log.write(
      kinds.pressureRead,
      this.id,
      { typed, foundKpa: kpa(typed), recommendedTyped, recommendedKpa: kpa(recommendedTyped) },
      this.by,
    );
  }

  look(
    part: Part,
    zone: ZoneId,
    result: 'nothing seen' | 'defect recorded' | 'could not be seen',
    note = '',
  ): void {
    this.#log.write(kinds.zoneLookedAt, this.id, { component: part.id, zone, result, note }, this.by);
  }

  /** Attaches a picture, sets its scale and marks on it what the inspector saw; true when a defect was marked. */
  photograph(part: Part, picture: Picture, { dealt, note }: Shot): boolean {
    const { sha256: photo, zone } = picture;
    const clock = Math.max(0.5, Math.round(picture.clock * 2) / 2);
    this.#attach(part, zone, clock, picture);
    const drawing = new Drawing(picture, hands[this.by], this.#chance);
    const records = drawing.records(dealt);
    const scale = drawing.scale();
    if (scale !== null) {
      const { widthPx, heightPx, focal35Mm } = picture;
      const camera = { widthPx, heightPx, focal35Mm, profile: null };
      this.#log.write(kinds.scaleSet, this.id, { photo, scale, camera }, this.by);
    }
    for (const { defect, shape } of records) {
      const common = { component: part.id, zone, clock, defect, method: 'visual', note } as const;
      if (shape === null) {
        this.#log.write(kinds.defectNoted, this.id, { ...common, defectId: this.#log.id() }, this.by);
      } else {
        this.#log.write(kinds.markDrawn, this.id, { ...common, mark: this.#log.id(), photo, shape }, this.by);
      }
    }
    return records.length > 0;
  }

  /** Attaches the photo of a sound place. */
  attachDetail(part: Part, zone: ZoneId, detail: Detail): void {
    this.#attach(part, zone, null, detail);
  }

  #attach(
    part: Part,
    zone: ZoneId,
    clock: number | null,
    { sha256: photo, file: name, bytes, widthPx, heightPx }: Omit<Detail, 'content'>,
  ): void {
    const body = { photo, name, bytes, widthPx, heightPx, component: part.id, zone, clock };
    this.#log.write(kinds.photoAttached, this.id, body, this.by);
  }

  /** Reads an instrument and enters what it shows; gives the id of the reading. */
  read(measured: Measured): string {
    const reading = this.#log.id();
    this.#log.write(kinds.readingEntered, this.id, this.#reading(reading, measured), this.by);
    return reading;
  }

  /** Attaches a photo of the gauge as it stands at a reading. */
  showGauge(part: Part, reading: string, photo: Detail): void {
    const { zone, clock } = must(this.#log.inspection(this.id).readings.get(reading)?.value, reading);
    this.#attach(part, zone, clock, photo);
  }

  /** Reads again and corrects a reading. */
  readAgain(reading: string, measured: Measured): void {
    this.#log.write(kinds.readingCorrected, this.id, this.#reading(reading, measured), this.by);
  }

  /** What the instrument shows: the truth, what this person is off by, and the step of the instrument. */
  #shown({ characteristic, state, truthMm }: Measured, stepMm: number): number {
    const { bias, spread } = hands[this.by];
    const coarser = characteristic === 'lock-ring gap' ? TAPE_COARSER : 1;
    const read = truthMm + coarser * (bias + spread * this.#chance.normal());
    // Ends that touch are at zero; only a free ring can overlap.
    const leastMm = state === 'free' ? characteristicOf(characteristic).plausible.min : 0;
    return Math.round(Math.max(read, leastMm) / stepMm) * stepMm;
  }

  #reading(reading: string, measured: Measured) {
    const { part, characteristic, zone, clock, state, repeat = 1 } = measured;
    const { resolutionMm: stepMm } = must(
      demoInstruments.find((one) => one.key === measured.with),
      `instrument ${measured.with}`,
    );
    const valueMm = this.#shown(measured, stepMm);
    const overlap = valueMm < 0;
    const decimals = stepMm >= 0.5 ? 1 : 2;
    const typed = Math.abs(valueMm).toFixed(decimals);
    const text = readTyped(characteristic, typed, 'mm', overlap);
    assert(text.ok, `${characteristic} ${typed} is a reading`);
    return {
      reading,
      component: part.id,
      characteristic,
      zone,
      clock,
      state,
      typed,
      defaultUnit: 'mm' as const,
      valueMm: text.value.valueMm,
      instrument: this.#gauges(measured.with),
      repeat,
      confirmed: text.value.question !== null,
      overlap,
    };
  }

  answerAssembly(): void {
    for (const point of ['new O-ring', 'grooves clean', 'stamps compared', 'lock ring seated'] as const) {
      this.#log.write(kinds.assemblyPointAnswered, this.id, { point, answer: 'yes', note: '' }, this.by);
    }
  }

  call(component: string, call: Call, reason = ''): void {
    this.#log.write(kinds.callMade, this.id, { component, call, reason }, this.by);
  }

  /** The verdict on everything written so far, under the tables in force, as of now. */
  verdict(): Verdict {
    const { register, tables, now } = this.#log;
    const state = this.#log.inspection(this.id);
    const wheel = must(register.wheels.get(this.#wheel), this.#wheel);
    return decide(state, wheel, register, tables, now).verdict;
  }

  /** Signs off with the verdict; gives it back with the id of the submission. */
  submit(): { readonly submission: string; readonly verdict: Verdict } {
    const verdict = this.verdict();
    const covers = [...this.#log.inspection(this.id).coverable];
    const body = { covers, verdict: { ...verdict } };
    const entry = this.#log.write(kinds.inspectionSubmitted, this.id, body, this.by);
    return { submission: entry.id, verdict };
  }

  note(text: string): void {
    this.#log.write(kinds.noteWritten, this.id, { text }, this.by);
  }
}

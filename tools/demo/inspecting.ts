import { must } from '../../lib/base/index.ts';
import { type Mark, PointPx } from '../../lib/marks/index.ts';
import { readTyped } from '../../lib/readings/index.ts';
import { type Call, foldInspection, foldRegister, gateQuestions, kinds } from '../../lib/record/index.ts';
import { evaluate, gatherEvidence, type Verdict } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import type { CharacteristicId, RingState, ZoneId } from '../../lib/wheel/index.ts';
import type { DemoInstrument } from './fleet.ts';
import type { DemoLog } from './log.ts';
import type { DemoPart } from './people.ts';
import type { Picture } from './pictures.ts';
import type { Register } from './register.ts';

/** A reading to be entered; `typed` as a person types it, in mm. */
export interface Taken {
  readonly slot: string;
  readonly characteristic: CharacteristicId;
  readonly zone: ZoneId;
  readonly typed: string;
  readonly with: DemoInstrument['key'];
  readonly clock?: number;
  readonly state?: RingState;
  readonly repeat?: number;
  readonly overlap?: boolean;
}

/** One inspection in the making, written as the person at the wheel would. */
export class Inspecting {
  readonly id: string;
  readonly #log: DemoLog;
  readonly #register: Register;
  readonly #wheel: string;
  readonly #by: DemoPart;

  constructor(log: DemoLog, register: Register, wheel: string, by: DemoPart, reason: string) {
    this.#log = log;
    this.#register = register;
    this.#wheel = wheel;
    this.#by = by;
    this.id = log.id();
    log.write(kinds.inspectionOpened, this.id, { wheel: register.wheel(wheel), reason }, by);
  }

  component(slot: string): string {
    return must(this.#register.component(this.#wheel, slot), `${slot} of ${this.#wheel}`);
  }

  /** Answers the safety gate with yes throughout. */
  makeSafe(dual: boolean): void {
    for (const question of gateQuestions.filter((one) => dual || !one.dualOnly)) {
      const doneAt = question.whoAndWhen ? this.#log.now : null;
      const by = question.whoAndWhen ? this.#by.replace(/^/, 'Demo ') : '';
      this.#log.write(
        kinds.gateAnswered,
        this.id,
        { question: question.id, answer: 'yes', by, doneAt },
        this.#by,
      );
    }
  }

  /** Looks at every zone of a slot; `found` are those where something is recorded. */
  lookAt(slot: string, found: readonly ZoneId[] = [], hidden: readonly ZoneId[] = []): void {
    const zones = must(
      this.#register.construction(this.#wheel).slots.find((one) => one.slot === slot),
      slot,
    ).zones;
    for (const { zone } of zones) {
      const result = found.includes(zone)
        ? 'defect recorded'
        : hidden.includes(zone)
          ? 'could not be seen'
          : 'nothing seen';
      const note = result === 'could not be seen' ? 'Grease; to be cleaned.' : '';
      this.#log.write(
        kinds.zoneLookedAt,
        this.id,
        { component: this.component(slot), zone, result, note },
        this.#by,
      );
    }
  }

  /** Attaches a picture to a zone, with its scale where it shows one, and marks what the picture truly shows. */
  photograph(slot: string, zone: ZoneId, picture: Picture, clock: number | null, note = ''): void {
    const component = this.component(slot);
    const { sha256: photo, bytes, widthPx, heightPx, scale } = picture;
    this.#log.write(
      kinds.photoAttached,
      this.id,
      { photo, name: picture.file, bytes, widthPx, heightPx, component, zone, clock },
      this.#by,
    );
    if (scale !== null) {
      const set = scale.source === 'known length' ? { ...scale, typed: `${scale.lengthMm} mm` } : scale;
      this.#log.write(kinds.scaleSet, this.id, { photo, scale: set }, this.#by);
    }
    const common = { photo, component, zone, clock, method: 'visual', note } as const;
    for (const { branches } of picture.cracks) {
      this.#mark({
        ...common,
        defect: 'crack',
        shape: { form: 'trace', branches: branches.map((b) => b.map(pointOf)) },
      });
    }
    for (const { outline } of picture.patches) {
      this.#mark({ ...common, defect: 'corrosion', shape: { form: 'patch', outline: outline.map(pointOf) } });
    }
  }

  #mark(mark: Omit<Mark, 'mark'>): void {
    this.#log.write(kinds.markDrawn, this.id, { ...mark, mark: this.#log.id() }, this.#by);
  }

  /** Enters a reading. */
  read(taken: Taken): void {
    const overlap = taken.overlap ?? false;
    const read = readTyped(taken.characteristic, taken.typed, 'mm', overlap);
    if (!read.ok) throw new Error(`Broken invariant: ${read.error.message}`);
    this.#log.write(
      kinds.readingEntered,
      this.id,
      {
        reading: this.#log.id(),
        component: this.component(taken.slot),
        characteristic: taken.characteristic,
        zone: taken.zone,
        clock: taken.clock ?? null,
        state: taken.state ?? null,
        typed: taken.typed,
        defaultUnit: 'mm',
        valueMm: read.value.valueMm,
        instrument: this.#register.instrument(taken.with),
        repeat: taken.repeat ?? 1,
        confirmed: read.value.question !== null,
        overlap,
      },
      this.#by,
    );
  }

  /** Enters one reading at each quarter, scattered round a mean and rounded to the instrument's step. */
  readRound(taken: Omit<Taken, 'typed' | 'clock'>, meanMm: number, spreadMm: number, stepMm: number): void {
    for (const clock of [12, 3, 6, 9]) {
      const value = Math.round(this.#log.scatter(meanMm, spreadMm) / stepMm) * stepMm;
      this.read({ ...taken, clock, typed: Math.max(0, value).toFixed(2) });
    }
  }

  answerAssembly(
    points: readonly ('new O-ring' | 'grooves clean' | 'stamps compared' | 'lock ring seated')[],
  ): void {
    for (const point of points) {
      this.#log.write(kinds.assemblyPointAnswered, this.id, { point, answer: 'yes', note: '' }, this.#by);
    }
  }

  call(slot: string, call: Call, reason = ''): void {
    this.#log.write(kinds.callMade, this.id, { component: this.component(slot), call, reason }, this.#by);
  }

  /** The verdict on everything written so far, under the tables in force, as of now. */
  verdict(): Verdict {
    const { entries, setting } = this.#log;
    const state = foldInspection(entries.filter((entry) => entry.subject.id === this.id));
    const register = foldRegister(entries.filter((entry) => entry.subject.type !== 'inspection'));
    const wheel = must(register.wheels.get(this.#register.wheel(this.#wheel)), this.#wheel);
    const { tables } = tablesNamed(register.sites.get(setting.site)?.tables ?? []);
    return evaluate(gatherEvidence(state, wheel, register, this.#log.now), tables);
  }

  /** Signs off with the verdict; gives it back with the id of the submission. */
  submit(): { readonly submission: string; readonly verdict: Verdict } {
    const verdict = this.verdict();
    const covers = foldInspection(
      this.#log.entries.filter((entry) => entry.subject.id === this.id),
    ).coverable;
    const entry = this.#log.write(
      kinds.inspectionSubmitted,
      this.id,
      { covers: [...covers], verdict: { ...verdict } },
      this.#by,
    );
    return { submission: entry.id, verdict };
  }

  note(text: string): void {
    this.#log.write(kinds.noteWritten, this.id, { text }, this.#by);
  }
}

function pointOf(point: readonly number[]): PointPx {
  return PointPx.parse(point);
}

import type { z } from 'zod';
import { must } from '../../lib/base/index.ts';
import type { Reading } from '../../lib/readings/index.ts';
import { type Call, type Kind, kinds } from '../../lib/record/index.ts';
import { toMeasure } from '../../lib/review/index.ts';
import { demoInstruments } from './instruments.ts';
import type { DemoLog } from './log.ts';
import { Drawing } from './marking.ts';
import { type DemoReviewer, secondHands } from './people.ts';
import type { Picture } from './pictures.ts';
import { type Chance, chanceFrom, seedOf } from './random.ts';
import type { Dealt } from './shots.ts';

/** A reviewer's measurement of a submitted inspection, from its photos alone. */
export class SecondLook {
  readonly #log: DemoLog;
  readonly #inspection: string;
  readonly #by: DemoReviewer;
  readonly #chance: Chance;

  constructor(log: DemoLog, inspection: string, by: DemoReviewer) {
    this.#log = log;
    this.#inspection = inspection;
    this.#by = by;
    this.#chance = chanceFrom(seedOf(`${inspection} ${by}`));
  }

  #measure<B extends z.ZodType>(kind: Kind<B>, body: z.input<B>, seenIn: string | null = null): void {
    const own = { of: kind.kind, v: kind.v, body: kind.body.parse(body) as Record<string, unknown>, seenIn };
    this.#log.write(kinds.secondMeasured, this.#inspection, own, this.#by);
  }

  /** Draws on the photos of the inspection what this reviewer sees there. */
  draw(pictures: readonly Picture[], dealtWith: (picture: Picture) => Dealt): void {
    const { photos } = this.#log.inspection(this.#inspection);
    for (const picture of pictures) {
      const attached = photos.get(picture.sha256)?.value;
      if (attached === undefined) continue;
      const { photo, component, zone, clock } = attached;
      const drawing = new Drawing(picture, secondHands[this.#by], this.#chance);
      for (const { defect, shape } of drawing.records(dealtWith(picture))) {
        const common = { component, zone, clock, defect, method: 'visual', note: '' } as const;
        if (shape === null) this.#measure(kinds.defectNoted, { ...common, defectId: this.#log.id() });
        else this.#measure(kinds.markDrawn, { ...common, mark: this.#log.id(), photo, shape });
      }
    }
  }

  /** Reads the gauges that photos show: what the dial says, and what this eye makes of it. */
  readGauges(
    shownOn: (reading: string) => { readonly photo: string; readonly valueMm: number } | undefined,
  ): void {
    const { readings } = this.#log.inspection(this.#inspection);
    for (const { value } of readings.values()) {
      const shown = shownOn(value.reading);
      if (shown === undefined || value.repeat > 1) continue;
      this.#measure(kinds.readingEntered, this.#readAs(value, shown.valueMm), shown.photo);
    }
  }

  #readAs({ fromPhoto: _, ...first }: Reading, shownMm: number): Reading {
    const { resolutionMm } = must(
      demoInstruments.find(({ key }) => key === 'depth'),
      'depth gauge',
    );
    const off = secondHands[this.#by].eyeMm * this.#chance.normal();
    const valueMm = Math.round((shownMm + off) / resolutionMm) * resolutionMm;
    const typed = valueMm.toFixed(2);
    return { ...first, reading: this.#log.id(), typed, valueMm: Number(typed), repeat: 1 };
  }

  call(component: string, call: Call, reason: string): void {
    this.#measure(kinds.callMade, { component, call, reason });
  }

  /** Hands in; what no photo shows is said to be not readable. */
  handIn(): void {
    const state = this.#log.inspection(this.#inspection);
    const own = new Set(
      (state.seconds.get(this.#log.setting.people[this.#by])?.entries ?? []).map(({ body }) =>
        [body.component, body.characteristic, body.clock, body.state].join('|'),
      ),
    );
    const { submission, readings } = toMeasure(state);
    const notReadable = readings
      .filter((one) => !own.has([one.component, one.characteristic, one.clock, one.state].join('|')))
      .map(({ reading }) => reading);
    const body = { submission: must(submission, 'a submission').entry, notReadable };
    this.#log.write(kinds.secondHandedIn, this.#inspection, body, this.#by);
  }
}

import { assert, must } from '../../lib/base/index.ts';
import { kinds } from '../../lib/record/index.ts';
import type { ComponentKind, RingState, ZoneId } from '../../lib/wheel/index.ts';
import { type DemoMachine, MAKER, type Odd, OTHER_MAKER, OTHER_SERIES, wheelOf } from './fleet.ts';
import { type DemoLog, dayBefore } from './log.ts';
import type { DemoPart } from './people.ts';
import { nameOf, type Picture } from './pictures.ts';
import { chanceFrom, seedOf } from './random.ts';
import { plannedInspections } from './rounds.ts';
import { shots } from './shots.ts';
import { asNew, type Pin, valueAt, type Wearing, type WearOf, worstAt } from './wear.ts';

/** Days before today on which the quarry's books begin. */
export const BOOKS_BEGIN_DAYS = 1100;
/** Share of the days since it was made that a part has worked when the books begin: some of them it lay in the yard. */
const WORKED_SHARE = 0.9;

/** A stay in a wheel, in days before today. */
interface Stay {
  readonly wheel: string;
  readonly slot: string;
  readonly from: number;
  readonly until: number | null;
}

/** A part of the fleet with where it has been. */
export interface Part {
  readonly key: string;
  readonly id: string;
  readonly kind: ComponentKind;
  readonly machine: DemoMachine;
  /** Hours it had worked before the books knew it. */
  readonly hoursBefore: number;
  readonly stays: readonly Stay[];
}

/** A truth about wear that a picture shows, and where round the rim. */
type PinAt = Pin & { readonly clock: number };
/** By wheel, slot, characteristic and state. */
type Pins = ReadonlyMap<string, readonly PinAt[]>;

/** The lip of a gutter wears less than half as fast as its floor, on which the pictures are measured. Invented. */
const LIP_PER_FLOOR = 0.4;
/** A ring whose fitted gap has grown by so much overlaps less by this many times as much when it lies free. Invented. */
const FREE_PER_FITTED = 1.6;
/** A ring comes to an odd gap within the months before it is photographed; before, it wears as all do. */
const ODD_GAP_WITHIN_DAYS = 150;
/** Without a series of pictures: what was worn so long before the picture, as a share of what it shows. */
const EARLIER = { days: 300, share: 0.7 } as const;

function pinsOf(pictures: ReadonlyMap<string, Picture>): Pins {
  const pins = new Map<string, readonly PinAt[]>();
  const add = (
    { wheel, slot, clock, file }: Picture,
    characteristic: Wearing,
    state: RingState | null,
    value: number,
  ) => {
    const round = must(shots[nameOf({ file })], `the round of ${file}`).round;
    const { days } = must(
      plannedInspections.find((one) => one.wheel === wheel && one.round === round),
      `${wheel}, ${round}`,
    );
    const key = `${wheel}|${slot}|${characteristic} ${state}`;
    pins.set(
      key,
      [...(pins.get(key) ?? []), { days, value, clock }].sort((a, b) => b.days - a.days),
    );
  };
  for (const picture of pictures.values()) {
    const { zone, wearMm, gapMm } = picture;
    if (gapMm !== null) {
      const grown = gapMm - asNew('lock-ring gap', 'fitted');
      add(picture, 'lock-ring gap', 'free', asNew('lock-ring gap', 'free') + grown * FREE_PER_FITTED);
      add(picture, 'lock-ring gap', 'fitted', gapMm);
      add(picture, 'lock-ring gap', 'inflated', asNew('lock-ring gap', 'inflated') + grown);
    }
    if (wearMm === null) continue;
    if (zone === 'gutter groove') {
      add(picture, 'gutter depth', null, asNew('gutter depth', null) - LIP_PER_FLOOR * wearMm);
    }
    if (zone === 'flange contact face') add(picture, 'flange wear', null, wearMm);
  }
  return pins;
}

/** The parts of the quarry: in the wheels, and where they have been. */
export class Parts {
  readonly #log: DemoLog;
  readonly #pins: Pins;
  readonly #parts = new Map<string, Part>();
  readonly #wheels = new Map<string, string>();
  #stamped = 0;

  constructor(log: DemoLog, pictures: ReadonlyMap<string, Picture>) {
    this.#log = log;
    this.#pins = pinsOf(pictures);
  }

  addWheel(key: string, id: string): void {
    this.#wheels.set(key, id);
  }

  wheelId(key: string): string {
    return must(this.#wheels.get(key), `wheel ${key}`);
  }

  named(key: string): Part {
    return must(this.#parts.get(key), `part ${key}`);
  }

  /** The part in a slot now; undefined when the books know none there. */
  inSlot(wheel: string, slot: string): Part | undefined {
    return [...this.#parts.values()].find((part) => {
      const stay = part.stays.at(-1);
      return stay?.until === null && stay.wheel === wheel && stay.slot === slot;
    });
  }

  /** Describes a part. `madeDays`: days before today on which it was made. */
  describe(
    key: string,
    kind: ComponentKind,
    machine: DemoMachine,
    { madeDays, odd, by = 'lead' }: { madeDays: number; odd?: Odd | undefined; by?: DemoPart },
  ): Part {
    const other = odd === 'other maker';
    const series = other ? OTHER_SERIES : machine.series;
    const letters = kind.split(/[ -]/).map((word) => word.charAt(0).toUpperCase());
    this.#stamped += 1;
    const id = this.#log.id();
    this.#log.write(
      kinds.componentDescribed,
      id,
      {
        componentKind: kind,
        maker: other ? OTHER_MAKER : MAKER,
        series,
        stamp: `${series} ${letters.join('')} DEMO ${1000 + 7 * this.#stamped}`,
        partNumber: '',
        serial: `DEMO ${1000 + 7 * this.#stamped}`,
        dateCode: '',
        made:
          odd === 'unknown age'
            ? { how: 'unknown' }
            : { how: 'known', on: dayBefore(this.#log.setting.today, madeDays).slice(0, 7) },
        stampPhoto: null,
        identity: 'identified',
      },
      by,
    );
    const daysBefore = Math.max(0, madeDays - BOOKS_BEGIN_DAYS);
    const worked = WORKED_SHARE * (0.85 + 0.15 * chanceFrom(seedOf(`${key} hours`)).next());
    const part: Part = {
      key,
      id,
      kind,
      machine,
      hoursBefore: (daysBefore / 365) * machine.hoursPerYear * worked,
      stays: [],
    };
    this.#parts.set(key, part);
    return part;
  }

  fit(key: string, wheel: string, slot: string, by: DemoPart = 'lead'): void {
    const part = this.named(key);
    assert(this.inSlot(wheel, slot) === undefined, `${slot} of ${wheel} is free for ${key}`);
    assert(part.stays.at(-1)?.until !== null, `${key} is in no wheel`);
    const stay = { wheel, slot, from: this.#log.days, until: null };
    this.#parts.set(key, { ...part, stays: [...part.stays, stay] });
    this.#log.write(
      kinds.componentFitted,
      part.id,
      { wheel: this.wheelId(wheel), slot, on: null, machine: null, machineHours: null, partHours: null },
      by,
    );
  }

  remove(key: string, reason: string, by: DemoPart = 'lead'): void {
    const part = this.named(key);
    const stay = must(part.stays.at(-1), `a stay of ${key}`);
    assert(stay.until === null, `${key} is in a wheel`);
    this.#parts.set(key, {
      ...part,
      stays: [...part.stays.slice(0, -1), { ...stay, until: this.#log.days }],
    });
    this.#log.write(
      kinds.componentRemoved,
      part.id,
      { wheel: this.wheelId(stay.wheel), reason, on: null, machineHours: null },
      by,
    );
  }

  /** Hours on duty of a part now. */
  hours(part: Part): number {
    return hoursAt(part, this.#log.days);
  }

  /** The true value of a part at a clock position now, mm; what the pictures show is met exactly. */
  truth(
    part: Part,
    characteristic: Wearing,
    zone: ZoneId,
    state: RingState | null,
    clock: number | null,
  ): number {
    const last = must(part.stays.at(-1), `a stay of ${part.key}`);
    // A picture shows the part that was in the slot on its day.
    const shown = (this.#pins.get(`${last.wheel}|${last.slot}|${characteristic} ${state}`) ?? []).filter(
      ({ days }) =>
        part.stays.some((stay) => stay.from >= days && (stay.until === null || stay.until <= days)),
    );
    const wear: WearOf = {
      part: `${part.key} ${zone}`,
      characteristic,
      state,
      hoursAt: (days) => hoursAt(part, days),
      pins: [],
      worstClock: shown[0]?.clock ?? null,
    };
    return valueAt({ ...wear, pins: [...leadingTo(wear, shown), ...shown] }, this.#log.days, clock);
  }
}

/** What is taken for true before the first picture of a part. */
function leadingTo(wear: WearOf, shown: readonly PinAt[]): Pin[] {
  const [first, ...more] = shown;
  if (first === undefined || more.length > 0) return [];
  if (wear.characteristic === 'lock-ring gap') {
    const days = first.days + ODD_GAP_WITHIN_DAYS;
    return [{ days, value: worstAt(wear, days) }];
  }
  const fresh = asNew(wear.characteristic, wear.state);
  return [{ days: first.days + EARLIER.days, value: fresh + EARLIER.share * (first.value - fresh) }];
}

/** Hours a part had worked by a day, counted back from today; its present stay is taken to go on. */
function hoursAt(part: Part, days: number): number {
  return part.stays.reduce((hours, { wheel, from, until }) => {
    const end = Math.max(days, until ?? days);
    const perDay = wheelOf(wheel).machine.hoursPerYear / 365;
    return hours + Math.max(0, from - end) * perDay;
  }, part.hoursBefore);
}

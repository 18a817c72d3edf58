import type { z } from 'zod';
import type { Instrument } from '../readings/index.ts';
import { countedHours, type MachineReading, staysOnDuty } from './dutyCount.ts';
import type { Entry } from './entry.ts';
import type { Fitment } from './fitment.ts';
import { madeWords } from './kinds/component.ts';
import { mergeEntries } from './merge.ts';
import { bodyOf, isReadable, kinds } from './registry.ts';

type BodyOf<K extends { readonly body: z.ZodType }> = z.infer<K['body']>;

export type SiteState = BodyOf<typeof kinds.siteDescribed> & { readonly id: string };
export interface WheelState extends BodyOf<typeof kinds.wheelDescribed> {
  readonly id: string;
  readonly site: string;
  /** Where it was described to be, oldest first; the last is `machine` and `position`. */
  readonly placings: readonly Placing[];
}
/** A wheel's place on a machine, from the moment somebody described it so; an empty machine: on none. */
export interface Placing {
  readonly from: string;
  readonly machine: string;
  readonly position: string;
}
/** An instrument as described last. */
export interface InstrumentState extends Instrument {
  readonly id: string;
  /** What was said of it before, the newest first: a reading counts with the calibration of its day. */
  readonly earlier: readonly Instrument[];
}
export type TestRecord = BodyOf<typeof kinds.testRecorded> & { readonly entry: string; readonly at: string };

export type RepairRecord = BodyOf<typeof kinds.repairRecorded> & {
  readonly entry: string;
  readonly at: string;
};

export interface ComponentState extends BodyOf<typeof kinds.componentDescribed> {
  readonly id: string;
  readonly site: string;
  /** False while its description has not arrived; such a component is in no slot yet. */
  readonly described: boolean;
  /** Who wrote what about it and when: descriptions, fitments, tests. */
  readonly writers: readonly { readonly author: string; readonly at: string; readonly entry: string }[];
  /** Oldest first. */
  readonly fitments: readonly Fitment[];
  readonly tests: readonly TestRecord[];
  readonly repairs: readonly RepairRecord[];
  /** Hours on duty as noted or counted by meters, by the day they are of; of one day what was noted comes last. */
  readonly hoursNoted: readonly BodyOf<typeof kinds.dutyHoursNoted>[];
  /** The record that this one is read as part of; null: it stands for itself. */
  readonly mergedInto: string | null;
  /** Records that are read as part of this one. */
  readonly merged: readonly string[];
}

/** What the registers of a site say: everything but the inspections. */
export interface RegisterState {
  readonly sites: ReadonlyMap<string, SiteState>;
  readonly wheels: ReadonlyMap<string, WheelState>;
  readonly components: ReadonlyMap<string, ComponentState>;
  readonly instruments: ReadonlyMap<string, InstrumentState>;
  /** Readings of the meters of machines, by machine, oldest first. */
  readonly meters: ReadonlyMap<string, readonly MachineReading[]>;
  /** How often a site wants its wheels inspected, by site. */
  readonly policies: ReadonlyMap<string, BodyOf<typeof kinds.inspectionPolicySet>>;
}

/**
 * Folds the register entries of a site (sites, wheels, components, instruments); entries of other subjects are
 * passed over. The newest description of a thing counts; of instruments the earlier ones are kept beside it. Order and repetition of the entries do not matter.
 */
export function foldRegister(entries: readonly Entry[]): RegisterState {
  const sites = new Map<string, SiteState>();
  const wheels = new Map<string, WheelState>();
  const instruments = new Map<string, InstrumentState>();
  const components = new Map<string, ComponentState>();
  const meters = new Map<string, MachineReading[]>();
  const policies = new Map<string, BodyOf<typeof kinds.inspectionPolicySet>>();
  for (const entry of mergeEntries(entries)) {
    // Laying photos over each other says nothing of the part itself, and makes nobody a writer of its register.
    if (!isReadable(entry) || entry.kind === kinds.photosAligned.kind) continue;
    const id = entry.subject.id;
    const body = bodyOf(entry);
    switch (entry.kind) {
      case kinds.siteDescribed.kind:
        sites.set(id, { ...(body as BodyOf<typeof kinds.siteDescribed>), id });
        break;
      case kinds.inspectionPolicySet.kind:
        policies.set(id, body as BodyOf<typeof kinds.inspectionPolicySet>);
        break;
      case kinds.wheelDescribed.kind:
        wheels.set(
          id,
          wheelDescribedAgain(entry, body as BodyOf<typeof kinds.wheelDescribed>, wheels.get(id)),
        );
        break;
      case kinds.instrumentDescribed.kind:
        instruments.set(id, describedAgain(id, body as Instrument, instruments.get(id)));
        break;
      case kinds.machineHoursRead.kind: {
        const { machine, on, hours } = body as BodyOf<typeof kinds.machineHoursRead>;
        meters.set(
          machine,
          [...(meters.get(machine) ?? []), { on, hours }].sort((a, b) => (a.on < b.on ? -1 : 1)),
        );
        break;
      }
      default:
        if (entry.subject.type === 'component') {
          const known = components.get(id) ?? unknownComponent(id, entry.site);
          const writers = [...known.writers, { author: entry.author, at: entry.at, entry: entry.id }];
          components.set(id, { ...withEntry(known, entry, body), writers });
        }
    }
  }
  return { sites, wheels, components: joined(components, meters), instruments, policies, meters };
}

function wheelDescribedAgain(
  { subject: { id }, site, at }: Entry,
  now: BodyOf<typeof kinds.wheelDescribed>,
  known: WheelState | undefined,
): WheelState {
  const { machine, position } = now;
  const before = known?.placings ?? [];
  const last = before.at(-1);
  const same = last !== undefined && last.machine === machine && last.position === position;
  return { ...now, id, site, placings: same ? before : [...before, { from: at, machine, position }] };
}

function describedAgain(id: string, now: Instrument, known: InstrumentState | undefined): InstrumentState {
  if (known === undefined) return { ...now, id, earlier: [] };
  const { id: _, earlier, ...before } = known;
  return { ...now, id, earlier: [before, ...earlier] };
}

function unknownComponent(id: string, site: string): ComponentState {
  return {
    id,
    site,
    described: false,
    componentKind: 'rim base',
    maker: '',
    series: '',
    stamp: '',
    partNumber: '',
    serial: '',
    dateCode: '',
    made: { how: 'unknown' },
    stampPhoto: null,
    identity: 'cannot be identified',
    writers: [],
    fitments: [],
    tests: [],
    repairs: [],
    hoursNoted: [],
    mergedInto: null,
    merged: [],
  };
}

function withEntry(known: ComponentState, entry: Entry, body: unknown): ComponentState {
  switch (entry.kind) {
    case kinds.componentDescribed.kind:
      return { ...known, ...(body as BodyOf<typeof kinds.componentDescribed>), described: true };
    case kinds.componentFitted.kind:
      return {
        ...known,
        fitments: withFitment(known.fitments, entry, body as BodyOf<typeof kinds.componentFitted>),
      };
    case kinds.componentRemoved.kind: {
      const { wheel, on, machineHours } = body as BodyOf<typeof kinds.componentRemoved>;
      const until = momentOf(on, entry.at);
      const fitments = known.fitments.map((stay) =>
        stay.until === null && stay.wheel === wheel
          ? { ...stay, until: later(until, stay.from), machineHoursAtEnd: machineHours }
          : stay,
      );
      return { ...known, fitments };
    }
    case kinds.componentMerged.kind:
      return { ...known, mergedInto: (body as BodyOf<typeof kinds.componentMerged>).into };
    case kinds.dutyHoursNoted.kind:
      return {
        ...known,
        hoursNoted: [...known.hoursNoted, body as BodyOf<typeof kinds.dutyHoursNoted>].sort(byDay),
      };
    case kinds.testRecorded.kind: {
      const test = { ...(body as BodyOf<typeof kinds.testRecorded>), entry: entry.id, at: entry.at };
      return { ...known, tests: [...known.tests, test] };
    }
    case kinds.repairRecorded.kind: {
      const repair = { ...(body as BodyOf<typeof kinds.repairRecorded>), entry: entry.id, at: entry.at };
      return { ...known, repairs: [...known.repairs, repair].sort(byDay) };
    }
    default:
      return known;
  }
}

const byDay = (a: { readonly on: string }, b: { readonly on: string }) =>
  a.on < b.on ? -1 : a.on > b.on ? 1 : 0;

/** The moment of something that was done on a day; on the day of its entry the entry's own. */
export function momentOf(on: string | null, at: string): string {
  return on === null || on >= at.slice(0, 10) ? at : `${on}T12:00:00.000Z`;
}

/** The later of two moments. */
function later(a: string, b: string): string {
  if (a > b) return a;
  return b;
}

function withFitment(
  fitments: readonly Fitment[],
  entry: Entry,
  { wheel, slot, on, machine, machineHours, partHours }: BodyOf<typeof kinds.componentFitted>,
): Fitment[] {
  const from = momentOf(on, entry.at);
  const ended = fitments.map((stay) =>
    stay.until === null ? { ...stay, until: later(from, stay.from) } : stay,
  );
  return [
    ...ended,
    { wheel, slot, from, until: null, machine, machineHours, machineHoursAtEnd: null, partHours },
  ];
}

type Merged = Pick<ComponentState, 'mergedInto'>;

/** The record that a component's stands for in the end; a ring of merges ends where it began. */
function lastOf(id: string, components: ReadonlyMap<string, Merged>): string {
  const seen = new Set<string>();
  let at = id;
  for (let into = components.get(at)?.mergedInto ?? null; into !== null && !seen.has(at); ) {
    seen.add(at);
    at = into;
    into = components.get(at)?.mergedInto ?? null;
  }
  return at;
}

/** Reads merged records as part of the ones they were merged into, and counts hours by the meters. */
function joined(
  components: ReadonlyMap<string, ComponentState>,
  meters: ReadonlyMap<string, readonly MachineReading[]>,
): ReadonlyMap<string, ComponentState> {
  const all = new Map(components);
  for (const [id, component] of components) {
    const into = all.get(lastOf(id, components));
    if (component.mergedInto === null || into === undefined || into.id === id) continue;
    all.set(into.id, {
      ...into,
      merged: [...into.merged, id].sort(),
      writers: [...into.writers, ...component.writers].sort((a, b) => (a.entry < b.entry ? -1 : 1)),
      fitments: [...into.fitments, ...component.fitments].sort((a, b) => (a.from < b.from ? -1 : 1)),
      tests: [...into.tests, ...component.tests].sort((a, b) => (a.entry < b.entry ? -1 : 1)),
      repairs: [...into.repairs, ...component.repairs].sort(byDay),
      hoursNoted: [...into.hoursNoted, ...component.hoursNoted].sort(byDay),
    });
  }
  for (const [id, component] of all) {
    const counted = countedHours(staysOnDuty(component.fitments, meters));
    if (counted.length > 0)
      all.set(id, { ...component, hoursNoted: [...counted, ...component.hoursNoted].sort(byDay) });
  }
  return all;
}

/** Maker, series, stamps and age of a part in a line; what nobody could read is said. */
export function partWords({
  maker,
  series,
  stamp,
  partNumber,
  serial,
  identity,
  made,
}: Pick<
  ComponentState,
  'maker' | 'series' | 'stamp' | 'partNumber' | 'serial' | 'identity' | 'made'
>): string {
  const named = [maker || 'maker unknown', series].filter((one) => one !== '').join(' ');
  const stamps = [
    stamp,
    partNumber === '' ? '' : `part ${partNumber}`,
    serial === '' ? '' : `serial ${serial}`,
  ];
  const read = stamps.filter((one) => one !== '').join(', ');
  const identified = identity === 'identified' ? `stamp ${read || 'not read'}` : 'cannot be identified';
  return `${named}, ${identified}, ${madeWords(made)}`;
}

/** Id of the component that a record is read as; itself where it was not merged. */
export function componentBehind(
  register: { readonly components: ReadonlyMap<string, Merged> },
  id: string,
): string {
  return lastOf(id, register.components);
}

/** Components in a wheel at the moment `at` (default: now, open stays), keyed by slot; the newest stay in a slot counts. */
export function componentsIn(
  wheel: string,
  register: RegisterState,
  at?: string,
): ReadonlyMap<string, ComponentState> {
  const found = new Map<string, { component: ComponentState; from: string }>();
  for (const component of register.components.values()) {
    if (!component.described || component.mergedInto !== null) continue;
    for (const stay of component.fitments) {
      const there =
        at === undefined ? stay.until === null : stay.from <= at && (stay.until === null || at < stay.until);
      if (stay.wheel !== wheel || !there) continue;
      const known = found.get(stay.slot);
      const newer =
        known === undefined ||
        stay.from > known.from ||
        (stay.from === known.from && component.id > known.component.id);
      if (newer) found.set(stay.slot, { component, from: stay.from });
    }
  }
  return new Map([...found].map(([slot, { component }]) => [slot, component]));
}

/** What stands where a part was in no slot of the wheel. */
export const NO_SLOT = 'part in no slot';

/**
 * The slot of a wheel that a part stood in at the moment `at`: of the stays in that wheel the one that held then, else the
 * last one begun before, else the first one after (what was fitted may be noted late). Null where it never was in that wheel.
 */
export function slotAt(
  register: RegisterState,
  component: string,
  wheel: string | null,
  at: string,
): string | null {
  const part = register.components.get(componentBehind(register, component));
  const stays = part?.fitments.filter((stay) => stay.wheel === wheel) ?? [];
  const begun = stays.filter(({ from }) => from <= at);
  const held = begun.findLast(({ until }) => until === null || at < until);
  return (held ?? begun.at(-1) ?? stays[0])?.slot ?? null;
}

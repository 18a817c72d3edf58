import type { z } from 'zod';
import type { Instrument } from '../readings/index.ts';
import type { Entry } from './entry.ts';
import { mergeEntries } from './merge.ts';
import { bodyOf, isReadable, kinds } from './registry.ts';

type BodyOf<K extends { readonly body: z.ZodType }> = z.infer<K['body']>;

export type SiteState = BodyOf<typeof kinds.siteDescribed> & { readonly id: string };
export type WheelState = BodyOf<typeof kinds.wheelDescribed> & { readonly id: string; readonly site: string };
/** An instrument as described last. */
export interface InstrumentState extends Instrument {
  readonly id: string;
  /** What was said of it before, the newest first: a reading counts with the calibration of its day. */
  readonly earlier: readonly Instrument[];
}
export type TestRecord = BodyOf<typeof kinds.testRecorded> & { readonly entry: string; readonly at: string };

/** A stay of a component in a wheel. `until` is null while it is there. */
export interface Fitment {
  readonly wheel: string;
  readonly slot: string;
  readonly from: string;
  readonly until: string | null;
}

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
  /** Hours on duty as noted, by the day they are of; of one day the last noted comes last. */
  readonly hoursNoted: readonly BodyOf<typeof kinds.dutyHoursNoted>[];
}

/** What the registers of a site say: everything but the inspections. */
export interface RegisterState {
  readonly sites: ReadonlyMap<string, SiteState>;
  readonly wheels: ReadonlyMap<string, WheelState>;
  readonly components: ReadonlyMap<string, ComponentState>;
  readonly instruments: ReadonlyMap<string, InstrumentState>;
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
  for (const entry of mergeEntries(entries)) {
    // Laying photos over each other says nothing of the part itself, and makes nobody a writer of its register.
    if (!isReadable(entry) || entry.kind === kinds.photosAligned.kind) continue;
    const id = entry.subject.id;
    const body = bodyOf(entry);
    switch (entry.kind) {
      case kinds.siteDescribed.kind:
        sites.set(id, { ...(body as BodyOf<typeof kinds.siteDescribed>), id });
        break;
      case kinds.wheelDescribed.kind:
        wheels.set(id, { ...(body as BodyOf<typeof kinds.wheelDescribed>), id, site: entry.site });
        break;
      case kinds.instrumentDescribed.kind:
        instruments.set(id, describedAgain(id, body as Instrument, instruments.get(id)));
        break;
      default:
        if (entry.subject.type === 'component') {
          const known = components.get(id) ?? unknownComponent(id, entry.site);
          const writers = [...known.writers, { author: entry.author, at: entry.at, entry: entry.id }];
          components.set(id, { ...withEntry(known, entry, body), writers });
        }
    }
  }
  return { sites, wheels, components, instruments };
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
    madeOn: null,
    writers: [],
    fitments: [],
    tests: [],
    hoursNoted: [],
  };
}

function withEntry(known: ComponentState, entry: Entry, body: unknown): ComponentState {
  switch (entry.kind) {
    case kinds.componentDescribed.kind:
      return { ...known, ...(body as BodyOf<typeof kinds.componentDescribed>), described: true };
    case kinds.componentFitted.kind: {
      const { wheel, slot } = body as BodyOf<typeof kinds.componentFitted>;
      const ended = known.fitments.map((stay) => (stay.until === null ? { ...stay, until: entry.at } : stay));
      return { ...known, fitments: [...ended, { wheel, slot, from: entry.at, until: null }] };
    }
    case kinds.componentRemoved.kind: {
      const { wheel } = body as BodyOf<typeof kinds.componentRemoved>;
      const fitments = known.fitments.map((stay) =>
        stay.until === null && stay.wheel === wheel ? { ...stay, until: entry.at } : stay,
      );
      return { ...known, fitments };
    }
    case kinds.dutyHoursNoted.kind:
      return {
        ...known,
        hoursNoted: [...known.hoursNoted, body as BodyOf<typeof kinds.dutyHoursNoted>].sort((a, b) =>
          a.on < b.on ? -1 : a.on > b.on ? 1 : 0,
        ),
      };
    case kinds.testRecorded.kind: {
      const test = { ...(body as BodyOf<typeof kinds.testRecorded>), entry: entry.id, at: entry.at };
      return { ...known, tests: [...known.tests, test] };
    }
    default:
      return known;
  }
}

/** Components in a wheel at the moment `at` (default: now, open stays), keyed by slot; the newest stay in a slot counts. */
export function componentsIn(
  wheel: string,
  register: RegisterState,
  at?: string,
): ReadonlyMap<string, ComponentState> {
  const found = new Map<string, { component: ComponentState; from: string }>();
  for (const component of register.components.values()) {
    if (!component.described) continue;
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

'use client';
import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { Problem } from '../../lib/base/index.ts';
import {
  type ComponentState,
  componentsIn,
  type Entry,
  foldInspection,
  type InspectionState,
  kinds,
  mergeEntries,
  type Names,
  type WheelState,
} from '../../lib/record/index.ts';
import { secondEntries, secondState, Withheld } from '../../lib/review/index.ts';
import { type Decision, decide, sizesNeeded, type Verdict } from '../../lib/rules/index.ts';
import { type DeviceStore, Unreachable } from '../../lib/store/device/index.ts';
import { type Construction, constructionOf } from '../../lib/wheel/index.ts';
import { now } from './device.ts';
import { sizeKnown } from './measuring.ts';
import { bookNote, keepBook, keepInspection, Refused, withheldNote } from './remote.ts';
import { useStored } from './useStored.ts';
import { useTaken } from './useTaken.ts';
import { useWorkplace, type Workplace } from './Workplace.tsx';

/** An inspection with the wheel it is of, its parts and the verdict as it stands. */
export interface InspectionView {
  /** Whose measuring it is: the inspector's, or the second one of the reviewer who looks at it. */
  readonly hand: 'first' | 'second';
  /** What stands for entries that are kept from this person for now; null: nothing is. */
  readonly withheld: Withheld | null;
  /** Reads entries of this inspection as this hand sees them. */
  fold(entries: readonly Entry[]): InspectionState;
  readonly entries: readonly Entry[];
  readonly state: InspectionState;
  readonly wheel: WheelState;
  readonly construction: Construction;
  /** Components in the wheel, keyed by slot. */
  readonly parts: ReadonlyMap<string, ComponentState>;
  readonly verdict: Verdict;
  /** Tables that the site names and of which no edition is in force. */
  readonly without: readonly string[];
}

export type Loaded<T> =
  | { readonly state: 'loading' }
  | { readonly state: 'missing'; readonly problem: Problem | null }
  | { readonly state: 'ready'; readonly value: T };

/** Decides on an inspection as of now, under the tables in force at the site. */
export function useDecide(): (state: InspectionState, wheel: WheelState) => Decision {
  const { register, tables } = useWorkplace();
  return useCallback(
    (state, wheel) => decide(state, wheel, register, tables, now(), sizeKnown),
    [register, tables],
  );
}

const NONE: Entry[] = [];
const NO_NOTES: unknown[] = [];

/** How a fetch went. */
export interface Fetched {
  readonly over: boolean;
  /** True when the server answered; otherwise what is on the device is all there is to show. */
  readonly reached: boolean;
  readonly problem: Problem | null;
}

/** Runs a fetch once and tells when it is over and how; without a connection what is on the device has to do. */
export function useFetched(fetch: () => Promise<void>): Fetched {
  const [result, setResult] = useState<Fetched>({ over: false, reached: false, problem: null });
  useEffect(() => {
    let gone = false;
    fetch().then(
      () => !gone && setResult({ over: true, reached: true, problem: null }),
      (error: unknown) => {
        if (error instanceof Refused) {
          if (!gone) setResult({ over: true, reached: true, problem: error.problem });
        } else if (error instanceof Unreachable) {
          if (!gone) setResult({ over: true, reached: false, problem: null });
        } else throw error;
      },
    );
    return () => {
      gone = true;
    };
  }, [fetch]);
  return result;
}

/**
 * Whether every size that a verdict asks for has been taken. They are taken in the worker, so that the screen stays
 * awake; it shows what it showed before until they are there.
 */
export function useSized(state: InspectionState | null, wheel: WheelState | undefined): boolean {
  const { register } = useWorkplace();
  const needed = useMemo(
    () => (state === null || wheel === undefined ? [] : sizesNeeded(state, wheel, register)),
    [state, wheel, register],
  );
  return useTaken(needed);
}

/** Entries of an inspection on the device, from the server when it can be had, and what is kept from this person. */
function useEntries(id: string | null) {
  const { store, site } = useWorkplace();
  const read = useCallback(
    () => (id === null ? Promise.resolve(NONE) : store.entriesOf('inspection', id)),
    [store, id],
  );
  const entries = useStored(store, read, NONE);
  const readWithheld = useCallback(() => store.note(withheldNote(id ?? '')), [store, id]);
  const note = useStored<unknown>(store, readWithheld, null);
  const withheld = useMemo(
    () =>
      Withheld.nullable()
        .catch(null)
        .parse(note ?? null),
    [note],
  );
  const fetch = useCallback(async () => {
    if (id !== null) await keepInspection(store, site.id, id);
  }, [store, site.id, id]);
  return { entries, withheld, fetch, fetched: useFetched(fetch) };
}

type Hand = Pick<InspectionView, 'hand' | 'fold'>;
const FIRST: Hand = { hand: 'first', fold: foldInspection };

/** The inspection of this id, from the device first and from the server when it can be had. */
export function useInspection(id: string | null): Loaded<InspectionView> {
  const { entries, withheld, fetched } = useEntries(id);
  return useView(entries, withheld, fetched, FIRST);
}

/** The inspection as one's own second measurement has it so far, with the whole of it as far as one may see. */
export function useSecond(id: string | null) {
  const { me } = useWorkplace();
  const { entries, withheld, fetch, fetched } = useEntries(id);
  const person = me.person.id;
  const hand = useMemo((): Hand => ({ hand: 'second', fold: (some) => secondState(some, person) }), [person]);
  const own = useMemo(() => secondEntries(entries, person), [entries, person]);
  const mine = useView(own, withheld, fetched, hand);
  return { mine, entries, withheld, fetch };
}

function useView(
  entries: Entry[],
  withheld: Withheld | null,
  fetched: Fetched,
  { hand, fold }: Hand,
): Loaded<InspectionView> {
  const { register } = useWorkplace();
  const decideNow = useDecide();
  const state = useMemo(() => (entries.length === 0 ? null : foldInspection(entries)), [entries]);
  const wheel = state === null || state.wheel === null ? undefined : register.wheels.get(state.wheel);
  const sized = useSized(state, wheel);
  const decided = useMemo((): InspectionView | null => {
    if (state === null || wheel === undefined || !sized) return null;
    const { verdict, without } = decideNow(state, wheel);
    return {
      hand,
      fold,
      withheld,
      entries,
      state,
      wheel,
      construction: constructionOf(wheel.construction),
      parts: componentsIn(wheel.id, register),
      verdict,
      without,
    };
  }, [entries, withheld, state, wheel, sized, register, decideNow, hand, fold]);
  const before = useRef<InspectionView | null>(null);
  if (decided !== null) before.current = decided;
  return useMemo(() => {
    if (state === null || wheel === undefined) {
      const missing = state === null ? fetched.problem : null;
      return fetched.over ? { state: 'missing', problem: missing } : { state: 'loading' };
    }
    const value = decided ?? before.current;
    return value === null || value.state.id !== state.id ? { state: 'loading' } : { state: 'ready', value };
  }, [state, wheel, fetched, decided]);
}

/** Inspections of a wheel, newest first, with their states. */
export function useBook(wheel: string | null): {
  inspections: readonly InspectionState[];
  fetched: boolean;
  /** When the whole book was last fetched to this device, ISO 8601; null: never. */
  asOf: string | null;
  reached: boolean;
  /** By inspection: what is kept from this person for now. */
  withheld: ReadonlyMap<string, Withheld>;
} {
  const { store, site } = useWorkplace();
  const read = useCallback(() => entriesOfBook(store, site.id, wheel), [store, site.id, wheel]);
  const entries = useStored(store, read, NONE);
  const fetch = useCallback(async () => {
    if (wheel !== null) await keepBook(store, site.id, wheel);
  }, [store, site.id, wheel]);
  const { over, reached } = useFetched(fetch);
  const readAsOf = useCallback(() => store.note(bookNote(wheel ?? '')), [store, wheel]);
  const asOf = useStored<unknown>(store, readAsOf, null);
  const inspections = useMemo(() => inspectionsIn(entries), [entries]);
  const readNotes = useCallback(
    () => Promise.all(inspections.map(({ id }) => store.note(withheldNote(id)))),
    [store, inspections],
  );
  const notes = useStored<unknown[]>(store, readNotes, NO_NOTES);
  const withheld = useMemo(
    () =>
      new Map(
        inspections.flatMap(({ id }, i) => {
          const read = Withheld.safeParse(notes[i]);
          return read.success ? [[id, read.data] as const] : [];
        }),
      ),
    [inspections, notes],
  );
  return { inspections, fetched: over, asOf: typeof asOf === 'string' ? asOf : null, reached, withheld };
}

/** Entries of the inspections of one wheel that are on the device. */
async function entriesOfBook(store: DeviceStore, site: string, wheel: string | null): Promise<Entry[]> {
  const opened = await store.entriesOfKind(site, kinds.inspectionOpened.kind);
  const own = opened.filter((entry) => entry.body.wheel === wheel).map((entry) => entry.subject.id);
  return entriesOfInspections(store, own);
}

/**
 * Entries of the inspections on the device that may have to be finished: not those whose newest review settled them.
 */
export async function entriesUnsettled(store: DeviceStore, site: string): Promise<Entry[]> {
  const [opened, reviews] = await Promise.all([
    store.entriesOfKind(site, kinds.inspectionOpened.kind),
    store.entriesOfKind(site, kinds.reviewConcluded.kind),
  ]);
  const outcomes = new Map(
    mergeEntries(reviews).map((entry) => [entry.subject.id, entry.body.outcome] as const),
  );
  return entriesOfInspections(
    store,
    opened.map((entry) => entry.subject.id).filter((id) => (outcomes.get(id) ?? 'sent back') === 'sent back'),
  );
}

async function entriesOfInspections(store: DeviceStore, ids: readonly string[]): Promise<Entry[]> {
  const found = await Promise.all([...new Set(ids)].map((id) => store.entriesOf('inspection', id)));
  return found.flat();
}

/** Every inspection among some entries, newest first. */
export function inspectionsIn(entries: readonly Entry[]): InspectionState[] {
  const bySubject = new Map<string, Entry[]>();
  for (const entry of entries) {
    const list = bySubject.get(entry.subject.id);
    if (list === undefined) bySubject.set(entry.subject.id, [entry]);
    else list.push(entry);
  }
  return [...bySubject.values()]
    .map((list) => foldInspection(list))
    .sort((a, b) => ((a.opened?.at ?? '') < (b.opened?.at ?? '') ? 1 : -1));
}

/** Names for ids, from the register; people from the list of members. */
export function namesOf(workplace: Workplace, people: ReadonlyMap<string, string>): Names {
  const { register } = workplace;
  return {
    person: (id) => people.get(id) ?? 'someone',
    component: (id) => {
      const component = register.components.get(id);
      const stay = component?.fitments.at(-1);
      return stay?.slot ?? component?.componentKind ?? 'a part';
    },
    wheel: (id) => register.wheels.get(id)?.tag ?? 'a wheel',
    instrument: (id) => register.instruments.get(id)?.name ?? 'an instrument',
  };
}

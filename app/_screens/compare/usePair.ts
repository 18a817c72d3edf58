'use client';
import { useCallback, useEffect, useMemo, useState } from 'react';
import { type Entry, foldInspection, type InspectionState, kinds } from '../../../lib/record/index.ts';
import { Withheld } from '../../../lib/review/index.ts';
import type { DeviceStore } from '../../../lib/store/device/index.ts';
import { inspectionsIn } from '../../_client/inspection.ts';
import { withheldNote } from '../../_client/remote.ts';
import { useStored } from '../../_client/useStored.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';

/** A photo with the inspection it was taken in. */
export interface Side {
  readonly photo: string;
  readonly inspection: InspectionState;
  /** When the inspection began, ISO 8601. */
  readonly at: string;
  /** What is kept from this person for now; null: nothing is. */
  readonly withheld: Withheld | null;
}

const NO_SIDES: Side[] = [];

/** Inspections on this device in which a photo of the part was taken; the part may have been in other wheels. */
async function sidesOf(store: DeviceStore, site: string, component: string | null): Promise<Side[]> {
  if (component === null) return NO_SIDES;
  const attached = await store.entriesOfKind(site, kinds.photoAttached.kind);
  const ids = new Set(
    attached.filter(({ body }) => body.component === component).map((entry) => entry.subject.id),
  );
  const entries: Entry[] = (
    await Promise.all([...ids].map((id) => store.entriesOf('inspection', id)))
  ).flat();
  const states = inspectionsIn(entries);
  const notes = await Promise.all(states.map(({ id }) => store.note(withheldNote(id))));
  return states.flatMap((inspection, i) => {
    const note = Withheld.safeParse(notes[i]);
    return [...inspection.photos.values()]
      .filter(({ value }) => value.component === component)
      .map(({ value }) => ({
        photo: value.photo,
        inspection,
        at: inspection.opened?.at ?? '',
        withheld: note.success ? note.data : null,
      }));
  });
}

/** What of a side the comparison rests on: when it stays, the side stays the same object. */
const standing = ({ photo, inspection, withheld }: Side) => [
  photo,
  inspection.id,
  [...inspection.marks.values()].map(({ entry }) => entry),
  inspection.scales.get(photo)?.entry ?? null,
  inspection.surfaces.get(photo)?.entry ?? null,
  withheld?.why ?? null,
];

/** Photos of the same part on this device, newest first. */
export function useSides(component: string | null): readonly Side[] {
  const { store, site } = useWorkplace();
  const read = useCallback(() => sidesOf(store, site.id, component), [store, site.id, component]);
  const readStanding = useCallback(async () => JSON.stringify((await read()).map(standing)), [read]);
  const stands = useStored(store, readStanding, '');
  const [sides, setSides] = useState<readonly Side[]>(NO_SIDES);
  // biome-ignore lint/correctness/useExhaustiveDependencies: read again when something it rests on has changed
  useEffect(() => {
    let gone = false;
    void read().then((found) => gone || setSides(found));
    return () => {
      gone = true;
    };
  }, [read, stands]);
  return sides;
}

/** The component of a photo in an inspection on this device; null while it is looked up, or where it is not there. */
export function useComponentOf(inspection: string | null, photo: string | null): string | null {
  const { store } = useWorkplace();
  const read = useCallback(async () => {
    if (inspection === null) return null;
    const entries = await store.entriesOf('inspection', inspection);
    if (entries.length === 0) return null;
    return foldInspection(entries).photos.get(photo ?? '')?.value.component ?? null;
  }, [store, inspection, photo]);
  return useStored<string | null>(store, read, null);
}

/** The inspection and the photo that a part of the address names: `inspection:photo`. */
export function namedIn(text: string | null): { inspection: string; photo: string } | null {
  const [inspection, photo] = (text ?? '').split(':');
  return inspection && photo ? { inspection, photo } : null;
}

/** Both sides that the address names, the earlier first; null where one is not on this device. */
export function usePair(a: string | null, b: string | null): readonly [Side, Side] | null {
  const one = namedIn(a);
  const component = useComponentOf(one?.inspection ?? null, one?.photo ?? null);
  const sides = useSides(component);
  return useMemo(() => {
    const find = (named: typeof one) =>
      sides.find((side) => side.photo === named?.photo && side.inspection.id === named.inspection);
    const [first, second] = [find(namedIn(a)), find(namedIn(b))];
    if (first === undefined || second === undefined) return null;
    return first.at <= second.at ? [first, second] : [second, first];
  }, [sides, a, b]);
}

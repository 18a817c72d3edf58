'use client';
import { useCallback, useMemo } from 'react';
import { type Entry, foldStudy, type StudyState } from '../../lib/record/index.ts';
import { type DeviceStore, Unreachable } from '../../lib/store/device/index.ts';
import { type Fetched, useFetched } from './inspection.ts';
import { call, plainEntries } from './remote.ts';
import { useStored } from './useStored.ts';
import { useWorkplace } from './Workplace.tsx';

const NONE: Entry[] = [];

/** Entries of studies that count here: none that the server refused. */
async function standing(store: DeviceStore, site: string): Promise<Entry[]> {
  const [entries, outbox] = await Promise.all([store.entriesOfSite(site, ['study']), store.outbox()]);
  const refused = new Set(outbox.filter((item) => item.state === 'refused').map((item) => item.id));
  return entries.filter((entry) => !refused.has(entry.id));
}

/**
 * Fetches a gauge study whole. While it was open the server held back what others read, and the place in the log is past
 * that; so a closed study is fetched once more, and noted when all of it is here.
 */
async function keepStudy(store: DeviceStore, site: string, id: string): Promise<void> {
  const { entries } = await call<{ entries: Entry[] }>(
    'GET',
    `/api/v1/subjects/study/${id}/entries?site=${site}`,
  );
  await store.keep(plainEntries(entries));
  if (foldStudy(entries).closed !== null) await store.setNote(wholeStudyNote(id), true);
}

/** Note under which a device remembers that it has all of a closed study. */
function wholeStudyNote(id: string): string {
  return `whole study ${id}`;
}

/** Gauge studies of the site as this device knows them, the newest first. */
export function useStudies(): readonly StudyState[] {
  const { store, site } = useWorkplace();
  const read = useCallback(() => standing(store, site.id), [store, site.id]);
  const entries = useStored(store, read, NONE);
  return useMemo(() => {
    const byStudy = new Map<string, Entry[]>();
    for (const entry of entries) {
      byStudy.set(entry.subject.id, [...(byStudy.get(entry.subject.id) ?? []), entry]);
    }
    return [...byStudy.values()]
      .map(foldStudy)
      .filter((one) => one.plan !== null)
      .sort((a, b) => ((a.plan?.at ?? '') < (b.plan?.at ?? '') ? 1 : -1));
  }, [entries]);
}

/**
 * Fetches one study, for what was held back while it was open; and whether this device has all of it. It is fetched again
 * when it is closed, when what waited here is sent and when the connection is back.
 */
export function useWholeStudy({ id, closed }: StudyState): Fetched & { readonly whole: boolean } {
  const { store, site, connection, waiting } = useWorkplace();
  const [isClosed, isSent] = [closed !== null, waiting === 0];
  const fetch = useCallback(async () => {
    if (connection !== 'connected') throw new Unreachable('No connection to the server');
    // A closing that is not sent yet opens nothing at the server.
    if (!isClosed || isSent) await keepStudy(store, site.id, id);
  }, [store, site.id, id, connection, isClosed, isSent]);
  const fetched = useFetched(fetch);
  const read = useCallback(() => store.note(wholeStudyNote(id)), [store, id]);
  const whole = useStored<unknown>(store, read, false);
  return { ...fetched, whole: whole === true };
}

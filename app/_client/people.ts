'use client';
import { useCallback, useMemo } from 'react';
import { useFetched } from './inspection.ts';
import { call, type RoleName } from './remote.ts';
import { useStored } from './useStored.ts';
import { useWorkplace } from './Workplace.tsx';

/** Somebody who works at the site. */
export interface Member {
  readonly id: string;
  readonly name: string;
  readonly roles: readonly RoleName[];
}

/** Stands for a name that has not been fetched. */
export const NAME_UNKNOWN = 'name not fetched yet';

/** The people of the site with their roles, kept on the device for when there is no connection. */
export function useMembers(): readonly Member[] {
  const { store, site } = useWorkplace();
  const key = `people ${site.id}`;
  const read = useCallback(() => store.note(key), [store, key]);
  const known = useStored<unknown>(store, read, null);
  const fetch = useCallback(async () => {
    const { people } = await call<{ people: Member[] }>('GET', `/api/v1/sites/${site.id}/people`);
    await store.setNote(key, people);
  }, [store, site.id, key]);
  useFetched(fetch);
  return useMemo(() => (Array.isArray(known) ? (known as Member[]) : []), [known]);
}

/** Names of the people of the site by their ids. */
export function usePeople(): ReadonlyMap<string, string> {
  const members = useMembers();
  return useMemo(() => new Map(members.map((one) => [one.id, one.name])), [members]);
}

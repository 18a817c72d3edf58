'use client';
import {
  createContext,
  type ReactNode,
  useCallback,
  useContext,
  useEffect,
  useMemo,
  useRef,
  useState,
} from 'react';
import type { z } from 'zod';
import { must } from '../../lib/base/index.ts';
import {
  type Entry,
  foldRegister,
  type Kind,
  makeEntry,
  type RegisterState,
  type SiteState,
} from '../../lib/record/index.ts';
import { type DeviceStore, fetchRegister, sendWaiting, Unreachable } from '../../lib/store/device/index.ts';
import { type ContentsRead, foldTables, type TablesOnFile } from '../../lib/tolerances/index.ts';
import { deviceId, newId, now, rememberedSite, rememberMe, rememberSite } from './device.ts';
import { call, fetchBooks, type Me, REGISTER_SUBJECTS, Refused, type RoleName, remote } from './remote.ts';
import { endSession, type Start, start } from './start.ts';
import { useStored } from './useStored.ts';

export type Connection = 'connected' | 'no connection' | 'signed out';

/** What every screen stands on: who works, where, with what record, and how far it is sent. */
export interface Workplace {
  readonly me: Me;
  readonly site: Me['sites'][number];
  readonly store: DeviceStore;
  /** Register of the site; grows as it is fetched. */
  readonly register: RegisterState;
  /** Tolerance tables in the record of the site. */
  readonly tables: TablesOnFile;
  readonly siteState: SiteState | undefined;
  readonly connection: Connection;
  /** Entries and photos not at the server yet. */
  readonly waiting: number;
  readonly refused: number;
  has(role: RoleName): boolean;
  /** Makes an entry here and now, keeps it, and sends it when it can. */
  write<B extends z.ZodType>(kind: Kind<B>, subject: string, body: z.input<B>): Promise<Entry>;
  /** Sends what waits and fetches what is new; never throws. */
  exchange(): Promise<void>;
  chooseSite(id: string): void;
  signOut(): Promise<void>;
}

const Context = createContext<Workplace | null>(null);

/** The workplace of a screen inside `WithWorkplace`. */
export function useWorkplace(): Workplace {
  return must(useContext(Context), 'a workplace round this screen');
}

const EXCHANGE_EVERY_MS = 20_000;

/** Gives the screens inside their workplace; sends to the sign-in page when nobody is signed in. */
export function WithWorkplace({ children }: { children: ReactNode }) {
  const [started, setStarted] = useState<Start>({ state: 'starting' });
  useEffect(() => {
    let gone = false;
    let opened: DeviceStore | null = null;
    start().then((result) => {
      if (result.state === 'ready') opened = result.store;
      if (gone) opened?.close();
      else setStarted(result);
    });
    return () => {
      gone = true;
      opened?.close();
    };
  }, []);
  switch (started.state) {
    case 'starting':
      return <p className="waiting-page">Opening the book …</p>;
    case 'signed out':
      window.location.replace(
        `/sign-in?then=${encodeURIComponent(window.location.pathname + window.location.search)}`,
      );
      return <p className="waiting-page">Going to the sign-in page …</p>;
    case 'no site':
      return <NoSite me={started.me} />;
    case 'trouble':
      return (
        <main className="waiting-page" role="alert">
          <h1>{started.problem.message}</h1>
          <p>{started.problem.wayOut}</p>
          <p>
            <a href="/sign-in">Go to the sign-in page</a>
          </p>
        </main>
      );
    case 'ready':
      return (
        <Ready me={started.me} store={started.store}>
          {children}
        </Ready>
      );
  }
}

function NoSite({ me }: { me: Me }) {
  return (
    <main className="waiting-page">
      <h1>You belong to no site yet</h1>
      <p>
        {me.person.administrator
          ? 'Give yourself and others a role at a site on the people page.'
          : 'Ask your administrator for a role at your site, then open this page again.'}
      </p>
      {me.person.administrator ? <a href="/people">People</a> : null}
    </main>
  );
}

function useSite(me: Me) {
  const [chosen, setChosen] = useState(() => rememberedSite());
  const site = me.sites.find((one) => one.id === chosen) ?? must(me.sites[0], 'a site');
  const chooseSite = useCallback((id: string) => {
    rememberSite(id);
    setChosen(id);
  }, []);
  return { site, chooseSite };
}

/** Somebody else may have signed in, in another tab: then nothing is sent in their name. */
async function samePerson(person: string): Promise<void> {
  const now = await call<Me>('GET', '/api/v1/me');
  if (now.person.id !== person)
    throw new Unreachable('Somebody else has signed in on this device', { signedOut: true });
}

const NO_ENTRIES: readonly Entry[] = [];

/** Register entries that count here: none that the server refused, and none on tables before it has taken them. */
async function standingRegister(store: DeviceStore, site: string): Promise<Entry[]> {
  const [entries, outbox] = await Promise.all([store.entriesOfSite(site, REGISTER_SUBJECTS), store.outbox()]);
  const states = new Map(outbox.map((item) => [item.id, item.state]));
  return entries.filter(({ id, subject }) => {
    const state = states.get(id);
    return state === undefined || (state === 'waiting' && subject.type !== 'table');
  });
}

function useExchange(me: Me, site: string, store: DeviceStore) {
  const [connection, setConnection] = useState<Connection>('connected');
  const running = useRef<Promise<void> | null>(null);
  const again = useRef(false);
  const exchange = useCallback(async () => {
    if (running.current !== null) {
      again.current = true;
      return running.current;
    }
    const once = async () => {
      do {
        again.current = false;
        try {
          await samePerson(me.person.id);
          await sendWaiting(store, remote, me.person.id);
          await fetchRegister(store, remote, site);
          const wheels = await store.entriesOfSite(site, ['wheel']);
          await fetchBooks(store, site, [...new Set(wheels.map((entry) => entry.subject.id))]);
          setConnection('connected');
        } catch (error) {
          if (error instanceof Unreachable)
            setConnection(error.signedOut ? 'signed out' : error.busy ? 'connected' : 'no connection');
          else if (error instanceof Refused) console.error('Exchange refused', error.problem);
          else throw error;
        }
      } while (again.current);
    };
    running.current = once().finally(() => {
      running.current = null;
    });
    return running.current;
  }, [store, me.person.id, site]);
  useEffect(() => {
    void exchange();
    const timer = setInterval(() => void exchange(), EXCHANGE_EVERY_MS);
    const online = () => void exchange();
    window.addEventListener('online', online);
    return () => {
      clearInterval(timer);
      window.removeEventListener('online', online);
    };
  }, [exchange]);
  return { connection, exchange };
}

function Ready({ me, store, children }: { me: Me; store: DeviceStore; children: ReactNode }) {
  const { site, chooseSite } = useSite(me);
  const { connection, exchange } = useExchange(me, site.id, store);
  const readRegister = useCallback(() => standingRegister(store, site.id), [store, site.id]);
  const registerEntries = useStored(store, readRegister, NO_ENTRIES as Entry[]);
  const register = useMemo(() => foldRegister(registerEntries), [registerEntries]);
  const contentsRead = useRef<ContentsRead>(new Map());
  const tables = useMemo(() => foldTables(registerEntries, contentsRead.current), [registerEntries]);
  const readWaiting = useCallback(async () => {
    const [outbox, waitingPhotos, refusedPhotos] = await Promise.all([
      store.outbox(),
      store.photosIn('waiting'),
      store.photosIn('refused'),
    ]);
    return {
      waiting: outbox.filter((item) => item.state === 'waiting').length + waitingPhotos.length,
      refused: outbox.filter((item) => item.state === 'refused').length + refusedPhotos.length,
    };
  }, [store]);
  const counts = useStored(store, readWaiting, { waiting: 0, refused: 0 });
  const write = useCallback(
    async <B extends z.ZodType>(kind: Kind<B>, subject: string, body: z.input<B>) => {
      const entry = makeEntry(kind, subject, body, {
        id: newId(),
        site: site.id,
        at: now(),
        author: me.person.id,
        device: deviceId(),
      });
      await store.append([entry]);
      void exchange();
      return entry;
    },
    [store, site.id, me.person.id, exchange],
  );
  const workplace: Workplace = useMemo(
    () => ({
      me,
      site,
      store,
      register,
      tables,
      siteState: register.sites.get(site.id),
      connection,
      ...counts,
      has: (role) => site.roles.includes(role),
      write,
      exchange,
      chooseSite,
      async signOut() {
        await exchange();
        // Without a connection the session ends as soon as there is one again: see `start`.
        await endSession().catch((error: unknown) => {
          if (!(error instanceof Unreachable)) throw error;
        });
        rememberMe(null);
        window.location.assign('/sign-in');
      },
    }),
    [me, site, store, register, tables, connection, counts, write, exchange, chooseSite],
  );
  return <Context.Provider value={workplace}>{children}</Context.Provider>;
}

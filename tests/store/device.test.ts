import 'fake-indexeddb/auto';
import { openDB } from 'idb';
import { describe, expect, test } from 'vitest';
import { problem } from '../../lib/base/index.ts';
import { byTimeThenId, type Entry, foldInspection, kinds } from '../../lib/record/index.ts';
import {
  type DeviceStore,
  fetchRegister,
  type NewPhoto,
  openDeviceStore,
  type Remote,
  sendWaiting,
  Unreachable,
} from '../../lib/store/device/index.ts';
import { entry, INSPECTION, SITE, WHEEL } from '../support/entries.ts';

let names = 0;
const fresh = () => {
  names += 1;
  return `test-${names}`;
};

const note = (text: string, over = {}) => entry(kinds.noteWritten, INSPECTION, { text }, over);
const photo = (bytes: number[], over: Partial<NewPhoto> = {}): NewPhoto => ({
  site: SITE,
  name: 'a.jpg',
  blob: new Blob([new Uint8Array(bytes)]),
  thumb: null,
  view: null,
  widthPx: 1,
  heightPx: 1,
  addedAt: '2026-01-01T00:00:00.000Z',
  problem: null,
  ...over,
});

/** A server that keeps what it is sent, with switches for what can go wrong. */
function server() {
  const state = {
    entries: new Map<string, Entry>(),
    photos: new Map<string, number[]>(),
    down: false,
    loseAnswers: false,
    refuse: new Set<string>(),
    pieces: 0,
  };
  const remote: Remote = {
    async send(entries) {
      if (state.down) throw new Unreachable('down');
      for (const one of entries) if (!state.refuse.has(one.id)) state.entries.set(one.id, one);
      if (state.loseAnswers) throw new Unreachable('the answer was lost');
      return entries.map((one) =>
        state.refuse.has(one.id)
          ? { id: one.id, status: 'refused', problem: problem('no', 'body', 'x', 'Refused', 'Do otherwise.') }
          : { id: one.id, status: 'stored' },
      );
    },
    async photoOffset(one) {
      if (state.down) throw new Unreachable('down');
      return state.photos.get(one.sha256)?.length ?? 0;
    },
    async sendPiece(one, offset, piece) {
      if (state.down) throw new Unreachable('down');
      const have = state.photos.get(one.sha256) ?? [];
      if (have.length !== offset) return { status: 'more', offset: have.length };
      state.photos.set(one.sha256, [...have, ...new Uint8Array(await piece.arrayBuffer())]);
      state.pieces += 1;
      const length = state.photos.get(one.sha256)?.length ?? 0;
      return length >= one.blob.size ? { status: 'complete' } : { status: 'more', offset: length };
    },
    async register(_site, after) {
      const all = [...state.entries.values()].sort(byTimeThenId);
      const page = all.slice(after, after + 2);
      return { entries: page, next: after + page.length, more: after + page.length < all.length };
    },
  };
  return { state, remote };
}

const waiting = async (store: DeviceStore) => (await store.outbox()).map((item) => [item.id, item.state]);

describe('the device store', () => {
  test('keeps what was appended over a closing of the browser, and still waiting to be sent', async () => {
    const name = fresh();
    const one = note('kept');
    const store = await openDeviceStore(name);
    await store.append([one]);
    await store.setDraft('field', '4,5 m');
    store.close();
    const again = await openDeviceStore(name);
    expect(await again.entriesOf('inspection', INSPECTION)).toEqual([one]);
    expect(await waiting(again)).toEqual([[one.id, 'waiting']]);
    expect(await again.draft('field')).toBe('4,5 m');
  });

  test('finds entries by the type of their subject and by their kind, of one site only', async () => {
    const store = await openDeviceStore(fresh());
    const opened = entry(kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'Tyre off' });
    const note = entry(kinds.noteWritten, INSPECTION, { text: 'a note' });
    const elsewhere = { ...entry(kinds.noteWritten, INSPECTION, { text: 'b' }), site: WHEEL };
    await store.keep([opened, note, elsewhere]);
    expect(await store.entriesOfKind(SITE, kinds.noteWritten.kind)).toEqual([note]);
    const ids = (list: readonly Entry[]) => list.map(({ id }) => id).sort();
    expect(ids(await store.entriesOfSite(SITE, ['wheel', 'inspection']))).toEqual(ids([opened, note]));
    expect(await store.entriesOfSite(SITE, ['wheel'])).toEqual([]);
    store.close();
  });

  test('finds what was kept before there were indexes for it', async () => {
    const name = fresh();
    const opened = entry(kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'Tyre off' });
    const old = await openDB(name, 1, {
      upgrade(db) {
        const entries = db.createObjectStore('entries', { keyPath: 'id' });
        entries.createIndex('subject', ['subject.type', 'subject.id']);
        entries.createIndex('site', 'site');
        db.createObjectStore('outbox', { keyPath: 'id' });
        db.createObjectStore('photos', { keyPath: 'sha256' }).createIndex('state', 'state');
        db.createObjectStore('drafts');
        db.createObjectStore('notes');
      },
    });
    await old.put('entries', opened);
    await old.put('outbox', { id: opened.id, author: opened.author, state: 'waiting', problem: null });
    old.close();
    const store = await openDeviceStore(name);
    expect(await store.entriesOfKind(SITE, kinds.inspectionOpened.kind)).toEqual([opened]);
    expect(await store.entriesOfSite(SITE, ['inspection'])).toEqual([opened]);
    expect((await store.outbox()).map(({ id }) => id)).toEqual([opened.id]);
    store.close();
  });

  test('tells subscribers of every change', async () => {
    const store = await openDeviceStore(fresh());
    let told = 0;
    const stop = store.subscribe(() => {
      told += 1;
    });
    await store.append([note('a')]);
    await store.addPhoto(photo([1]));
    expect(told).toBe(2);
    stop();
    await store.append([note('b')]);
    expect(told).toBe(2);
  });

  test('stores the same photo once, under the SHA-256 of its bytes', async () => {
    const store = await openDeviceStore(fresh());
    const first = await store.addPhoto(photo([97, 98, 99]));
    const second = await store.addPhoto(photo([97, 98, 99], { name: 'b.jpg' }));
    // FIPS 180-4 example: SHA-256 of "abc".
    const abc = 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad';
    expect([first, second]).toMatchObject([
      { ok: true, value: { sha256: abc, name: 'a.jpg' } },
      { ok: true, value: { sha256: abc, name: 'a.jpg' } },
    ]);
    expect(await store.photosIn('waiting')).toHaveLength(1);
  });

  test('keeps a photo that cannot be evidence, with its reason, and does not send it', async () => {
    const store = await openDeviceStore(fresh());
    const { state, remote } = server();
    await store.addPhoto(
      photo([1, 2], { problem: problem('photo-damaged', 'photo', 'a.jpg', 'Cut off', 'Take it again.') }),
    );
    await sendWaiting(store, remote, 'inspector-1');
    expect(await store.photosIn('refused')).toHaveLength(1);
    expect(state.photos.size).toBe(0);
  });
});

describe('sending', () => {
  test('empties the outbox and sending again changes nothing', async () => {
    const store = await openDeviceStore(fresh());
    const { state, remote } = server();
    await store.append([note('a'), note('b')]);
    await sendWaiting(store, remote, 'inspector-1');
    await sendWaiting(store, remote, 'inspector-1');
    expect(await store.outbox()).toEqual([]);
    expect(state.entries.size).toBe(2);
  });

  test('leaves everything in place while the server cannot be had', async () => {
    const store = await openDeviceStore(fresh());
    const { state, remote } = server();
    state.down = true;
    const one = note('a');
    await store.append([one]);
    await store.addPhoto(photo([1]));
    await expect(sendWaiting(store, remote, 'inspector-1')).rejects.toThrow(Unreachable);
    expect(await waiting(store)).toEqual([[one.id, 'waiting']]);
    state.down = false;
    await sendWaiting(store, remote, 'inspector-1');
    expect(await store.outbox()).toEqual([]);
    expect(await store.photosIn('confirmed')).toHaveLength(1);
  });

  test('a lost answer leads to a second sending that ends in the same state', async () => {
    const store = await openDeviceStore(fresh());
    const { state, remote } = server();
    await store.append([note('a')]);
    state.loseAnswers = true;
    await expect(sendWaiting(store, remote, 'inspector-1')).rejects.toThrow(Unreachable);
    state.loseAnswers = false;
    await sendWaiting(store, remote, 'inspector-1');
    expect(state.entries.size).toBe(1);
    expect(await store.outbox()).toEqual([]);
  });

  test('a refused entry stays with its reason, holds nothing up, and can be put in line again', async () => {
    const store = await openDeviceStore(fresh());
    const { state, remote } = server();
    const [bad, good] = [note('bad'), note('good')];
    state.refuse.add(bad.id);
    await store.append([bad, good]);
    await sendWaiting(store, remote, 'inspector-1');
    expect(await store.outbox()).toMatchObject([
      { id: bad.id, state: 'refused', problem: { wayOut: 'Do otherwise.' } },
    ]);
    expect([...state.entries.keys()]).toEqual([good.id]);
    state.refuse.clear();
    await store.retry([bad.id]);
    await sendWaiting(store, remote, 'inspector-1');
    expect(await store.outbox()).toEqual([]);
  });

  test('what another person wrote on this device waits until they sign in', async () => {
    const store = await openDeviceStore(fresh());
    const { state, remote } = server();
    const other = note('by another', { author: 'inspector-2' });
    await store.append([other]);
    await sendWaiting(store, remote, 'inspector-1');
    expect(await waiting(store)).toEqual([[other.id, 'waiting']]);
    await sendWaiting(store, remote, 'inspector-2');
    expect(state.entries.size).toBe(1);
  });

  test('a photo goes on from where it was cut off', async () => {
    const store = await openDeviceStore(fresh());
    const { state, remote } = server();
    const bytes = Array.from({ length: 2_500_000 }, (_, i) => i % 251);
    const added = await store.addPhoto(photo(bytes));
    if (!added.ok) throw new Error('not added');
    state.photos.set(added.value.sha256, bytes.slice(0, 1_048_576));
    await sendWaiting(store, remote, 'inspector-1');
    expect(state.pieces).toBe(2);
    expect(state.photos.get(added.value.sha256)).toHaveLength(bytes.length);
    expect(await store.photosIn('confirmed')).toHaveLength(1);
  });

  test('a photo that the server cannot deal with now does not hold the next one up', async () => {
    const store = await openDeviceStore(fresh());
    const { state, remote } = server();
    const [stuck, next] = [await store.addPhoto(photo([1])), await store.addPhoto(photo([2]))];
    if (!stuck.ok || !next.ok) throw new Error('not added');
    const picky: Remote = {
      ...remote,
      async sendPiece(one, offset, piece) {
        if (one.sha256 === stuck.value.sha256)
          throw new Unreachable('decoding took too long', { busy: true });
        return remote.sendPiece(one, offset, piece);
      },
    };
    await expect(sendWaiting(store, picky, 'inspector-1')).rejects.toThrow('decoding took too long');
    expect(state.photos.has(next.value.sha256)).toBe(true);
    expect((await store.photosIn('waiting')).map((one) => one.sha256)).toEqual([stuck.value.sha256]);
  });

  test('two devices and a server end in the same inspection', async () => {
    const [phone, desk] = [await openDeviceStore(fresh()), await openDeviceStore(fresh())];
    const { remote } = server();
    await phone.append([
      entry(kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'yearly' }),
      note('from the phone'),
    ]);
    await desk.append([note('from the desk', { author: 'reviewer-1', device: 'desk' })]);
    await sendWaiting(desk, remote, 'reviewer-1');
    await sendWaiting(phone, remote, 'inspector-1');
    for (const store of [phone, desk]) await fetchRegister(store, remote, SITE);
    const states = await Promise.all(
      [phone, desk].map(async (store) => foldInspection(await store.entriesOf('inspection', INSPECTION))),
    );
    expect(states[0]).toEqual(states[1]);
    expect(states[0]?.notes.map((one) => one.value)).toEqual(['from the phone', 'from the desk']);
  });
});

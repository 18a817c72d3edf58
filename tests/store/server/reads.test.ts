import { describe, expect, it } from 'vitest';
import { readLog, readWheelBook } from '../../../lib/store/server/index.ts';
import { appendAll, inspectionId, makeEntry, OTHER_SITE, SITE, temporaryStore, WHEEL } from './support.ts';

describe('reading the log of a site', () => {
  it('goes on where the page before ended and says when there is more', () => {
    const store = temporaryStore();
    appendAll(store, ...[1, 2, 3].map((n) => makeEntry(n)), makeEntry(4, { site: OTHER_SITE }));
    const first = readLog(store, { site: SITE, after: 0, limit: 2 });
    expect(first).toMatchObject({ next: 2, more: true });
    const second = readLog(store, { site: SITE, after: first.next, limit: 2 });
    expect(second.entries.map((entry) => entry.seq)).toEqual([3]);
    expect(second).toMatchObject({ next: 3, more: false });
    expect(readLog(store, { site: SITE, after: 3, limit: 2 })).toEqual({ entries: [], next: 3, more: false });
  });

  it('keeps to the asked types of subject', () => {
    const store = temporaryStore();
    appendAll(store, makeEntry(1), makeEntry(2, { subject: { type: 'wheel', id: WHEEL } }));
    const page = readLog(store, { site: SITE, after: 0, limit: 9, subjects: ['wheel', 'component'] });
    expect(page.entries.map((entry) => entry.seq)).toEqual([2]);
  });
});

describe('large bodies', () => {
  const large = (n: number, subject = 1) =>
    makeEntry(n, {
      subject: { type: 'inspection', id: inspectionId(subject) },
      body: { wheel: WHEEL, text: 'ü'.repeat(900_000) },
    });

  it('end a page of the log early, which is read on from there', () => {
    const store = temporaryStore();
    appendAll(store, ...[1, 2, 3, 4, 5].map((n) => large(n)));
    const places: number[][] = [];
    for (let after = 0, more = true; more; ) {
      const page = readLog(store, { site: SITE, after, limit: 100 });
      places.push(page.entries.map((entry) => entry.seq));
      after = page.next;
      more = page.more;
    }
    expect(places).toEqual([[1, 2], [3, 4], [5]]);
  });

  it('leave the oldest inspections in the book of a wheel with their lines alone', () => {
    const store = temporaryStore();
    appendAll(store, large(1, 3), large(2, 1), large(3, 2));
    const book = readWheelBook(store, SITE, WHEEL);
    expect(book?.more).toBe(true);
    expect(book?.inspections.map(({ id, line, entries }) => [id, line?.entryCount, entries.length])).toEqual([
      [inspectionId(1), 1, 1],
      [inspectionId(2), 1, 1],
      [inspectionId(3), 1, 0],
    ]);
  });
});

describe('the book of a wheel', () => {
  it('holds the wheel, its components and its inspections of that site alone', () => {
    const store = temporaryStore();
    appendAll(
      store,
      makeEntry(1, { subject: { type: 'wheel', id: WHEEL }, body: {} }),
      makeEntry(2, { subject: { type: 'component', id: inspectionId(5) } }),
      makeEntry(3),
      makeEntry(4, {
        subject: { type: 'inspection', id: inspectionId(6) },
        body: { wheel: inspectionId(7) },
      }),
      makeEntry(5, { site: OTHER_SITE }),
    );
    const book = readWheelBook(store, SITE, WHEEL);
    expect(book?.entries.map((entry) => entry.seq)).toEqual([1]);
    expect(book?.components.map(({ id, entries }) => [id, entries.length])).toEqual([[inspectionId(5), 1]]);
    expect(book?.inspections).toHaveLength(1);
    expect(book?.more).toBe(false);
    expect(book?.inspections[0]).toMatchObject({
      id: inspectionId(1),
      line: { wheel: WHEEL, entryCount: 1 },
    });
    expect(book?.inspections[0]?.entries.map((entry) => entry.seq)).toEqual([3]);
  });

  it('is not there for a wheel nothing speaks of', () => {
    expect(readWheelBook(temporaryStore(), SITE, WHEEL)).toBeUndefined();
  });
});

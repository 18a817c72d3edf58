import { describe, expect, it } from 'vitest';
import { fail, ok, problem } from '../../../lib/base/index.ts';
import {
  append,
  linkedSubjects,
  readLog,
  readSubject,
  StoreTrouble,
  verifyChains,
} from '../../../lib/store/server/index.ts';
import {
  appendAll,
  inspectionId,
  makeEntry,
  OTHER_SITE,
  options,
  SITE,
  temporaryStore,
  WHEEL,
} from './support.ts';

const log = (store: ReturnType<typeof temporaryStore>) =>
  readLog(store, { site: SITE, after: 0, limit: 10 }).entries.map((entry) => entry.id);

describe('an entry of a batch that cannot be handled', () => {
  const bug = new TypeError('a bug');

  it('is refused alone and logged, wherever it fails', () => {
    const store = temporaryStore();
    const logged: unknown[] = [];
    const failing = {
      ...options,
      accept: (entry: { kind: string }) => {
        if (entry.kind === 'poison') throw bug;
        return ok(undefined);
      },
      stored: (entry: { kind: string }) => {
        if (entry.kind === 'late poison') throw bug;
      },
      log: (entry: { id: string }, error: unknown) => logged.push([entry.id, error]),
    };
    const batch = [
      makeEntry(1),
      makeEntry(2, { kind: 'poison' }),
      makeEntry(3, { kind: 'late poison' }),
      makeEntry(4, { body: { not: Number.NaN } }),
      makeEntry(5),
    ];
    const outcomes = append(store, batch, failing);
    expect(outcomes.map(({ status }) => status)).toEqual([
      'stored',
      'refused',
      'refused',
      'refused',
      'stored',
    ]);
    expect(outcomes[1]).toMatchObject({
      problem: { code: 'entry-trouble', wayOut: expect.stringContaining(makeEntry(2).id) },
    });
    expect(logged.slice(0, 2)).toEqual([
      [makeEntry(2).id, bug],
      [makeEntry(3).id, bug],
    ]);
    expect(log(store)).toEqual([makeEntry(1).id, makeEntry(5).id]);
    expect(verifyChains(store).faults).toEqual([]);
    expect(appendAll(store, makeEntry(3))).toMatchObject([{ status: 'stored', seq: 3 }]);
  });

  it('because of the disk or the database takes the whole batch with it', () => {
    const store = temporaryStore();
    const trouble = new StoreTrouble('store-full', 'The disk is full');
    const troubled = {
      ...options,
      accept: (entry: { id: string }) => {
        if (entry.id === makeEntry(2).id) throw trouble;
        return ok(undefined);
      },
    };
    expect(() => append(store, [makeEntry(1), makeEntry(2)], troubled)).toThrow(trouble);
    expect(log(store)).toEqual([]);
  });
});

describe('acceptance that reads projections', () => {
  it('sees those of the entries before it in the same batch', () => {
    const store = temporaryStore();
    const component = inspectionId(9);
    const seen: string[][] = [];
    const batch = [
      makeEntry(1, { subject: { type: 'component', id: component } }),
      makeEntry(2, { kind: 'submit' }),
      makeEntry(3, { subject: { type: 'component', id: inspectionId(8) } }),
    ];
    append(store, batch, {
      ...options,
      readsProjections: (entry) => entry.kind === 'submit',
      accept: (entry) => {
        if (entry.kind === 'submit') seen.push(linkedSubjects(store, SITE, WHEEL, 'component'));
        return ok(undefined);
      },
    });
    expect(seen).toEqual([[component]]);
    expect(linkedSubjects(store, SITE, WHEEL, 'component')).toEqual([inspectionId(8), component]);
  });
});

describe('an id that is stored at another site', () => {
  const foreign = problem('site-unknown', 'site', '', 'There is no such site for you', 'Choose another.');
  const sender = {
    ...options,
    mayRead: (site: string) => site === OTHER_SITE,
    accept: (entry: { site: string }) => (entry.site === OTHER_SITE ? ok(undefined) : fail(foreign)),
  };

  it('is answered as any entry for a site of others, the same entry and another alike', () => {
    const store = temporaryStore();
    appendAll(store, makeEntry(1));
    const guesses = [makeEntry(1), makeEntry(1, { body: { text: 'a guess' } }), makeEntry(2)];
    for (const outcome of append(store, guesses, sender)) {
      expect(outcome).toMatchObject({ status: 'refused', problem: foreign });
    }
  });

  it('cannot be used again, and nothing is told of what it stands for', () => {
    const store = temporaryStore();
    appendAll(store, makeEntry(1));
    const [outcome] = append(store, [makeEntry(1, { site: OTHER_SITE })], sender);
    expect(outcome).toMatchObject({ status: 'refused', problem: { code: 'id-conflict' } });
    expect(readSubject(store, { site: OTHER_SITE, type: 'inspection', id: inspectionId(1) })).toEqual([]);
  });
});

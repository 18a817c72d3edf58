import { describe, expect, test } from 'vitest';
import {
  type Asked,
  askedIn,
  EMPTY_WORDS,
  narrowing,
  queueSearch,
  STATUSES,
  searchOf,
  WAITING,
} from '../../app/_screens/review/queueAsked.ts';

const FULL: Asked = {
  status: 'sent back',
  assigned: 'nobody',
  machine: 'Loader 3 & co',
  energy: '4',
  days: '7',
};

describe('what the queue is asked for', () => {
  test('is read from an address as it was written there', () => {
    for (const asked of [WAITING, FULL, { ...WAITING, status: 'third person', machine: 'ü/=?' } as const])
      expect(askedIn(searchOf(asked))).toEqual(asked);
    expect(searchOf(WAITING)).toBe('');
  });

  test('leaves away what an address says and nobody understands', () => {
    expect(askedIn('?status=everything&energy=much&days=-1')).toEqual(WAITING);
  });

  test('goes to the interface without what narrows nothing', () => {
    expect(queueSearch('s', WAITING, [])).toBe('site=s&status=submitted');
    expect(queueSearch('s', FULL, ['w1', 'w2'])).toBe(
      'site=s&status=sent+back&assigned=nobody&wheels=w1%2Cw2&energy=4&waitingDays=7',
    );
  });

  test('does not ask how long something waits that was reviewed', () => {
    const reviewed: Asked = { ...WAITING, status: 'concluded', days: '7' };
    expect(queueSearch('s', reviewed, [])).toBe('site=s&status=concluded');
    expect(narrowing(reviewed)).toBe(0);
  });

  test('counts its filters beside the state', () => {
    expect(narrowing(WAITING)).toBe(0);
    expect(narrowing({ ...WAITING, energy: '1' })).toBe(1);
    expect(narrowing(FULL)).toBe(4);
  });

  test('has words for every state when nothing is in it', () => {
    for (const status of STATUSES) expect(EMPTY_WORDS[status]).toMatch(/^[A-Z].*\.$/);
  });
});

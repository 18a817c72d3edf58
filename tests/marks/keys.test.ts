import { expect, test } from 'vitest';
import { eventOfKey, type WorkEvent } from '../../lib/marks/index.ts';

test.each<[string, boolean, WorkEvent | null]>([
  ['ArrowLeft', false, { kind: 'nudge', byPx: [-1, 0] }],
  ['ArrowDown', true, { kind: 'nudge', byPx: [0, 10] }],
  ['Delete', false, { kind: 'remove' }],
  ['Backspace', false, { kind: 'remove' }],
  ['Escape', false, { kind: 'cancel' }],
  ['Enter', false, { kind: 'finish' }],
  ['[', false, { kind: 'point', step: -1 }],
  [']', false, { kind: 'point', step: 1 }],
  ['a', false, null],
])('the key %s (shift %s) means %o', (key, shift, event) => {
  const meant = eventOfKey({ key, shift });
  // A minus zero is no other direction than a zero.
  expect(JSON.stringify(meant)).toBe(JSON.stringify(event));
});

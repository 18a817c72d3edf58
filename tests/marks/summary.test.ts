import { expect, test } from 'vitest';
import { type Shape, summaryOf, TOOLS, type WorkSummary } from '../../lib/marks/index.ts';
import { Hand } from './hand.ts';

function summary(hand: Hand): WorkSummary {
  const { marks, selected, readOnly } = hand;
  return summaryOf(hand.work, { marks, selected, readOnly, frame: { widthPx: 400, heightPx: 300 } });
}
const SPAN: Shape = {
  form: 'span',
  ends: [
    [50, 50],
    [150, 50],
  ],
};

test('finishing is offered from the point where the shape is whole', () => {
  const hand = new Hand('corrosion').tap([100, 100], [200, 100]);
  expect(summary(hand)).toMatchObject({ drawing: true, canFinish: false });
  expect(summary(hand.tap([200, 200]))).toMatchObject({ canFinish: true, finishGives: 'mark' });
});

test('finishing the centre line of a band leads on to its width', () => {
  const hand = new Hand('wear band').tap([50, 50], [150, 50]);
  expect(summary(hand)).toMatchObject({ canFinish: true, finishGives: 'width' });
  expect(summary(hand.do({ kind: 'finish' }))).toMatchObject({ canFinish: true, finishGives: 'mark' });
});

test('removing is offered for a selected mark that is there, and says when it means a point', () => {
  const hand = new Hand('look', [{ mark: 'm', shape: SPAN }]);
  expect(summary(hand).canRemove).toBe(false);
  hand.selected = 'm';
  expect(summary(hand)).toMatchObject({ canRemove: true, pointChosen: false });
  expect(summary(hand.tap([50, 50]))).toMatchObject({ canRemove: true, pointChosen: true });
  hand.selected = 'gone';
  expect(summary(hand)).toMatchObject({ canRemove: false, pointChosen: false });
});

test('every drawing tool says what to do first, and a photo only to be read says nothing', () => {
  for (const tool of TOOLS) {
    const hand = new Hand(tool);
    expect(summary(hand).hint === '').toBe(tool === 'look');
    hand.readOnly = true;
    expect(summary(hand).hint).toBe('');
  }
});

test('an angle is asked for arm, vertex, arm, and ends by itself', () => {
  const hand = new Hand('angle');
  expect(summary(hand).hint).toContain('one line');
  expect(summary(hand.tap([160, 100])).hint).toContain('vertex');
  expect(summary(hand.tap([100, 100]))).toMatchObject({
    canFinish: false,
    hint: expect.stringContaining('other line'),
  });
  expect(summary(hand.tap([100, 180]))).toMatchObject({ drawing: false });
});

test('the advice tells what lifting the finger would do', () => {
  const close = new Hand('corrosion').tap([100, 100], [200, 100], [200, 200]).down([101, 101]);
  expect(summary(close).hint).toBe('Lift to close the outline');
  const branch = new Hand('crack').tap([10, 50], [60, 50], [110, 50]).down([60, 50]);
  expect(summary(branch).hint).toBe('Lift to start a branch here');
});

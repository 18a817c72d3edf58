import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  holdsPointer,
  linesOf,
  loupeAt,
  Shape,
  TOOLS,
  type Tool,
  type WorkEvent,
} from '../../lib/marks/index.ts';
import { Hand } from './hand.ts';
import { ANGLE, anyPoint, PATCH, SEED } from './make.ts';

const CRACK: Shape = {
  form: 'trace',
  branches: [
    [
      [10, 50],
      [60, 50],
      [110, 50],
    ],
  ],
};

function handOn(shape: Shape): Hand {
  const hand = new Hand('look', [{ mark: 'm', shape }]);
  hand.selected = 'm';
  return hand;
}

describe('drawing', () => {
  test('a spot is drawn by one tap', () => {
    const hand = new Hand('spot').tap([30, 40]);
    expect(hand.told).toEqual([{ kind: 'drawn', shape: { form: 'spot', at: [30, 40] }, tool: 'spot' }]);
    expect(hand.work.draft).toBeNull();
  });

  test('a span is drawn by its two ends', () => {
    const hand = new Hand('span').tap([30, 40], [90, 40]);
    expect(hand.told).toMatchObject([
      {
        kind: 'drawn',
        shape: {
          ends: [
            [30, 40],
            [90, 40],
          ],
        },
      },
    ]);
  });

  test('an angle is drawn by the end of one arm, the vertex and the end of the other', () => {
    const two = new Hand('angle').tap([160, 100], [100, 100]);
    expect(two.told).toEqual([]);
    expect(two.tap([100, 180]).told).toEqual([{ kind: 'drawn', shape: ANGLE, tool: 'angle' }]);
    expect(two.work.draft).toBeNull();
  });

  test('an angle whose third point falls on the vertex is not taken: the tap sets none', () => {
    const hand = new Hand('angle').tap([160, 100], [100, 100], [101, 100]);
    expect(hand.told).toEqual([]);
    expect(hand.work.draft?.lines).toEqual([
      [
        [160, 100],
        [100, 100],
      ],
    ]);
  });

  test('a point is set where the finger lifts, not where it came down', () => {
    const hand = new Hand('spot').drag([30, 40], [50, 44], [61, 47]);
    expect(hand.told).toMatchObject([{ kind: 'drawn', shape: { at: [61, 47] } }]);
  });

  test('a touch taken away for panning sets no point and keeps those before it', () => {
    const hand = new Hand('crack').tap([10, 10], [60, 10]).down([90, 10]).do({ kind: 'drop' });
    expect(hand.work.draft?.lines).toEqual([
      [
        [10, 10],
        [60, 10],
      ],
    ]);
    const first = new Hand('crack').down([90, 10]).do({ kind: 'drop' });
    expect(first.work.draft).toBeNull();
  });

  test('a second tap on the last point adds nothing', () => {
    const hand = new Hand('crack').tap([10, 10], [60, 10], [61, 11]);
    expect(hand.work.draft?.lines).toEqual([
      [
        [10, 10],
        [60, 10],
      ],
    ]);
  });

  test('a crack takes a branch from one of its points and another from its line', () => {
    const hand = new Hand('crack').tap(
      [10, 50],
      [60, 50],
      [160, 50],
      [61, 51],
      [60, 90],
      [110, 52],
      [110, 10],
    );
    hand.do({ kind: 'finish' });
    expect(hand.told).toMatchObject([
      {
        kind: 'drawn',
        shape: {
          form: 'trace',
          branches: [
            [
              [10, 50],
              [60, 50],
              [110, 50],
              [160, 50],
            ],
            [
              [60, 50],
              [60, 90],
            ],
            [
              [110, 50],
              [110, 10],
            ],
          ],
        },
      },
    ]);
  });

  test('a branch that was begun and not drawn is no part of the crack', () => {
    const hand = new Hand('crack').tap([10, 50], [60, 50], [110, 50], [60, 50]).do({ kind: 'finish' });
    expect(hand.told).toMatchObject([{ shape: CRACK }]);
  });

  test('an outline closes at its first point, at the edge of the reach for closing and not beyond', () => {
    const within = new Hand('corrosion').tap([100, 100], [200, 100], [200, 200], [106, 100]);
    expect(within.told).toMatchObject([{ kind: 'drawn', shape: { form: 'patch' } }]);
    const beyond = new Hand('corrosion').tap([100, 100], [200, 100], [200, 200], [106.1, 108]);
    expect(beyond.told).toEqual([]);
    expect(beyond.work.draft?.lines[0]).toHaveLength(4);
  });

  test('two points do not close an outline', () => {
    const hand = new Hand('corrosion').tap([100, 100], [200, 100]).do({ kind: 'finish' });
    expect(hand.told).toEqual([]);
    expect(hand.work.draft).not.toBeNull();
  });

  test('an outline that crosses itself is refused and can be mended', () => {
    const hand = new Hand('bent').tap([100, 100], [200, 200], [200, 100], [100, 200]).do({ kind: 'finish' });
    expect(hand.told).toMatchObject([{ kind: 'refused', problem: { code: 'outline-crosses' } }]);
    hand.do({ kind: 'back' }).do({ kind: 'finish' });
    expect(hand.told.at(-1)).toMatchObject({
      kind: 'drawn',
      shape: {
        outline: [
          [100, 100],
          [200, 200],
          [200, 100],
        ],
      },
    });
  });

  test('a band gets its centre line, then its width from the distance of the finger', () => {
    const hand = new Hand('wear band').tap([50, 50], [150, 50]).do({ kind: 'finish' });
    expect(hand.told).toEqual([]);
    hand.drag([100, 55], [100, 58], [100, 62]).do({ kind: 'finish' });
    expect(hand.told).toEqual([
      {
        kind: 'drawn',
        tool: 'wear band',
        shape: {
          form: 'band',
          centreLine: [
            [50, 50],
            [150, 50],
          ],
          widthPx: 24,
        },
      },
    ]);
  });

  test('a point of the draft can be dragged to a better place', () => {
    const hand = new Hand('crack').tap([10, 10], [60, 10], [110, 10]).drag([60, 10], [64, 20], [66, 30]);
    expect(hand.work.draft?.lines).toEqual([
      [
        [10, 10],
        [66, 30],
        [110, 10],
      ],
    ]);
    hand.do({ kind: 'back' });
    expect(hand.work.draft?.lines).toEqual([
      [
        [10, 10],
        [60, 10],
        [110, 10],
      ],
    ]);
  });

  test('steps are taken back one by one down to nothing', () => {
    const hand = new Hand('crack').tap([10, 10], [60, 10]);
    hand.do({ kind: 'back' });
    expect(hand.work.draft?.lines).toEqual([[[10, 10]]]);
    hand.do({ kind: 'back' }).do({ kind: 'back' });
    expect(hand.work.draft?.lines.flat() ?? []).toEqual([]);
  });

  test('cancelling leaves nothing behind and tells nothing', () => {
    const hand = new Hand('pitting').tap([100, 100], [200, 100], [200, 200]).do({ kind: 'cancel' });
    expect(hand.work.draft).toBeNull();
    expect(hand.told).toEqual([]);
  });

  test('another tool finishes what is whole and drops what is not', () => {
    const whole = new Hand('crack').tap([10, 50], [60, 50], [110, 50]).do({ kind: 'tool', tool: 'look' });
    expect(whole.told).toMatchObject([{ kind: 'drawn', shape: CRACK, tool: 'crack' }]);
    const part = new Hand('crack').tap([10, 50]).do({ kind: 'tool', tool: 'spot' });
    expect(part.told).toEqual([]);
    expect(part.work).toMatchObject({ tool: 'spot', draft: null });
  });

  test('nothing is drawn on a photo that is only to be read', () => {
    const hand = new Hand('spot');
    hand.readOnly = true;
    expect(hand.tap([30, 30]).told).toEqual([]);
  });
});

describe('editing', () => {
  test('dragging a point moves it by as much as the finger moved', () => {
    const hand = handOn(PATCH).drag([103, 98], [110, 105], [123, 118]);
    expect(hand.told).toEqual([
      {
        kind: 'redrawn',
        mark: 'm',
        shape: {
          form: 'patch',
          outline: [
            [120, 120],
            [200, 100],
            [200, 200],
            [100, 200],
          ],
        },
      },
    ]);
  });

  test('a tap on a point chooses it and changes nothing', () => {
    const hand = handOn(PATCH).tap([101, 101]);
    expect(hand.told).toEqual([]);
    expect(hand.work.point).toEqual({ mark: 'm', ref: { line: 0, index: 0 } });
  });

  test('dragging the line moves the whole mark', () => {
    const hand = handOn(PATCH).drag([125, 100], [135, 110], [145, 130]);
    expect(hand.told).toMatchObject([
      {
        kind: 'redrawn',
        shape: {
          outline: [
            [120, 130],
            [220, 130],
            [220, 230],
            [120, 230],
          ],
        },
      },
    ]);
  });

  test('dragging inside an outline is left to the photo', () => {
    const hand = handOn(PATCH).down([150, 150]);
    expect(holdsPointer(hand.work)).toBe(false);
    expect(hand.move([170, 150]).up([170, 150]).told).toEqual([]);
  });

  test('the middle of a side gives a new point', () => {
    const hand = handOn(PATCH).drag([150, 100], [150, 90], [150, 80]);
    expect(hand.told).toMatchObject([
      {
        shape: {
          outline: [
            [100, 100],
            [150, 80],
            [200, 100],
            [200, 200],
            [100, 200],
          ],
        },
      },
    ]);
  });

  test('the width handle changes the width by twice its way', () => {
    const band: Shape = {
      form: 'band',
      centreLine: [
        [50, 50],
        [150, 50],
      ],
      widthPx: 20,
    };
    const hand = handOn(band).drag([100, 70], [100, 75], [100, 80]);
    expect(hand.told).toMatchObject([{ kind: 'redrawn', shape: { widthPx: 40 } }]);
  });

  test('a change that would cross an outline is refused and the mark stays', () => {
    const hand = handOn(PATCH).drag([100, 100], [150, 150], [230, 150]);
    expect(hand.told).toMatchObject([{ kind: 'refused', problem: { code: 'outline-crosses' } }]);
    expect(hand.marks).toEqual([{ mark: 'm', shape: PATCH }]);
  });

  test('cancelling a drag gives the mark back as it was', () => {
    const hand = handOn(PATCH).down([100, 100]).move([130, 130]).do({ kind: 'cancel' }).up([130, 130]);
    expect(hand.told).toEqual([]);
    expect(hand.work.edit).toBeNull();
  });

  test('a long press removes a point when the finger lifts, and keeps it when the finger moves on', () => {
    const lifted = handOn(PATCH).down([100, 100]).do({ kind: 'long' }).up([100, 100]);
    expect(lifted.told).toMatchObject([
      {
        kind: 'redrawn',
        shape: {
          outline: [
            [200, 100],
            [200, 200],
            [100, 200],
          ],
        },
      },
    ]);
    const moved = handOn(PATCH).down([100, 100]).do({ kind: 'long' }).move([110, 110]).up([110, 110]);
    expect(moved.told).toMatchObject([
      {
        shape: {
          outline: [
            [110, 110],
            [200, 100],
            [200, 200],
            [100, 200],
          ],
        },
      },
    ]);
  });

  test('removing means the chosen point, and the whole mark when none is chosen', () => {
    const point = handOn(PATCH).tap([200, 200]).do({ kind: 'remove' });
    expect(point.told).toMatchObject([
      {
        kind: 'redrawn',
        shape: {
          outline: [
            [100, 100],
            [200, 100],
            [100, 200],
          ],
        },
      },
    ]);
    expect(handOn(PATCH).do({ kind: 'remove' }).told).toEqual([{ kind: 'withdrawn', mark: 'm' }]);
  });

  test('a point too few is refused with the way out', () => {
    const span: Shape = {
      form: 'span',
      ends: [
        [50, 50],
        [150, 50],
      ],
    };
    const hand = handOn(span).tap([50, 50]).do({ kind: 'remove' });
    expect(hand.told).toMatchObject([{ kind: 'refused', problem: { code: 'points-min' } }]);
  });

  test('an arm dragged onto its vertex is refused and goes back', () => {
    const hand = handOn(ANGLE).drag([160, 100], [130, 100], [100, 100]);
    expect(hand.told).toMatchObject([{ kind: 'refused', problem: { code: 'arm-no-length' } }]);
    expect(hand.marks).toEqual([{ mark: 'm', shape: ANGLE }]);
  });

  test('nudges add up and are told once, when they settle', () => {
    const hand = handOn(PATCH).do({ kind: 'point', step: 1 });
    for (let i = 0; i < 3; i += 1) hand.do({ kind: 'nudge', byPx: [1, 0] });
    expect(hand.told).toEqual([]);
    hand.do({ kind: 'settle' });
    expect(hand.told).toMatchObject([
      {
        shape: {
          outline: [
            [103, 100],
            [200, 100],
            [200, 200],
            [100, 200],
          ],
        },
      },
    ]);
  });

  test('nudges without a chosen point move the whole mark, and cancel takes them back', () => {
    const hand = handOn(PATCH).do({ kind: 'nudge', byPx: [0, 10] });
    expect(hand.work.edit?.shape).toMatchObject({
      outline: [
        [100, 110],
        [200, 110],
        [200, 210],
        [100, 210],
      ],
    });
    hand.do({ kind: 'cancel' }).do({ kind: 'settle' });
    expect(hand.told).toEqual([]);
  });

  test('choosing points goes round in both directions', () => {
    const hand = handOn(PATCH).do({ kind: 'point', step: -1 });
    expect(hand.work.point?.ref).toEqual({ line: 0, index: 3 });
    hand.do({ kind: 'point', step: 1 });
    expect(hand.work.point?.ref).toEqual({ line: 0, index: 0 });
  });

  test('a photo that is only to be read lets marks be selected and nothing else', () => {
    const hand = handOn(PATCH);
    hand.readOnly = true;
    hand.selected = null;
    hand
      .tap([100, 100])
      .drag([100, 100], [130, 130])
      .do({ kind: 'remove' })
      .do({ kind: 'nudge', byPx: [1, 1] });
    expect(hand.told).toEqual([{ kind: 'selected', mark: 'm' }]);
  });
});

describe('selecting', () => {
  test('a tap selects the mark under it, a tap beside lets go', () => {
    const hand = new Hand('look', [{ mark: 'm', shape: CRACK }]).tap([60, 52], [300, 200]);
    expect(hand.told).toEqual([
      { kind: 'selected', mark: 'm' },
      { kind: 'selected', mark: null },
    ]);
  });

  test('a drag selects nothing', () => {
    const hand = new Hand('look', [{ mark: 'm', shape: CRACK }]).drag([60, 52], [70, 60], [60, 52]);
    expect(hand.told).toEqual([]);
  });

  test('the loupe looks at the point in hand, not at the finger', () => {
    expect(loupeAt(handOn(PATCH).down([104, 97]).work)).toEqual([100, 100]);
    expect(loupeAt(new Hand('crack').down([30, 31]).work)).toEqual([30, 31]);
    expect(loupeAt(new Hand('look').down([30, 31]).work)).toBeNull();
  });
});

const reachPx = 12;
const anyDoing: fc.Arbitrary<WorkEvent[]> = fc.oneof(
  {
    weight: 6,
    arbitrary: anyPoint.map((at): WorkEvent[] => [
      { kind: 'down', at, reachPx },
      { kind: 'up', at, reachPx },
    ]),
  },
  {
    weight: 4,
    arbitrary: fc.tuple(fc.constantFrom(...PATCH.outline), anyPoint).map(([from, to]): WorkEvent[] => [
      { kind: 'down', at: from, reachPx },
      { kind: 'move', at: to, reachPx },
      { kind: 'up', at: to, reachPx },
    ]),
  },
  { weight: 3, arbitrary: fc.constant<WorkEvent[]>([{ kind: 'finish' }]) },
  fc
    .record({
      kind: fc.constantFrom('down', 'move', 'up', 'hover'),
      at: anyPoint,
      reachPx: fc.constant(reachPx),
    })
    .map((event): WorkEvent[] => [event]),
  fc
    .constantFrom('long', 'drop', 'cancel', 'back', 'remove', 'settle')
    .map((kind): WorkEvent[] => [{ kind }]),
  fc.record({ kind: fc.constant('nudge'), byPx: anyPoint }).map((event): WorkEvent[] => [event]),
  fc
    .record({ kind: fc.constant('point'), step: fc.constantFrom(1, -1) })
    .map((event): WorkEvent[] => [event]),
  fc
    .record({ kind: fc.constant('tool'), tool: fc.constantFrom(...TOOLS) })
    .map((event): WorkEvent[] => [event]),
);

test('whatever the hand does, every shape told is one the record accepts, inside the photo', () => {
  const shapes = { drawn: 0, redrawn: 0 };
  fc.assert(
    fc.property(
      fc.constantFrom(...TOOLS),
      fc.array(anyDoing, { minLength: 5, maxLength: 40 }),
      (tool: Tool, doings) => {
        const hand = new Hand(tool, [
          { mark: 'm', shape: PATCH },
          { mark: 'n', shape: CRACK },
        ]);
        hand.selected = 'm';
        for (const event of doings.flat()) hand.do(event);
        for (const outcome of hand.told) {
          if (outcome.kind !== 'drawn' && outcome.kind !== 'redrawn') continue;
          shapes[outcome.kind] += 1;
          expect(Shape.safeParse(outcome.shape).success).toBe(true);
          for (const [x, y] of linesOf(outcome.shape).flatMap(({ points }) => points)) {
            expect(Math.abs(x - 199.5)).toBeLessThanOrEqual(200);
            expect(Math.abs(y - 149.5)).toBeLessThanOrEqual(150);
          }
        }
      },
    ),
    { seed: SEED, numRuns: 1500 },
  );
  expect(shapes.drawn).toBeGreaterThan(500);
  expect(shapes.redrawn).toBeGreaterThan(150);
});

import { describe, expect, test } from 'vitest';
import { alike, type PointPx, pairMarks, type Shape } from '../../lib/marks/index.ts';

const trace = (...points: PointPx[]): Shape => ({ form: 'trace', branches: [points] });
const square = (x: number, y: number, side: number): Shape => ({
  form: 'patch',
  outline: [
    [x, y],
    [x + side, y],
    [x + side, y + side],
    [x, y + side],
  ],
});

describe('how alike two shapes are', () => {
  test('a shape is nowhere away from itself and overlaps itself whole', () => {
    expect(alike(square(10, 10, 100), square(10, 10, 100))).toMatchObject({
      meanPx: 0,
      farthestPx: 0,
      overlap: 1,
    });
  });

  test('parallel lines are their distance apart at every point', () => {
    const a = trace([0, 0], [300, 0]);
    const b = trace([0, 7], [300, 7]);
    expect(alike(a, b).meanPx).toBeCloseTo(7, 9);
    expect(alike(a, b).farthestPx).toBeCloseTo(7, 9);
    expect(alike(a, b).overlap).toBeNull();
  });

  test('a trace that is followed twice as far: near one way, far the other (closed form)', () => {
    const { toSecondPx, toFirstPx, farthestPx } = alike(trace([0, 0], [100, 0]), trace([0, 0], [200, 0]));
    expect(toSecondPx).toBe(0);
    // Half of the longer lies on the shorter, the other half is 0 to 100 px beyond its end: on average 25 px.
    expect(toFirstPx).toBeCloseTo(25, 0);
    expect(farthestPx).toBe(100);
  });

  test('squares shifted by half a side share a third of what they cover (closed form)', () => {
    expect(alike(square(0, 0, 100), square(50, 0, 100)).overlap).toBeCloseTo(1 / 3, 9);
    expect(alike(square(0, 0, 100), square(50, 50, 100)).overlap).toBeCloseTo(1 / 7, 9);
    expect(alike(square(0, 0, 100), square(500, 0, 100)).overlap).toBe(0);
  });

  test('a hole in what two outlines make together is not counted: a frame of four strips about a square', () => {
    const ring: Shape = {
      form: 'patch',
      outline: [
        [0, 0],
        [30, 0],
        [30, 30],
        [0, 30],
        [0, 10],
        [10, 10],
        [10, 20],
        [20, 20],
        [20, 10],
        [0, 10],
      ],
    };
    // 900 px² less the inner square of 100 px².
    expect(alike(ring, square(0, 0, 30)).overlap).toBeCloseTo(800 / 900, 9);
  });

  test('a band has the area of its strip', () => {
    const band: Shape = {
      form: 'band',
      centreLine: [
        [0, 50],
        [100, 50],
      ],
      widthPx: 100,
    };
    expect(alike(band, square(0, 0, 100)).overlap).toBeCloseTo(1, 9);
  });

  test('it does not matter whose shape is named first', () => {
    const [a, b] = [trace([0, 0], [80, 30], [150, 10]), square(20, 5, 60)];
    const [there, back] = [alike(a, b), alike(b, a)];
    expect(there.meanPx).toBeCloseTo(back.meanPx, 9);
    expect(there.farthestPx).toBe(back.farthestPx);
    expect(there.toFirstPx).toBe(back.toSecondPx);
  });
});

describe('pairing the marks of two people', () => {
  const mark = (name: string, shape: Shape, defect: string | null = 'crack', photo = 'p') => ({
    name,
    shape,
    defect,
    photo,
  });
  const names = (pairs: ReturnType<typeof pairMarks<ReturnType<typeof mark>>>) =>
    pairs.map(({ first, second }) => [first?.name ?? null, second?.name ?? null]);

  test('the nearest of the same kind are one thing; what has no fellow stands alone', () => {
    const first = [mark('a', trace([0, 0], [100, 0])), mark('b', trace([0, 400], [100, 400]))];
    const second = [mark('c', trace([0, 404], [100, 404])), mark('d', trace([0, 3], [180, 3]))];
    expect(names(pairMarks(first, second))).toEqual([
      ['a', 'd'],
      ['b', 'c'],
    ]);
    expect(names(pairMarks(first, second.slice(1)))).toEqual([
      ['a', 'd'],
      ['b', null],
    ]);
    expect(names(pairMarks([], second))).toEqual([
      [null, 'c'],
      [null, 'd'],
    ]);
  });

  test('marks of different photos, or of a defect and of a measure, are never one thing', () => {
    const line = trace([0, 0], [100, 0]);
    expect(names(pairMarks([mark('a', line)], [mark('b', line, 'crack', 'q')]))).toHaveLength(2);
    expect(names(pairMarks([mark('a', line)], [mark('b', line, null)]))).toHaveLength(2);
  });

  test('one place named differently is one thing, unless there is one that is named alike', () => {
    const corrosion = mark('a', square(0, 0, 100), 'corrosion');
    const pitting = mark('b', square(2, 0, 100), 'pitting');
    const same = mark('c', square(30, 0, 100), 'corrosion');
    expect(names(pairMarks([corrosion], [pitting]))).toEqual([['a', 'b']]);
    expect(names(pairMarks([corrosion], [pitting, same]))).toEqual([
      ['a', 'c'],
      [null, 'b'],
    ]);
  });

  test('near is half the extent of the smaller mark, and 20 px for the smallest', () => {
    const long = trace([0, 0], [200, 0]);
    expect(names(pairMarks([mark('a', long)], [mark('b', trace([0, 99], [200, 99]))]))).toHaveLength(1);
    expect(names(pairMarks([mark('a', long)], [mark('b', trace([0, 101], [200, 101]))]))).toHaveLength(2);
    const spot = (x: number): Shape => ({ form: 'spot', at: [x, 0] });
    expect(names(pairMarks([mark('a', spot(0))], [mark('b', spot(20))]))).toHaveLength(1);
    expect(names(pairMarks([mark('a', spot(0))], [mark('b', spot(21))]))).toHaveLength(2);
  });
});

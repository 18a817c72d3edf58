import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { Easel } from '../../app/_canvas/easel.ts';
import { pressKey } from '../../app/_canvas/key-hand.ts';
import { loupeTarget } from '../../app/_canvas/loupe.ts';
import type { PhotoCanvasProps, PhotoMark, ScaleGuide } from '../../app/_canvas/types.ts';
import type { PointPx } from '../../lib/marks/index.ts';
import { PATCH } from '../marks/make.ts';

const PORT = { width: 400, height: 300 };
const MARK: PhotoMark = { mark: 'm', defect: 'corrosion', shape: PATCH };

function props(changes: Partial<PhotoCanvasProps> = {}): PhotoCanvasProps {
  return {
    photoUrl: 'blob:none',
    widthPx: 400,
    heightPx: 300,
    name: 'gutter',
    marks: [MARK],
    selected: null,
    tool: 'look',
    onDrawn: vi.fn(),
    onRedrawn: vi.fn(),
    onWithdraw: vi.fn(),
    onSelect: vi.fn(),
    onUndo: vi.fn(),
    onRedo: vi.fn(),
    onWork: vi.fn(),
    ...changes,
  };
}

function easelWith(now: PhotoCanvasProps): Easel {
  const easel = new Easel(now, 'mouse');
  easel.attach({ moved: () => undefined, redraw: () => undefined });
  easel.setPort(PORT);
  return easel;
}

/** Where a place of the photo lies on the screen: at full size pixel centres lie half a pixel in. */
function onScreen([x, y]: PointPx): PointPx {
  return [x + 0.5, y + 0.5];
}

function tap(easel: Easel, at: PointPx): void {
  easel.point('down', onScreen(at), 'mouse');
  easel.point('up', onScreen(at), 'mouse');
}

function key(easel: Easel, name: string, held: { shift?: boolean; command?: boolean } = {}): boolean {
  return pressKey(easel, { key: name, shift: held.shift === true, command: held.command === true });
}

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('pointing', () => {
  test('a place of the screen becomes the place of the photo under it', () => {
    const now = props({ tool: 'spot' });
    tap(easelWith(now), [30, 40]);
    expect(now.onDrawn).toHaveBeenCalledExactlyOnceWith({ form: 'spot', at: [30, 40] }, 'spot');
  });

  test('a tap on a mark asks for its selection and changes nothing by itself', () => {
    const now = props();
    const easel = easelWith(now);
    tap(easel, [150, 100]);
    expect(now.onSelect).toHaveBeenCalledExactlyOnceWith('m');
    expect(easel.scene.selected).toBeNull();
  });

  test('the page is told of the work when it changes and not with every movement', () => {
    const now = props({ tool: 'crack' });
    const easel = easelWith(now);
    tap(easel, [30, 40]);
    const calls = vi.mocked(now.onWork ?? vi.fn()).mock.calls.length;
    for (let x = 100; x < 200; x += 1) easel.point('hover', onScreen([x, 200]), 'mouse');
    expect(vi.mocked(now.onWork ?? vi.fn()).mock.calls.length).toBe(calls);
  });
});

describe('keys', () => {
  test('nudges are told once, when the keys have been still for a while', () => {
    const now = props({ selected: 'm' });
    const easel = easelWith(now);
    key(easel, 'ArrowRight');
    vi.advanceTimersByTime(500);
    key(easel, 'ArrowRight');
    vi.advanceTimersByTime(500);
    expect(now.onRedrawn).not.toHaveBeenCalled();
    vi.advanceTimersByTime(300);
    expect(now.onRedrawn).toHaveBeenCalledExactlyOnceWith('m', {
      form: 'patch',
      outline: [
        [102, 100],
        [202, 100],
        [202, 200],
        [102, 200],
      ],
    });
  });

  test('an open nudge is told before the selection goes elsewhere', () => {
    const now = props({ selected: 'm' });
    const easel = easelWith(now);
    key(easel, 'ArrowDown', { shift: true });
    easel.accept({ ...now, selected: null });
    expect(now.onRedrawn).toHaveBeenCalledOnce();
  });

  test('undo takes back the step of a draft first, and only then asks the record', () => {
    const now = props({ tool: 'crack' });
    const easel = easelWith(now);
    tap(easel, [30, 40]);
    tap(easel, [90, 40]);
    key(easel, 'z', { command: true });
    expect(easel.work.draft?.lines).toEqual([[[30, 40]]]);
    expect(now.onUndo).not.toHaveBeenCalled();
    key(easel, 'Escape');
    key(easel, 'z', { command: true });
    expect(now.onUndo).toHaveBeenCalledOnce();
    key(easel, 'Z', { command: true, shift: true });
    expect(now.onRedo).toHaveBeenCalledOnce();
  });

  test('arrows move the photo when no mark is selected, and foreign keys are left alone', () => {
    const easel = easelWith(props());
    easel.zoomTo(4);
    const { x } = easel.view;
    expect(key(easel, 'ArrowRight')).toBe(true);
    expect(easel.view.x).toBe(x - 24);
    expect(key(easel, 'q')).toBe(false);
    expect(key(easel, 's', { command: true })).toBe(false);
  });
});

describe('the record', () => {
  test('a mark stays where the hand left it while the record works, and goes back if that fails', async () => {
    let refuse: (cause: Error) => void = () => undefined;
    const answer = new Promise<void>((_, reject) => {
      refuse = reject;
    });
    const unhandled: unknown[] = [];
    const listener = (cause: unknown): void => {
      unhandled.push(cause);
    };
    const others = process.listeners('unhandledRejection');
    process.removeAllListeners('unhandledRejection');
    process.on('unhandledRejection', listener);
    try {
      const easel = easelWith(props({ selected: 'm', onRedrawn: () => answer }));
      key(easel, 'ArrowRight');
      easel.settle();
      expect(easel.shown[0]?.shape).not.toEqual(MARK.shape);
      refuse(new Error('the disk is full'));
      vi.useRealTimers();
      await new Promise((resolve) => setTimeout(resolve, 10));
      expect(easel.shown[0]?.shape).toEqual(MARK.shape);
      // The failure is not swallowed: it still reaches whoever watches over failures.
      expect(unhandled).toEqual([new Error('the disk is full')]);
    } finally {
      process.off('unhandledRejection', listener);
      for (const other of others) process.on('unhandledRejection', other);
    }
  });

  test('a suggestion is labelled as one', () => {
    const easel = easelWith(props({ marks: [MARK, { ...MARK, mark: 'n', suggested: true }] }));
    expect(easel.shown.map(({ label }) => label)).toEqual(['corrosion', '? corrosion']);
  });
});

describe('the scale', () => {
  function guide(points: PointPx[]) {
    const onChange = vi.fn<ScaleGuide['onChange']>();
    return { points, wanted: 2 as const, editable: true, onChange };
  }

  test('taps set the missing points before any tool gets them', () => {
    const scaleGuide = guide([]);
    const now = props({ tool: 'spot', scaleGuide });
    const easel = easelWith(now);
    tap(easel, [30, 40]);
    tap(easel, [90, 40]);
    expect(scaleGuide.onChange.mock.calls).toEqual([
      [[[30, 40]]],
      [
        [
          [30, 40],
          [90, 40],
        ],
      ],
    ]);
    tap(easel, [150, 40]);
    expect(now.onDrawn).toHaveBeenCalledOnce();
  });

  test('a drag moves a point by as much as the pointer moved, and arrows nudge it', () => {
    const scaleGuide = guide([
      [30, 40],
      [90, 40],
    ]);
    const easel = easelWith(props({ scaleGuide }));
    easel.point('down', onScreen([33, 41]), 'mouse');
    easel.point('move', onScreen([43, 51]), 'mouse');
    easel.point('up', onScreen([43, 51]), 'mouse');
    expect(scaleGuide.onChange).toHaveBeenLastCalledWith([
      [40, 50],
      [90, 40],
    ]);
    key(easel, 'ArrowUp');
    expect(scaleGuide.onChange).toHaveBeenLastCalledWith([
      [40, 49],
      [90, 40],
    ]);
  });

  test('a second finger takes back a point being set', () => {
    const scaleGuide = guide([]);
    const easel = easelWith(props({ scaleGuide }));
    easel.point('down', onScreen([33, 41]), 'touch');
    expect(loupeTarget(easel)).toEqual([33, 41]);
    easel.drop();
    easel.point('up', onScreen([33, 41]), 'touch');
    expect(scaleGuide.onChange).not.toHaveBeenCalled();
    expect(loupeTarget(easel)).toBeNull();
  });
});

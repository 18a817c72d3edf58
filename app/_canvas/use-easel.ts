import type Konva from 'konva';
import {
  type RefObject,
  useEffect,
  useImperativeHandle,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
} from 'react';
import type { Problem } from '../../lib/base/index.ts';
import { Easel } from './easel.ts';
import { Gestures } from './gestures.ts';
import { handleOf } from './handle.ts';
import type { StageRefs } from './StageLayers.tsx';
import type { PhotoCanvasProps } from './types.ts';
import type { Port } from './view.ts';

const NOTE_MS = 6000;

/** Everything the canvas component needs of its easel. */
export interface EaselParts {
  readonly easel: Easel;
  /** The element that takes pointers and keys. */
  readonly surface: RefObject<HTMLDivElement | null>;
  readonly refs: StageRefs;
  readonly port: Port;
  /** Why the last doing was refused; empty again after a while. */
  readonly note: string;
}

/** Makes the easel, tells it the props of each rendering, and ties it to the stage, the pointers and the size. */
export function useEasel(props: PhotoCanvasProps): EaselParts {
  const [easel] = useState(
    () => new Easel(props, window.matchMedia('(pointer: coarse)').matches ? 'touch' : 'mouse'),
  );
  const surface = useRef<HTMLDivElement>(null);
  const refs = useStageRefs();
  const [note, showNote] = useNote();
  const port = useSurface(easel, surface);

  useLayoutEffect(() => {
    const { onRefused } = props;
    easel.accept({
      ...props,
      onRefused: (problem: Problem) => {
        showNote(`${problem.message}. ${problem.wayOut}`);
        onRefused?.(problem);
      },
    });
  });
  useLayoutEffect(
    () =>
      easel.attach({
        moved: ({ x, y, scale }) => {
          refs.stage.current?.setAttrs({ x, y, scaleX: scale, scaleY: scale });
        },
        redraw: (layer) => {
          refs[layer].current?.batchDraw();
        },
      }),
    [easel, refs],
  );
  useImperativeHandle(props.handle, () => handleOf(easel, () => surface.current?.focus()), [easel]);
  return { easel, surface, refs, port, note };
}

function useStageRefs(): StageRefs {
  const stage = useRef<Konva.Stage>(null);
  const photo = useRef<Konva.Layer>(null);
  const rest = useRef<Konva.Layer>(null);
  const active = useRef<Konva.Layer>(null);
  const loupe = useRef<HTMLCanvasElement>(null);
  return useMemo(() => ({ stage, photo, rest, active, loupe }), []);
}

/** Follows the size of the surface and its pointers. */
function useSurface(easel: Easel, surface: RefObject<HTMLDivElement | null>): Port {
  const [port, setPort] = useState<Port>({ width: 1, height: 1 });
  useLayoutEffect(() => {
    const element = surface.current;
    if (!element) return;
    const measure = (): void => {
      const size = { width: Math.max(1, element.clientWidth), height: Math.max(1, element.clientHeight) };
      easel.setPort(size);
      setPort(size);
    };
    measure();
    const watcher = new ResizeObserver(measure);
    watcher.observe(element);
    const detach = new Gestures(element, easel).attach();
    return () => {
      watcher.disconnect();
      detach();
    };
  }, [easel, surface]);
  return port;
}

/** A note to the person that goes by itself. */
function useNote(): [string, (text: string) => void] {
  const [note, setNote] = useState('');
  useEffect(() => {
    if (note === '') return;
    const timer = setTimeout(() => setNote(''), NOTE_MS);
    return () => clearTimeout(timer);
  }, [note]);
  return [note, setNote];
}

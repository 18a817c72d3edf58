'use client';

import Konva from 'konva';
import { type KeyboardEvent, useEffect, useImperativeHandle, useLayoutEffect, useRef, useState } from 'react';
import { Layer, Shape, Stage } from 'react-konva';
import type { Problem } from '../../lib/base/index.ts';
import { Easel } from './easel.ts';
import { Gestures } from './gestures.ts';
import { handleOf } from './handle.ts';
import { Labels } from './labels.ts';
import { paintActive, paintPhotos, RestPainter } from './layers.ts';
import { paintLoupe } from './loupe.ts';
import { MarkList } from './MarkList.tsx';
import css from './PhotoCanvas.module.css';
import type { PhotoCanvasProps } from './types.ts';
import { usePhotos } from './use-photos.ts';

/** Twice the CSS resolution is as fine as a line needs; three times costs a phone more than it shows. */
const PIXEL_RATIO_MAX = 2;
const PIXEL_RATIO = Math.min(PIXEL_RATIO_MAX, window.devicePixelRatio || 1);
Konva.pixelRatio = PIXEL_RATIO;
const NOTE_MS = 6000;
const KEY_HELP =
  'Plus and minus zoom, arrows move the photo, 0 shows all of it. With a mark selected: square brackets choose a point, ' +
  'arrows move it, Delete removes it. Enter finishes, Escape cancels.';

function penOf(context: Konva.Context): CanvasRenderingContext2D {
  return context._context;
}

/** The canvas itself; needs a browser, so `PhotoCanvas` loads it there only. */
export default function PhotoStage(props: PhotoCanvasProps) {
  const [easel] = useState(
    () => new Easel(props, window.matchMedia('(pointer: coarse)').matches ? 'touch' : 'mouse'),
  );
  const [tools] = useState(() => {
    const labels = new Labels(PIXEL_RATIO);
    return { labels, rest: new RestPainter(labels) };
  });
  const box = useRef<HTMLDivElement>(null);
  const loupe = useRef<HTMLCanvasElement>(null);
  const stage = useRef<Konva.Stage>(null);
  const photoLayer = useRef<Konva.Layer>(null);
  const restLayer = useRef<Konva.Layer>(null);
  const activeLayer = useRef<Konva.Layer>(null);
  const [port, setPort] = useState({ width: 1, height: 1 });
  const [note, showNote] = useNote();
  const photos = usePhotos(easel, props, () => photoLayer.current?.batchDraw());

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
  useLayoutEffect(() => {
    const layers = { photo: photoLayer, rest: restLayer, active: activeLayer };
    return easel.attach({
      moved: ({ x, y, scale }) => {
        stage.current?.setAttrs({ x, y, scaleX: scale, scaleY: scale });
      },
      redraw: (layer) => {
        layers[layer].current?.batchDraw();
      },
    });
  }, [easel]);
  useLayoutEffect(() => {
    const element = box.current;
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
  }, [easel]);
  useImperativeHandle(props.handle, () => handleOf(easel, () => box.current?.focus()), [easel]);

  const onKeyDown = (event: KeyboardEvent<HTMLDivElement>): void => {
    if (event.target !== event.currentTarget || event.altKey) return;
    const press = { key: event.key, shift: event.shiftKey, command: event.ctrlKey || event.metaKey };
    if (easel.key(press)) event.preventDefault();
  };

  return (
    <div className={css.frame}>
      <div
        ref={box}
        className={css.surface}
        role="application"
        aria-label={`Photo: ${props.name}`}
        aria-description={KEY_HELP}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the surface takes keys
        tabIndex={0}
        data-photo-canvas={photos.open ? 'open' : 'closed'}
        data-tool={props.readOnly ? 'look' : props.tool}
        onKeyDown={onKeyDown}
        onBlur={() => easel.settle()}
      >
        <Stage ref={stage} width={port.width} height={port.height} listening={false}>
          <Layer ref={photoLayer} listening={false}>
            <Shape
              perfectDrawEnabled={false}
              sceneFunc={(context) => paintPhotos(penOf(context), easel, easel.view.scale, PIXEL_RATIO)}
            />
          </Layer>
          <Layer ref={restLayer} listening={false}>
            <Shape
              perfectDrawEnabled={false}
              sceneFunc={(context) => tools.rest.paint(penOf(context), easel)}
            />
          </Layer>
          <Layer ref={activeLayer} listening={false}>
            <Shape
              perfectDrawEnabled={false}
              sceneFunc={(context) => {
                paintActive(penOf(context), easel, tools.labels);
                if (loupe.current) paintLoupe(loupe.current, easel, tools.rest, PIXEL_RATIO);
              }}
            />
          </Layer>
        </Stage>
        <canvas ref={loupe} className={css.loupe} hidden />
      </div>
      {photos.problem ? (
        <div className={css.trouble} role="alert">
          <p>{photos.problem}</p>
          <button type="button" onClick={photos.retry}>
            Try again
          </button>
        </div>
      ) : null}
      {photos.open || photos.problem ? null : <p className={css.opening}>Opening the photo…</p>}
      <p className={css.note} role="status" data-shown={note !== ''}>
        {note}
      </p>
      <MarkList props={props} onShow={(mark) => easel.zoomToMark(mark)} />
    </div>
  );
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

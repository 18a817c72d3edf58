import Konva from 'konva';
import type { RefObject } from 'react';
import { Layer, Shape, Stage } from 'react-konva';
import type { Easel } from './easel.ts';
import { Labels } from './labels.ts';
import { paintActive, paintPhotos } from './layers.ts';
import { paintLoupe } from './loupe.ts';
import { RestPainter } from './rest-painter.ts';
import type { Port } from './view.ts';

/** Twice the CSS resolution is as fine as a line needs; three times costs a phone more than it shows. */
const PIXEL_RATIO_MAX = 2;
const PIXEL_RATIO = Math.min(PIXEL_RATIO_MAX, window.devicePixelRatio || 1);
Konva.pixelRatio = PIXEL_RATIO;

/** The stage and its three layers, for moving and repainting them without a rendering. */
export interface StageRefs {
  readonly stage: RefObject<Konva.Stage | null>;
  readonly photo: RefObject<Konva.Layer | null>;
  readonly rest: RefObject<Konva.Layer | null>;
  readonly active: RefObject<Konva.Layer | null>;
  readonly loupe: RefObject<HTMLCanvasElement | null>;
}

/** What paints the layers of one canvas. */
export interface Painters {
  readonly labels: Labels;
  readonly rest: RestPainter;
}

/** Painters for a new canvas. */
export function makePainters(): Painters {
  const labels = new Labels(PIXEL_RATIO);
  return { labels, rest: new RestPainter(labels, PIXEL_RATIO) };
}

function penOf(context: Konva.Context): CanvasRenderingContext2D {
  return context._context;
}

/** Three layers, so that a moving finger repaints only what is in hand: the photo, the marks at rest, the work. */
export function StageLayers(props: { easel: Easel; painters: Painters; refs: StageRefs; port: Port }) {
  const { easel, painters, refs, port } = props;
  return (
    <Stage ref={refs.stage} width={port.width} height={port.height} listening={false}>
      <Layer ref={refs.photo} listening={false}>
        <Shape
          perfectDrawEnabled={false}
          sceneFunc={(context) => paintPhotos(penOf(context), easel, easel.view.scale, PIXEL_RATIO)}
        />
      </Layer>
      <Layer ref={refs.rest} listening={false}>
        <Shape
          perfectDrawEnabled={false}
          sceneFunc={(context) => painters.rest.paint(penOf(context), easel)}
        />
      </Layer>
      <Layer ref={refs.active} listening={false}>
        <Shape
          perfectDrawEnabled={false}
          sceneFunc={(context) => {
            paintActive(penOf(context), easel, painters.labels);
            if (refs.loupe.current) paintLoupe(refs.loupe.current, easel, painters.rest, PIXEL_RATIO);
          }}
        />
      </Layer>
    </Stage>
  );
}

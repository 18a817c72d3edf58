'use client';
import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { type Problem, problem } from '../../../lib/base/index.ts';
import {
  type DrawingTool,
  type Mark,
  type Shape,
  TOOL_MAKES,
  type Tool,
  type WorkSummary,
} from '../../../lib/marks/index.ts';
import { photoRuler, scalePoints, sceneOfPhoto, sectionOfWheel } from '../../../lib/photo/index.ts';
import { kinds, type PhotoScale, scaleWords } from '../../../lib/record/index.ts';
import { PhotoCanvas } from '../../_canvas/PhotoCanvas.tsx';
import { ToolBar } from '../../_canvas/ToolBar.tsx';
import type { PhotoCanvasHandle } from '../../_canvas/types.ts';
import { newId } from '../../_client/device.ts';
import { type InspectionView, useFetched } from '../../_client/inspection.ts';
import { usePhoto } from '../../_client/photos.ts';
import { usePlace } from '../../_client/place.ts';
import { fetchPhotoFacts, type PhotoFacts } from '../../_client/remote.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Empty, ProblemNote } from '../../_ui/kit.tsx';
import { useMayAdd } from './Inspect.tsx';
import { MarkPanel } from './MarkPanel.tsx';
import classes from './photo.module.css';
import { ScalePanel } from './ScalePanel.tsx';
import { gaugeOf, sizeOfMark } from './sizes.ts';
import { useMarkHistory } from './useMarkHistory.ts';

/** One photo on the whole screen: look, set the scale, draw and edit marks. */
export function PhotoScreen({ view, photo }: { view: InspectionView; photo: string }) {
  const place = usePlace();
  const attached = view.state.photos.get(photo)?.value;
  const source = usePhoto(photo, '2048');
  const { site } = useWorkplace();
  const [facts, setFacts] = useState<PhotoFacts | null>(null);
  const fetch = useCallback(async () => setFacts(await fetchPhotoFacts(site.id, photo)), [site.id, photo]);
  useFetched(fetch);
  const widthPx = attached?.widthPx ?? source.photo?.widthPx ?? facts?.widthPx ?? null;
  const heightPx = attached?.heightPx ?? source.photo?.heightPx ?? facts?.heightPx ?? null;
  const leave = () => place.go({ photo: null });
  if (attached === undefined) {
    return (
      <>
        <Button onClick={leave}>Back</Button>
        <Empty>This photo does not belong to the inspection, or was withdrawn from it.</Empty>
      </>
    );
  }
  if (source.url === null || widthPx === null || heightPx === null) {
    return (
      <>
        <Button onClick={leave}>Back</Button>
        <Empty>This device cannot decode “{attached.name}”. It can be marked once the server has it.</Empty>
      </>
    );
  }
  return (
    <Sheet
      view={view}
      photo={photo}
      url={source.url}
      widthPx={widthPx}
      heightPx={heightPx}
      name={attached.name}
      capturedAt={facts?.capturedAt ?? null}
    />
  );
}

interface SheetProps {
  readonly view: InspectionView;
  readonly photo: string;
  readonly url: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly name: string;
  readonly capturedAt: string | null;
}

function Sheet({ view, photo, url, widthPx, heightPx, name, capturedAt }: SheetProps) {
  const place = usePlace();
  const { write } = useWorkplace();
  const { may } = useMayAdd(view);
  const handle = useRef<PhotoCanvasHandle>(null);
  const [tool, setTool] = useState<Tool>('look');
  const [work, setWork] = useState<WorkSummary | null>(null);
  const [selected, setSelected] = useState<string | null>(null);
  const [wrong, setWrong] = useState<Problem | null>(null);
  const [scaling, setScaling] = useState<
    PhotoScale | { points: readonly [number, number][]; wanted: 2 | 4 } | null
  >(null);
  const marks = [...view.state.marks.values()]
    .map(({ value }) => value)
    .filter((mark) => mark.photo === photo);
  const history = useMarkHistory(view, photo, setWrong);
  const attached = view.state.photos.get(photo)?.value;
  const scale = view.state.scales.get(photo)?.value.scale ?? null;
  const gauge = useGauge(view, photo);
  useFullScreen();
  if (attached === undefined) return null;
  const drawn = (shape: Shape, by: DrawingTool) => {
    const mark: Mark = {
      mark: newId(),
      photo,
      shape,
      defect: TOOL_MAKES[by].defect,
      component: attached.component,
      zone: attached.zone,
      clock: attached.clock,
      method: 'visual',
      note: '',
    };
    setSelected(mark.mark);
    setTool('look');
    return history.change({ kind: 'drawn', mark });
  };
  const redrawn = (id: string, shape: Shape) => {
    const before = marks.find((mark) => mark.mark === id);
    return before === undefined
      ? undefined
      : history.change({ kind: 'redrawn', before, after: { ...before, shape } });
  };
  const withdraw = (id: string) => {
    const mark = marks.find((one) => one.mark === id);
    setSelected(null);
    return mark === undefined ? undefined : history.change({ kind: 'withdrawn', mark });
  };
  const done = () => {
    if (work?.drawing !== true) return place.go({ photo: null });
    setWrong(
      problem(
        'mark-unfinished',
        'mark',
        tool,
        'A mark is being drawn and not finished',
        work.canFinish
          ? 'Press Finish to keep it, or Cancel to drop it.'
          : 'Set more points and finish it, or Cancel.',
      ),
    );
  };
  const guide = scaling === null || 'source' in scaling ? guideOf(scale) : scaling;
  const chosen = marks.find((mark) => mark.mark === selected) ?? null;
  return (
    <div className={classes.sheet}>
      <div className={classes.bar}>
        <Button onClick={done}>Done</Button>
        <span className={classes.name}>
          {attached.zone}
          <small>
            {scale === null ? 'no scale' : `scale: ${scaleWords(scale)}`}
            {view.verdict.demonstration ? ', demonstration' : ''}
            {capturedAt === null ? '' : `, taken ${capturedAt.slice(0, 16).replace('T', ' ')}`}
          </small>
        </span>
        {may ? (
          <Button
            onClick={() =>
              setScaling(scaling === null ? (guideOf(scale) ?? { points: [], wanted: 2 }) : null)
            }
            tone={scale === null ? 'act' : 'plain'}
          >
            Scale
          </Button>
        ) : null}
        <Button onClick={() => handle.current?.fit()}>Whole photo</Button>
      </div>
      <div className={classes.canvas}>
        <PhotoCanvas
          photoUrl={url}
          widthPx={widthPx}
          heightPx={heightPx}
          name={`${attached.zone}, ${name}`}
          marks={marks}
          selected={selected}
          tool={scaling === null ? tool : 'look'}
          readOnly={!may}
          labelFor={(shown) =>
            sizeOfMark(
              marks.find(({ mark }) => mark === shown.mark) ?? {
                ...shown,
                component: attached.component,
                zone: attached.zone,
              },
              gauge,
            )
          }
          scaleGuide={
            guide === null
              ? null
              : {
                  ...guide,
                  editable: scaling !== null,
                  onChange: (points) =>
                    setScaling({ points: points.map(([x, y]) => [x, y]), wanted: guide.wanted }),
                }
          }
          onDrawn={drawn}
          onRedrawn={redrawn}
          onWithdraw={withdraw}
          onSelect={setSelected}
          onUndo={() => void history.undo()}
          onRedo={() => void history.redo()}
          onWork={setWork}
          onRefused={setWrong}
          handle={handle}
        />
        {chosen === null || work?.drawing === true ? null : (
          <MarkPanel
            key={chosen.mark}
            view={view}
            mark={chosen}
            gauge={gauge}
            onChange={(after) => void history.change({ kind: 'redrawn', before: chosen, after })}
          />
        )}
      </div>
      <div className={classes.foot}>
        {wrong === null ? null : (
          <div className={classes.wrong}>
            <ProblemNote problem={wrong} />
            <Button onClick={() => setWrong(null)}>Close</Button>
          </div>
        )}
        {scaling !== null && !('source' in scaling) ? (
          <ScalePanel
            points={scaling.points}
            wanted={scaling.wanted}
            onWanted={(wanted) => setScaling({ points: [], wanted })}
            onCancel={() => setScaling(null)}
            onSet={async (set) => {
              await write(kinds.scaleSet, view.state.id, {
                photo,
                scale: set,
                camera: { widthPx, heightPx, focal35Mm: null, profile: null },
              });
              setScaling(null);
            }}
          />
        ) : may ? (
          <ToolBar
            tool={tool}
            onTool={(next) => {
              setTool(next);
              setSelected(null);
            }}
            work={work}
            canUndo={history.canUndo}
            canRedo={history.canRedo}
            onUndo={() => {
              if (handle.current?.stepBack() !== true) void history.undo();
            }}
            onRedo={() => void history.redo()}
            onFinish={() => handle.current?.finish()}
            onCancel={() => handle.current?.cancel()}
            onRemove={() => handle.current?.remove()}
          />
        ) : null}
      </div>
    </div>
  );
}

function guideOf(scale: PhotoScale | null): { points: readonly [number, number][]; wanted: 2 | 4 } | null {
  if (scale === null) return null;
  const points = scalePoints(scale).map(([x, y]): [number, number] => [x, y]);
  return { points, wanted: scale.source === 'known length' ? 2 : 4 };
}

/** Measures the marks of a photo with the scale, the surface and the section in force; null without a scale. */
function useGauge(view: InspectionView, photo: string) {
  const { scales, surfaces } = view.state;
  const [scale, surface] = [scales.get(photo), surfaces.get(photo)];
  const section = useMemo(() => sectionOfWheel(view.wheel), [view.wheel]);
  const { parts } = view;
  return useMemo(() => {
    const scene = sceneOfPhoto(
      { scales: new Map(scale && [[photo, scale]]), surfaces: new Map(surface && [[photo, surface]]) },
      photo,
      section,
    );
    if (scene === null) return null;
    const slots = new Map([...parts].map(([slot, { id }]) => [id, slot]));
    return gaugeOf(photoRuler(scene), (component) => slots.get(component) ?? null);
  }, [photo, scale, surface, section, parts]);
}

/** The page behind must not scroll while the photo has the screen. */
function useFullScreen(): void {
  useEffect(() => {
    const before = document.body.style.overflow;
    document.body.style.overflow = 'hidden';
    return () => {
      document.body.style.overflow = before;
    };
  }, []);
}

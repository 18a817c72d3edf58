'use client';
import { useEffect, useMemo, useRef, useState } from 'react';
import { type Problem, problem } from '../../../lib/base/index.ts';
import {
  type DrawingTool,
  type Mark,
  type Shape,
  TOOL_MAKES,
  type Tool,
  type WorkSummary,
} from '../../../lib/marks/index.ts';
import { referenceSizeMm, scalePoints } from '../../../lib/photo/index.ts';
import { kinds, type PhotoScale, scaleWords } from '../../../lib/record/index.ts';
import type { ZoneId } from '../../../lib/wheel/index.ts';
import { PhotoCanvas } from '../../_canvas/PhotoCanvas.tsx';
import { ToolBar } from '../../_canvas/ToolBar.tsx';
import type { PhotoCanvasHandle } from '../../_canvas/types.ts';
import { newId } from '../../_client/device.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { usePlace } from '../../_client/place.ts';
import { useUnits } from '../../_client/units.ts';
import { openingAlong, pullToEdges } from '../../_client/vision.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, ProblemNote } from '../../_ui/kit.tsx';
import { CardNote, scaleOfCard } from './CardNote.tsx';
import { useMayAdd } from './Inspect.tsx';
import { MarkPanel } from './MarkPanel.tsx';
import type { Pull } from './PullPoints.tsx';
import classes from './photo.module.css';
import { type Guide, ScalePanel } from './ScalePanel.tsx';
import { SurfacePanel } from './SurfacePanel.tsx';
import { measureText, sizeOfMark } from './sizes.ts';
import { cameraOf, useCardFinding, usePhotoBytes } from './useCardFinding.ts';
import { type Gauging, useGauging, useGrid } from './useGauging.ts';
import { useMarkHistory } from './useMarkHistory.ts';

interface SheetProps {
  readonly view: InspectionView;
  readonly photo: string;
  readonly url: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly name: string;
  readonly capturedAt: string | null;
}

/** The sheet over the whole screen: the photo, its scale and surface, the marks and the tools. */
export function PhotoSheet({ view, photo, url, widthPx, heightPx, name, capturedAt }: SheetProps) {
  const place = usePlace();
  const { write } = useWorkplace();
  const { may } = useMayAdd(view);
  const handle = useRef<PhotoCanvasHandle>(null);
  const [tool, setTool] = useState<Tool>('look');
  const [work, setWork] = useState<WorkSummary | null>(null);
  const [selected, setSelected] = useState<string | null>(null);
  const [wrong, setWrong] = useState<Problem | null>(null);
  const [panel, setPanel] = useState<Panel | null>(null);
  const [gridOn, setGridOn] = useState(false);
  const marks = [...view.state.marks.values()]
    .map(({ value }) => value)
    .filter((mark) => mark.photo === photo);
  const history = useMarkHistory(view, photo, setWrong);
  const attached = view.state.photos.get(photo)?.value;
  const scale = view.state.scales.get(photo)?.value.scale ?? null;
  const [units] = useUnits();
  const gauging = useGauging(view, photo);
  const { gauge } = gauging;
  const looking = useCardFinding(photo);
  const bytes = usePhotoBytes(photo);
  const chosen = marks.find((mark) => mark.mark === selected) ?? null;
  const about = useAbout(chosen ?? marks[0] ?? null, scale, attached);
  const grid = useGrid(gauging, about, gridOn || panel?.kind === 'surface');
  useFullScreen();
  if (attached === undefined) return null;
  const pull: Pull = async (points, what) => pullToEdges(await bytes(), photo, points, what);
  const setScale = async (set: PhotoScale) => {
    const camera = cameraOf(looking, { widthPx, heightPx });
    await write(kinds.scaleSet, view.state.id, { photo, scale: set, camera });
    setPanel(null);
  };
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
  const guide = panel?.kind === 'scale' ? panel.guide : guideOf(scale);
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
              setPanel(panel?.kind === 'scale' ? null : { kind: 'scale', guide: guideOf(scale) ?? NO_GUIDE })
            }
            tone={scale === null ? 'act' : 'plain'}
          >
            Scale
          </Button>
        ) : null}
        {scale === null ? null : may ? (
          <Button onClick={() => setPanel(panel?.kind === 'surface' ? null : { kind: 'surface' })}>
            Surface
          </Button>
        ) : null}
        {scale === null ? null : (
          <Button onClick={() => setGridOn(!gridOn)}>{gridOn ? 'Hide grid' : 'Grid'}</Button>
        )}
        <Button onClick={() => handle.current?.fit()} aria-label="Whole photo">
          Whole
        </Button>
      </div>
      {scale === null && may && panel === null ? (
        <CardNote
          looking={looking}
          onUse={(found) => void setScale(found)}
          onByHand={() => setPanel({ kind: 'scale', guide: NO_GUIDE })}
        />
      ) : null}
      {grid === null ? null : (
        <p className={classes.mesh}>
          Lines {grid.meshMm} mm apart on: {takenAs(gauging, about)}
        </p>
      )}
      <div className={classes.canvas}>
        <PhotoCanvas
          photoUrl={url}
          widthPx={widthPx}
          heightPx={heightPx}
          name={`${attached.zone}, ${name}`}
          marks={marks}
          selected={selected}
          tool={panel === null ? tool : 'look'}
          readOnly={!may}
          labelFor={(shown) =>
            sizeOfMark(
              marks.find(({ mark }) => mark === shown.mark) ?? {
                ...shown,
                component: attached.component,
                zone: attached.zone,
              },
              gauge,
              units,
            )
          }
          scaleGuide={
            guide === null
              ? null
              : {
                  ...guide,
                  editable: panel?.kind === 'scale',
                  onChange: (points) =>
                    setPanel({ kind: 'scale', guide: { ...guide, points: points.map(([x, y]) => [x, y]) } }),
                }
          }
          draftLabel={(shape) => {
            const measured = gauge?.({ shape, component: attached.component, zone: attached.zone });
            return measured?.ok === true
              ? measureText(measured.value.quantity, measured.value.value, measured.value.u, units)
              : '';
          }}
          overlay={grid?.lines ?? null}
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
            gauging={gauging}
            pull={pull}
            readOpening={async (trace) => openingAlong(await bytes(), photo, trace)}
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
        {panel?.kind === 'scale' ? (
          <ScalePanel
            guide={panel.guide}
            found={scaleOfCard(looking)}
            onGuide={(next) => setPanel({ kind: 'scale', guide: next })}
            pull={pull}
            onCancel={() => setPanel(null)}
            onSet={setScale}
          />
        ) : panel?.kind === 'surface' && scale !== null ? (
          <SurfacePanel
            surface={gauging.surface}
            section={gauging.section}
            slot={gauging.slotOf(attached.component)}
            zone={about?.zone ?? attached.zone}
            depthMm={referenceSizeMm(scale).depthMm}
            taken={takenAs(gauging, about)}
            onCancel={() => setPanel(null)}
            onSet={async (surface) => {
              await write(kinds.surfaceSet, view.state.id, { photo, surface });
              setPanel(null);
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

type Panel = { readonly kind: 'scale'; readonly guide: Guide } | { readonly kind: 'surface' };
const NO_GUIDE: Guide = { points: [], wanted: 2 };

function guideOf(scale: PhotoScale | null): Guide | null {
  if (scale === null) return null;
  if (scale.source === 'scale card') return null;
  const points = scalePoints(scale).map(([x, y]): [number, number] => [x, y]);
  return { points, wanted: points.length === 2 ? 2 : 4, pairs: scale.source === 'two known lengths' };
}

/** What the grid is laid round: a mark, or the middle of what gives the scale. */
function useAbout(
  mark: Mark | null,
  scale: PhotoScale | null,
  attached: { readonly component: string; readonly zone: ZoneId } | undefined,
): Pick<Mark, 'shape' | 'component' | 'zone'> | null {
  return useMemo(() => {
    if (mark !== null) return mark;
    if (scale === null || attached === undefined) return null;
    const points = scalePoints(scale).map(([x, y]): [number, number] => [x, y]);
    return { shape: { form: 'patch', outline: points }, component: attached.component, zone: attached.zone };
  }, [mark, scale, attached]);
}

function takenAs(
  { ruler, slotOf }: Gauging,
  about: Pick<Mark, 'shape' | 'component' | 'zone'> | null,
): string {
  if (ruler === null || about === null) return '';
  return ruler.ok
    ? ruler.value.placingFor({ ...about, slot: slotOf(about.component) }).what
    : ruler.error.message;
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

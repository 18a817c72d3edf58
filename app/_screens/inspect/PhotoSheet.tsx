'use client';
import { useRef, useState } from 'react';
import { type Problem, problem } from '../../../lib/base/index.ts';
import type { Tool, WorkSummary } from '../../../lib/marks/index.ts';
import { partLengths, referenceSizeMm } from '../../../lib/photo/index.ts';
import { kinds, type PhotoScale } from '../../../lib/record/index.ts';
import { parseDesignation } from '../../../lib/wheel/index.ts';
import { PhotoCanvas } from '../../_canvas/PhotoCanvas.tsx';
import { ToolBar } from '../../_canvas/ToolBar.tsx';
import type { PhotoCanvasHandle } from '../../_canvas/types.ts';
import { useWriting } from '../../_client/hand.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { usePlace } from '../../_client/place.ts';
import { useUnits } from '../../_client/units.ts';
import { openingAlong, pullToEdges } from '../../_client/vision.ts';
import { Button, ProblemNote } from '../../_ui/kit.tsx';
import { CardNote, scaleOfCard } from './CardNote.tsx';
import { useMayAdd } from './Inspect.tsx';
import { MarkPanel } from './MarkPanel.tsx';
import type { Pull } from './PullPoints.tsx';
import classes from './photo.module.css';
import { ScalePanel } from './ScalePanel.tsx';
import { SheetBar } from './SheetBar.tsx';
import { SurfacePanel } from './SurfacePanel.tsx';
import { type Guide, guideOf, NO_GUIDE } from './scaleGuide.ts';
import { measureText, sizeOfMark } from './sizes.ts';
import { cameraOf, useCardFinding, usePhotoBytes } from './useCardFinding.ts';
import { useFullScreen } from './useFullScreen.ts';
import { takenAs, useAbout, useGauging, useGrid } from './useGauging.ts';
import { useLooksAtMarks } from './useLooksAtMarks.ts';
import { useSheetMarks } from './useSheetMarks.ts';

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
  const write = useWriting(view);
  const { may } = useMayAdd(view);
  const handle = useRef<PhotoCanvasHandle>(null);
  const [tool, setTool] = useState<Tool>('look');
  const [work, setWork] = useState<WorkSummary | null>(null);
  const [selected, setSelected] = useState<string | null>(null);
  const [wrong, setWrong] = useState<Problem | null>(null);
  const [panel, setPanel] = useState<Panel | null>(null);
  const [gridOn, setGridOn] = useState(false);
  const attached = view.state.photos.get(photo)?.value;
  const marks = useSheetMarks(view, photo, {
    onProblem: setWrong,
    onDrawn: (mark) => {
      setSelected(mark);
      setTool('look');
    },
    onWithdrawn: () => setSelected(null),
  });
  const { history } = marks;
  const scale = view.state.scales.get(photo)?.value.scale ?? null;
  const [units] = useUnits();
  const gauging = useGauging(view, photo);
  const { gauge } = gauging;
  const looking = useCardFinding(photo);
  const bytes = usePhotoBytes(photo);
  const notSeen = useLooksAtMarks(view, photo, bytes, may);
  const chosen = marks.list.find((mark) => mark.mark === selected) ?? null;
  const about = useAbout(chosen ?? marks.list[0] ?? null, scale, attached);
  const grid = useGrid(gauging, about, gridOn || panel?.kind === 'surface');
  const size = parseDesignation(view.wheel.designation);
  const draftText = useRef('');
  if (work?.drawing !== true) draftText.current = '';
  useFullScreen();
  if (attached === undefined) return null;
  const pull: Pull = async (points, what) => pullToEdges(await bytes(), photo, points, what);
  const setScale = async (set: PhotoScale) => {
    const camera = cameraOf(looking, { widthPx, heightPx });
    await write(kinds.scaleSet, { photo, scale: set, camera });
    setPanel(null);
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
      <SheetBar
        zone={attached.zone}
        scale={scale}
        demonstration={view.verdict.demonstration}
        capturedAt={capturedAt}
        may={may}
        gridOn={gridOn}
        onDone={done}
        onScale={() =>
          setPanel(panel?.kind === 'scale' ? null : { kind: 'scale', guide: guideOf(scale) ?? NO_GUIDE })
        }
        onSurface={() => setPanel(panel?.kind === 'surface' ? null : { kind: 'surface' })}
        onGrid={() => setGridOn(!gridOn)}
        onWhole={() => handle.current?.fit()}
      />
      <div className={classes.canvas}>
        <div className={classes.above}>
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
        </div>
        <PhotoCanvas
          photoUrl={url}
          widthPx={widthPx}
          heightPx={heightPx}
          name={`${attached.zone}, ${name}`}
          marks={marks.list}
          selected={selected}
          tool={panel === null ? tool : 'look'}
          readOnly={!may}
          labelFor={(shown) =>
            sizeOfMark(
              marks.list.find(({ mark }) => mark === shown.mark) ?? {
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
            // While the newest form is being measured the size before it stands.
            if (measured === null) return draftText.current;
            draftText.current =
              measured?.ok === true
                ? measureText(measured.value.quantity, measured.value.value, measured.value.u, units)
                : '';
            return draftText.current;
          }}
          overlay={grid?.lines ?? null}
          onDrawn={marks.drawn}
          onRedrawn={marks.redrawn}
          onWithdraw={marks.withdraw}
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
            notSeen={notSeen.get(chosen.mark) ?? null}
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
            lengths={size.ok ? partLengths(size.value) : []}
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
              await write(kinds.surfaceSet, { photo, surface });
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

import {
  boundsPx,
  holdsPointer,
  idleWork,
  type Outcome,
  type PointPx,
  type Scene,
  selectedShape,
  step,
  summaryOf,
  type Work,
  type WorkEvent,
  type WorkSummary,
} from '../../lib/marks/index.ts';
import { GuideHand } from './guide-hand.ts';
import type { PhotoLevels } from './photo.ts';
import { type Pointer, REACH_CSS } from './pointer.ts';
import { type ShownMark, shownMarks } from './shown.ts';
import { tellOutcome } from './tell.ts';
import { Told } from './told.ts';
import type { PhotoCanvasProps } from './types.ts';
import {
  fitView,
  type Port,
  pannedBy,
  resizedView,
  toPhoto,
  type View,
  viewOfBox,
  zoomedAt,
} from './view.ts';

/** What the easel paints on; `moved` repaints everything at the new view. */
export interface Surface {
  moved(view: View): void;
  redraw(layer: 'photo' | 'rest' | 'active'): void;
}

const SETTLE_MS = 700;
const STILL_MS = 120;

/**
 * Everything behind the canvas that changes faster than the page: the view, the work of the hand, the photo.
 * It is told the props after each rendering, and repaints by itself without another one.
 */
export class Easel {
  photo: PhotoLevels | null = null;
  ghost: PhotoLevels | null = null;
  port: Port = { width: 1, height: 1 };
  view: View = { scale: 1, x: 0, y: 0 };
  work: Work;
  shown: readonly ShownMark[] = [];
  /** The view has just changed and may go on changing. */
  moving = false;
  pointer: Pointer;
  /** Where the finger is, CSS px, while one is down. */
  finger: PointPx | null = null;
  readonly told = new Told();
  readonly guide = new GuideHand();
  #props: PhotoCanvasProps;
  #surface: Surface | null = null;
  #scene: Scene;
  #summary: WorkSummary | null = null;
  #settleTimer: ReturnType<typeof setTimeout> | undefined;
  #stillTimer: ReturnType<typeof setTimeout> | undefined;
  #fitted = true;

  constructor(props: PhotoCanvasProps, pointer: Pointer) {
    this.#props = props;
    this.work = idleWork(props.tool);
    this.pointer = pointer;
    this.#scene = this.#makeScene();
  }

  get props(): PhotoCanvasProps {
    return this.#props;
  }

  get scene(): Scene {
    return this.#scene;
  }

  /** How far the pointer in use reaches, px of the photo. */
  get reachPx(): number {
    return REACH_CSS[this.pointer] / this.view.scale;
  }

  attach(surface: Surface): () => void {
    this.#surface = surface;
    this.#show();
    surface.moved(this.view);
    return () => {
      this.settle();
      this.#surface = null;
    };
  }

  /** Takes the props of a new rendering. */
  accept(props: PhotoCanvasProps): void {
    const before = this.#props;
    if (props.selected !== before.selected || props.tool !== before.tool) this.settle();
    this.#props = props;
    if (props.marks !== before.marks) this.told.answered(props.marks);
    if (props.scaleGuide?.points !== before.scaleGuide?.points) this.guide.answered();
    if (props.overlay !== before.overlay) this.#surface?.redraw('photo');
    if (props.widthPx !== before.widthPx || props.heightPx !== before.heightPx) this.fit();
    this.#show();
    if (props.tool !== this.work.tool) this.dispatch({ kind: 'tool', tool: props.tool });
    else this.#summarise();
  }

  setPort(port: Port): void {
    const before = this.port;
    this.port = port;
    const kept = resizedView(this.view, before, port, this.#props);
    this.#look(this.#fitted ? fitView(this.#props, port) : kept, this.#fitted);
  }

  fit(): void {
    this.#look(fitView(this.#props, this.port), true);
  }

  zoomTo(scale: number, at?: PointPx): void {
    const about: PointPx = at ?? [this.port.width / 2, this.port.height / 2];
    this.#look(zoomedAt(this.view, scale, about, this.#props, this.port), false);
  }

  zoomToMark(mark: string): void {
    const found = this.#scene.marks.find((other) => other.mark === mark);
    if (found) this.#look(viewOfBox(boundsPx(found.shape), this.#props, this.port), false);
  }

  panBy(dx: number, dy: number): void {
    this.#look(pannedBy(this.view, dx, dy, this.#props, this.port), this.#fitted);
  }

  /** Whether the pointer works on marks, so that dragging must not move the photo. */
  holds(): boolean {
    return this.guide.pressed || holdsPointer(this.work);
  }

  /** A pointer's doings at a place of the screen, CSS px from the canvas's corner. */
  point(kind: 'down' | 'move' | 'up' | 'hover', screen: PointPx, pointer: Pointer): void {
    this.pointer = pointer;
    this.finger = kind === 'down' || kind === 'move' ? screen : null;
    const at = toPhoto(this.view, screen);
    if (kind === 'down') this.settle();
    const guide = this.#props.scaleGuide;
    if (guide?.editable && kind !== 'hover') {
      const frame = this.#props;
      if (this.guide.point(kind, guide, at, this.reachPx, frame)) {
        this.#surface?.redraw('active');
        return;
      }
    }
    this.dispatch({ kind, at, reachPx: this.reachPx });
  }

  /** The pointer was taken away for another purpose: what it had begun is undone. */
  drop(): void {
    this.finger = null;
    this.guide.drop();
    this.dispatch({ kind: 'drop' });
    this.#surface?.redraw('active');
  }

  /** Takes back the last step of a draft, or a nudge not yet told; false when there is neither. */
  stepBack(): boolean {
    const nudging = this.work.edit?.grip === null;
    if (this.work.draft === null && !nudging) return false;
    this.dispatch({ kind: nudging ? 'cancel' : 'back' });
    return true;
  }

  /** Shifts the chosen point, the selected mark or the point of the scale last touched; false when there is none. */
  nudge(byPx: PointPx): boolean {
    const guide = this.#props.scaleGuide;
    if (guide?.editable && this.guide.nudge(guide, byPx, this.#scene.frame)) {
      this.#surface?.redraw('active');
      return true;
    }
    if (selectedShape(this.work, this.#scene) === null) return false;
    this.dispatch({ kind: 'nudge', byPx });
    clearTimeout(this.#settleTimer);
    this.#settleTimer = setTimeout(() => this.settle(), SETTLE_MS);
    return true;
  }

  /** Tells the record about nudges that are still open. */
  settle(): void {
    clearTimeout(this.#settleTimer);
    if (this.work.edit?.grip === null) this.dispatch({ kind: 'settle' });
  }

  /** Passes one event to the marks and tells what comes of it. */
  dispatch(event: WorkEvent): void {
    const before = this.work;
    const { work, outcome } = step(before, event, this.#scene);
    this.work = work;
    if (outcome !== null) this.#tell(outcome);
    if (work !== before || outcome !== null) this.#surface?.redraw('active');
    this.#summarise();
  }

  #tell(outcome: Outcome): void {
    const forget = this.told.note(outcome, this.#props.marks);
    this.#show();
    const answer = tellOutcome(this.#props, outcome);
    if (!(answer instanceof Promise)) return;
    const settled = (): void => {
      forget();
      this.#show();
    };
    // A failed answer shows the mark as the record has it; the failure itself stays with the one who was told.
    answer.then(settled, (cause: unknown) => {
      settled();
      throw cause;
    });
  }

  #makeScene(): Scene {
    const { selected, widthPx, heightPx, readOnly } = this.#props;
    return { marks: this.shown, selected, frame: { widthPx, heightPx }, readOnly: readOnly === true };
  }

  #show(): void {
    this.shown = shownMarks(this.#props, this.told);
    this.#scene = this.#makeScene();
    this.#surface?.redraw('rest');
    this.#surface?.redraw('active');
  }

  #look(view: View, fitted: boolean): void {
    this.view = view;
    this.#fitted = fitted;
    this.moving = true;
    this.#surface?.moved(view);
    clearTimeout(this.#stillTimer);
    this.#stillTimer = setTimeout(() => {
      this.moving = false;
      this.#surface?.redraw('rest');
    }, STILL_MS);
  }

  #summarise(): void {
    const summary = summaryOf(this.work, this.#scene);
    if (JSON.stringify(summary) === JSON.stringify(this.#summary)) return;
    this.#summary = summary;
    this.#props.onWork?.(summary);
  }
}

import {
  idleWork,
  type NamedShape,
  type Outcome,
  type PointPx,
  type Shape,
  step,
  type Tool,
  type Work,
  type WorkEvent,
} from '../../lib/marks/index.ts';

/** A scripted hand: does events one after the other on a photo of 400 × 300 px and keeps what was told. */
export class Hand {
  work: Work;
  told: Outcome[] = [];
  marks: NamedShape[];
  selected: string | null = null;
  readOnly = false;
  reachPx = 10;

  constructor(tool: Tool, marks: NamedShape[] = []) {
    this.work = idleWork(tool);
    this.marks = marks;
  }

  do(event: WorkEvent): this {
    const frame = { widthPx: 400, heightPx: 300 };
    const { marks, selected, readOnly } = this;
    const { work, outcome } = step(this.work, event, { marks, selected, frame, readOnly });
    this.work = work;
    if (outcome === null) return this;
    this.told.push(outcome);
    if (outcome.kind === 'selected') this.selected = outcome.mark;
    if (outcome.kind === 'redrawn') this.put(outcome.mark, outcome.shape);
    return this;
  }

  put(mark: string, shape: Shape): void {
    this.marks = this.marks.map((other) => (other.mark === mark ? { mark, shape } : other));
  }

  down(at: PointPx): this {
    return this.do({ kind: 'down', at, reachPx: this.reachPx });
  }

  move(at: PointPx): this {
    return this.do({ kind: 'move', at, reachPx: this.reachPx });
  }

  up(at: PointPx): this {
    return this.do({ kind: 'up', at, reachPx: this.reachPx });
  }

  tap(...places: PointPx[]): this {
    for (const at of places) this.down(at).up(at);
    return this;
  }

  drag(from: PointPx, ...way: PointPx[]): this {
    this.down(from);
    for (const at of way) this.move(at);
    return this.up(way.at(-1) ?? from);
  }
}

import type { DrawingTool, NamedShape, Outcome, Shape } from '../../lib/marks/index.ts';
import type { PhotoMark } from './types.ts';

/** A shape handed to the record and not yet seen among the marks. */
export interface ToldShape {
  readonly shape: Shape;
  readonly tool: DrawingTool;
}

/**
 * What the record has been told and has not answered yet, so that a mark does not jump back for a moment
 * between the lifting of the finger and the record's answer. The record's word always wins in the end.
 */
export class Told {
  #drawn: readonly ToldShape[] = [];
  #redrawn = new Map<string, { shape: Shape; basis: Shape }>();
  #withdrawn = new Set<string>();

  /** Shapes drawn and not yet among the marks. */
  get drawn(): readonly ToldShape[] {
    return this.#drawn;
  }

  /** Notes an outcome; the returned function forgets it again. */
  note(outcome: Outcome, marks: readonly PhotoMark[]): () => void {
    switch (outcome.kind) {
      case 'drawn': {
        const told = { shape: outcome.shape, tool: outcome.tool };
        this.#drawn = [...this.#drawn, told];
        return () => {
          this.#drawn = this.#drawn.filter((other) => other !== told);
        };
      }
      case 'redrawn': {
        const basis = marks.find(({ mark }) => mark === outcome.mark)?.shape;
        if (!basis) return () => undefined;
        const told = { shape: outcome.shape, basis };
        this.#redrawn.set(outcome.mark, told);
        return () => {
          if (this.#redrawn.get(outcome.mark) === told) this.#redrawn.delete(outcome.mark);
        };
      }
      case 'withdrawn':
        this.#withdrawn.add(outcome.mark);
        return () => {
          this.#withdrawn.delete(outcome.mark);
        };
      case 'selected':
      case 'refused':
        return () => undefined;
    }
  }

  /** Takes new marks as the record's answer. */
  answered(marks: readonly PhotoMark[]): void {
    this.#drawn = [];
    this.#withdrawn.clear();
    const shapes = new Map(marks.map(({ mark, shape }) => [mark, shape]));
    for (const [mark, { basis }] of this.#redrawn) {
      if (shapes.get(mark) !== basis) this.#redrawn.delete(mark);
    }
  }

  /** The marks as the hand has left them. */
  applied<M extends NamedShape>(marks: readonly M[]): M[] {
    return marks
      .filter(({ mark }) => !this.#withdrawn.has(mark))
      .map((mark) => {
        const told = this.#redrawn.get(mark.mark);
        return told ? { ...mark, shape: told.shape } : mark;
      });
  }
}

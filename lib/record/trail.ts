import type { z } from 'zod';
import type { Mark } from '../marks/index.ts';
import type { Reading } from '../readings/index.ts';
import type { Entry } from './entry.ts';
import { foldInspection } from './inspection.ts';
import type { Kind, Names } from './kind.ts';
import { scaleWords } from './kinds/photo.ts';
import { mergeEntries } from './merge.ts';
import { bodyOf, isReadable, kinds, lineOf } from './registry.ts';

/** One thing that somebody did, for the audit view. */
export interface TrailLine {
  readonly entry: string;
  /** Clock of the device, ISO 8601 UTC. */
  readonly at: string;
  readonly author: string;
  readonly kind: string;
  /** What was done, in plain language. */
  readonly text: string;
  /** What stood there before, and what stands there now, where the entry replaced something; else null. */
  readonly from: string | null;
  readonly to: string | null;
}

/** What an entry says of something that can change: which thing, and how it is now. */
interface Fact {
  readonly of: string;
  readonly now: string;
}

type Tell = (body: unknown) => Fact;

function tells<B extends z.ZodType>(kind: Kind<B>, tell: (body: z.infer<B>) => Fact): [string, Tell] {
  return [kind.kind, (body) => tell(body as z.infer<B>)];
}

function markFact({ mark, defect, shape, zone, clock, note }: Mark): Fact {
  const where = `${zone}${clock === null ? '' : `, ${clock} o'clock`}`;
  return {
    of: `mark ${mark}`,
    now: `${defect ?? 'measure'}, ${shapeWords(shape)}, ${where}${note === '' ? '' : `, "${note}"`}`,
  };
}

/** A shape by where it begins and how large it is, px: enough to see that it was moved. */
function shapeWords(shape: Mark['shape']): string {
  const points =
    shape.form === 'trace'
      ? shape.branches.flat()
      : shape.form === 'patch'
        ? shape.outline
        : shape.form === 'band'
          ? shape.centreLine
          : shape.form === 'span'
            ? shape.ends
            : shape.form === 'angle'
              ? [shape.arms[0], shape.vertex, shape.arms[1]]
              : [shape.at];
  const ends = [points[0], points.at(-1)].map((at) => (at === undefined ? '' : at.map(Math.round).join(':')));
  return points.length === 1
    ? `spot at ${ends[0]}`
    : `${shape.form} of ${points.length} points, ${ends[0]} to ${ends[1]}`;
}

function readingFact({ reading, typed, defaultUnit, overlap }: Reading): Fact {
  const unit = /[a-z"″]/i.test(typed) ? '' : ` ${defaultUnit}`;
  return { of: `reading ${reading}`, now: `${typed}${unit}${overlap ? ' overlap' : ''}` };
}

const WITHDRAWN = 'withdrawn';

const TELLS: ReadonlyMap<string, Tell> = new Map([
  tells(kinds.gateAnswered, ({ question, answer }) => ({ of: `gate ${question}`, now: answer })),
  tells(kinds.pressureRead, ({ typed }) => ({ of: 'pressure', now: typed })),
  tells(kinds.photoAttached, ({ photo }) => ({ of: `photo ${photo}`, now: 'attached' })),
  tells(kinds.photoWithdrawn, ({ photo }) => ({ of: `photo ${photo}`, now: WITHDRAWN })),
  tells(kinds.scaleSet, ({ photo, scale }) => ({ of: `scale ${photo}`, now: scaleWords(scale) })),
  tells(kinds.surfaceSet, ({ photo, surface }) => ({ of: `surface ${photo}`, now: surface.form })),
  tells(kinds.markDrawn, markFact),
  tells(kinds.markRedrawn, markFact),
  tells(kinds.markWithdrawn, ({ mark }) => ({ of: `mark ${mark}`, now: WITHDRAWN })),
  tells(kinds.defectNoted, ({ defectId, defect, zone }) => ({
    of: `defect ${defectId}`,
    now: `${defect}, ${zone}`,
  })),
  tells(kinds.defectWithdrawn, ({ defectId }) => ({ of: `defect ${defectId}`, now: WITHDRAWN })),
  tells(kinds.zoneLookedAt, ({ component, zone, result }) => ({
    of: `look ${component} ${zone}`,
    now: result,
  })),
  tells(kinds.assemblyPointAnswered, ({ point, answer }) => ({ of: `assembly ${point}`, now: answer })),
  tells(kinds.readingEntered, readingFact),
  tells(kinds.readingCorrected, readingFact),
  tells(kinds.readingWithdrawn, ({ reading }) => ({ of: `reading ${reading}`, now: WITHDRAWN })),
  tells(kinds.callMade, ({ component, call }) => ({ of: `call ${component}`, now: call })),
]);

/** Kinds after which the inspection stands elsewhere than before. */
const STANDING: readonly string[] = [
  kinds.inspectionSubmitted,
  kinds.reviewConcluded,
  kinds.questionAsked,
  kinds.questionAnswered,
].map((kind) => kind.kind);

function factOf(entry: Entry): Fact | null {
  if (!isReadable(entry)) return null;
  if (entry.kind === kinds.secondMeasured.kind) {
    const { of, v, body } = bodyOf(entry) as z.infer<typeof kinds.secondMeasured.body>;
    const inner = factOf({ ...entry, kind: of, v, body });
    return inner === null ? null : { of: `second ${entry.author} ${inner.of}`, now: inner.now };
  }
  return TELLS.get(entry.kind)?.(bodyOf(entry)) ?? null;
}

/**
 * Everything anyone did to an inspection, oldest first, each as a plain line with what it changed. Order and repetition of
 * the entries do not matter.
 */
export function trailOf(entries: readonly Entry[], names: Names): TrailLine[] {
  const before = new Map<string, string>();
  const sorted = mergeEntries(entries);
  return sorted.map((entry, i): TrailLine => {
    const { id, at, author, kind } = entry;
    const line = { entry: id, at, author, kind, text: lineOf(entry, names) };
    if (STANDING.includes(kind)) {
      const [from, to] = [sorted.slice(0, i), sorted.slice(0, i + 1)].map(
        (some) => foldInspection(some).status,
      );
      return { ...line, from: from ?? null, to: to ?? null };
    }
    const fact = factOf(entry);
    if (fact === null) return { ...line, from: null, to: null };
    const from = before.get(fact.of) ?? null;
    before.set(fact.of, fact.now);
    return { ...line, from, to: from === null ? null : fact.now };
  });
}

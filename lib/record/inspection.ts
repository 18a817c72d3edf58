import type { z } from 'zod';
import { assert, canonicalJson } from '../base/index.ts';
import type { Mark } from '../marks/index.ts';
import type { Reading } from '../readings/index.ts';
import type { AssemblyPointId } from './assembly.ts';
import type { Entry } from './entry.ts';
import type { GateQuestionId } from './gate.ts';
import type { InflationStageId } from './inflation.ts';
import type { Kind } from './kind.ts';
import type { reviewAssigned } from './kinds/assignment.ts';
import type { callMade, inspectionSubmitted, reviewConcluded } from './kinds/conclusion.ts';
import type {
  assemblyPointAnswered,
  gateAnswered,
  inflationBrokenOff,
  inflationStageDone,
  partNotFound,
  pressureRead,
  zoneLookedAt,
} from './kinds/inspection.ts';
import type { defectNoted, FiguresNear } from './kinds/mark.ts';
import type { photoAttached, scaleSet } from './kinds/photo.ts';
import type { questionAnswered, questionAsked } from './kinds/question.ts';
import type { SurfaceChoice } from './kinds/surface.ts';
import { mergeEntries } from './merge.ts';
import { bodyOf, isReadable, kindNamed, kinds } from './registry.ts';
import {
  type InspectionStatus,
  isOpenQuestion,
  measuredAgain,
  type Question,
  questionOf,
  type SecondDraft,
  type SecondMeasurement,
  secondOf,
  statusOf,
} from './reviewing.ts';
import type { Written } from './written.ts';

type BodyOf<K extends { readonly body: z.ZodType }> = z.infer<K['body']>;

/** An inspection as its entries tell it. Maps are keyed by the id of the thing; the newest word counts. */
export interface InspectionState {
  readonly id: string;
  readonly site: string;
  readonly wheel: string | null;
  readonly reason: string;
  readonly opened: Written<null> | null;
  readonly gate: ReadonlyMap<GateQuestionId, Written<BodyOf<typeof gateAnswered>>>;
  readonly pressure: Written<BodyOf<typeof pressureRead>> | null;
  readonly photos: ReadonlyMap<string, Written<BodyOf<typeof photoAttached>>>;
  readonly scales: ReadonlyMap<string, Written<BodyOf<typeof scaleSet>>>;
  /** By photo: the surface its marks lie on, where somebody chose one. */
  readonly surfaces: ReadonlyMap<string, Written<SurfaceChoice>>;
  readonly marks: ReadonlyMap<string, Written<Mark>>;
  /** By mark: how the photo shows it as it is drawn now. */
  readonly looksAtMarks: ReadonlyMap<string, Written<FiguresNear>>;
  readonly defects: ReadonlyMap<string, Written<BodyOf<typeof defectNoted>>>;
  /** Keyed by component id and zone, joined with a bar. */
  readonly looks: ReadonlyMap<string, Written<BodyOf<typeof zoneLookedAt>>>;
  readonly assembly: ReadonlyMap<AssemblyPointId, Written<BodyOf<typeof assemblyPointAnswered>>>;
  /** Stages gone through since the air was last let out. */
  readonly inflation: ReadonlyMap<InflationStageId, Written<BodyOf<typeof inflationStageDone>>>;
  /** Why the air was let out before, if it was. */
  readonly brokenOff: Written<BodyOf<typeof inflationBrokenOff>> | null;
  /** Keyed by slot. */
  readonly absent: ReadonlyMap<string, Written<BodyOf<typeof partNotFound>>>;
  readonly readings: ReadonlyMap<string, Written<Reading>>;
  /** Newest first-hand calls, keyed by component id. */
  readonly calls: ReadonlyMap<string, Written<BodyOf<typeof callMade>>>;
  readonly notes: readonly Written<string>[];
  readonly submission: Written<BodyOf<typeof inspectionSubmitted>> | null;
  /** Every submission, oldest first; the last is `submission`. */
  readonly submissions: readonly Written<BodyOf<typeof inspectionSubmitted>>[];
  /** Second measurements, by reviewer. */
  readonly seconds: ReadonlyMap<string, SecondMeasurement>;
  /** Questions of reviewers, oldest first. */
  readonly questions: readonly Question[];
  /** The conclusion on the newest submission, if there is one. */
  readonly conclusion: Written<BodyOf<typeof reviewConcluded>> | null;
  /** Earlier conclusions, oldest first. */
  readonly earlierConclusions: readonly Written<BodyOf<typeof reviewConcluded>>[];
  /** To whom the review was given last, if it ever was. */
  readonly assigned: Written<BodyOf<typeof reviewAssigned>> | null;
  readonly status: InspectionStatus;
  /** Evidence entries that the newest submission does not rest on. */
  readonly late: readonly string[];
  /** Authors of evidence, calls and submissions: none of them may review. */
  readonly inspectors: readonly string[];
  /** Entries kept though this version cannot read them. */
  readonly unreadable: readonly string[];
  /** Ids of everything except reviews and notes: what a submission made now would rest on. */
  readonly coverable: readonly string[];
}

/** Key of a look. */
export function lookKey(component: string, zone: string): string {
  return `${component}|${zone}`;
}

type Mutable<T> =
  T extends ReadonlyMap<infer K, infer V> ? Map<K, V> : T extends readonly (infer U)[] ? U[] : T;

type Folded = Omit<InspectionState, 'seconds' | 'questions'>;

type Draft = { -readonly [K in keyof Folded]: Mutable<Folded[K]> } & {
  seconds: Map<string, SecondDraft>;
  asked: Written<BodyOf<typeof questionAsked>>[];
  answers: Map<string, Written<BodyOf<typeof questionAnswered>>>;
  conclusions: Written<BodyOf<typeof reviewConcluded>>[];
  authors: Set<string>;
  withdrawn: Set<string>;
};

function emptyDraft(): Draft {
  return {
    id: '',
    site: '',
    wheel: null,
    reason: '',
    opened: null,
    gate: new Map(),
    pressure: null,
    photos: new Map(),
    scales: new Map(),
    surfaces: new Map(),
    marks: new Map(),
    looksAtMarks: new Map(),
    defects: new Map(),
    looks: new Map(),
    assembly: new Map(),
    inflation: new Map(),
    brokenOff: null,
    absent: new Map(),
    readings: new Map(),
    calls: new Map(),
    notes: [],
    submission: null,
    submissions: [],
    seconds: new Map(),
    asked: [],
    answers: new Map(),
    conclusion: null,
    earlierConclusions: [],
    assigned: null,
    status: 'open',
    late: [],
    inspectors: [],
    unreadable: [],
    coverable: [],
    conclusions: [],
    authors: new Set(),
    withdrawn: new Set(),
  };
}

type WrittenBy = Omit<Written<null>, 'value'>;
type Apply = (draft: Draft, body: unknown, writtenBy: WrittenBy, entry: Entry) => void;

/** Ties a kind to what it does; the body was validated by that kind's schema when the entry was accepted. */
function on<Body extends z.ZodType>(
  kind: Kind<Body>,
  apply: (draft: Draft, written: Written<z.infer<Body>>, entry: Entry) => void,
): [string, Apply] {
  return [
    kind.kind,
    (draft, body, writtenBy, entry) => apply(draft, { ...writtenBy, value: body as z.infer<Body> }, entry),
  ];
}

function setMark(draft: Draft, written: Written<Mark>): void {
  const { mark, shape } = written.value;
  // What was seen round another shape does not hold for this one.
  const before = draft.marks.get(mark)?.value.shape;
  if (before !== undefined && canonicalJson(before) !== canonicalJson(shape)) draft.looksAtMarks.delete(mark);
  draft.marks.set(mark, written);
}

const APPLY: ReadonlyMap<string, Apply> = new Map([
  on(kinds.inspectionOpened, (draft, written) => {
    if (draft.opened !== null) return;
    draft.opened = { ...written, value: null };
    draft.wheel = written.value.wheel;
    draft.reason = written.value.reason;
  }),
  on(kinds.gateAnswered, (draft, written) => draft.gate.set(written.value.question, written)),
  on(kinds.pressureRead, (draft, written) => {
    draft.pressure = written;
  }),
  on(kinds.photoAttached, (draft, written) => draft.photos.set(written.value.photo, written)),
  on(kinds.photoWithdrawn, (draft, { value }) => draft.photos.delete(value.photo)),
  on(kinds.scaleSet, (draft, written) => draft.scales.set(written.value.photo, written)),
  on(kinds.surfaceSet, (draft, written) =>
    draft.surfaces.set(written.value.photo, { ...written, value: written.value.surface }),
  ),
  on(kinds.markDrawn, setMark),
  on(kinds.markRedrawn, setMark),
  on(kinds.markWithdrawn, (draft, { value }) => draft.marks.delete(value.mark)),
  on(kinds.markLookedAt, (draft, written) =>
    draft.looksAtMarks.set(written.value.mark, { ...written, value: written.value.near }),
  ),
  on(kinds.defectNoted, (draft, written) => draft.defects.set(written.value.defectId, written)),
  on(kinds.defectWithdrawn, (draft, { value }) => draft.withdrawn.add(value.defectId)),
  on(kinds.zoneLookedAt, (draft, written) =>
    draft.looks.set(lookKey(written.value.component, written.value.zone), written),
  ),
  on(kinds.assemblyPointAnswered, (draft, written) => draft.assembly.set(written.value.point, written)),
  on(kinds.inflationStageDone, (draft, written) => draft.inflation.set(written.value.stage, written)),
  on(kinds.inflationBrokenOff, (draft, written) => {
    draft.inflation.clear();
    draft.brokenOff = written;
  }),
  on(kinds.partNotFound, (draft, written) => draft.absent.set(written.value.slot, written)),
  // A correction outranks the reading it corrects even when the clock of its device runs behind.
  on(kinds.readingEntered, (draft, written) => {
    if (!draft.readings.has(written.value.reading)) draft.readings.set(written.value.reading, written);
  }),
  on(kinds.readingCorrected, (draft, written) => draft.readings.set(written.value.reading, written)),
  on(kinds.readingWithdrawn, (draft, { value }) => draft.withdrawn.add(value.reading)),
  on(kinds.callMade, (draft, written) => draft.calls.set(written.value.component, written)),
  on(kinds.inspectionSubmitted, (draft, written) => draft.submissions.push(written)),
  on(kinds.secondMeasured, measuredAgain),
  on(kinds.secondHandedIn, (draft, written) => secondOf(draft, written.author).handedIn.push(written)),
  on(kinds.figuresLookedAt, (draft, written) => {
    const second = secondOf(draft, written.author);
    second.lookedEarly ??= written;
  }),
  on(kinds.questionAsked, (draft, written) => draft.asked.push(written)),
  on(kinds.questionAnswered, (draft, written) => {
    if (!draft.answers.has(written.value.question)) draft.answers.set(written.value.question, written);
  }),
  on(kinds.reviewConcluded, (draft, written) => draft.conclusions.push(written)),
  on(kinds.reviewAssigned, (draft, written) => {
    draft.assigned = written;
  }),
  on(kinds.noteWritten, (draft, written) => draft.notes.push({ ...written, value: written.value.text })),
]);

/**
 * Folds the entries of one inspection. Order and repetition of the entries do not matter.
 * Throws when the entries are about another subject or about several: a bug of the caller.
 */
export function foldInspection(entries: readonly Entry[]): InspectionState {
  const draft = emptyDraft();
  for (const entry of mergeEntries(entries)) take(draft, entry);
  for (const id of draft.withdrawn) {
    draft.readings.delete(id);
    draft.defects.delete(id);
  }
  return finished(draft);
}

function take(draft: Draft, entry: Entry): void {
  const { id, type } = entry.subject;
  assert(
    type === 'inspection' && (draft.id === '' || draft.id === id),
    `entry ${entry.id} belongs to this inspection`,
  );
  draft.id = id;
  draft.site = entry.site;
  const role = kindNamed(entry.kind)?.role;
  if (role === undefined || role === 'evidence' || role === 'call') draft.coverable.push(entry.id);
  if (role !== 'review' && role !== 'second' && role !== 'note') draft.authors.add(entry.author);
  if (!isReadable(entry)) {
    // What no verdict rests on cannot hold one up either.
    if (draft.coverable.at(-1) === entry.id) draft.unreadable.push(entry.id);
    return;
  }
  const { at, author } = entry;
  APPLY.get(entry.kind)?.(draft, bodyOf(entry), { entry: entry.id, at, author }, entry);
}

function finished(draft: Draft): InspectionState {
  const { conclusions, authors, withdrawn: _, asked, answers, ...state } = draft;
  const submission = state.submissions.at(-1) ?? null;
  const conclusion = conclusions.filter((one) => one.value.submission === submission?.entry).at(-1) ?? null;
  const covered = new Set(submission?.value.covers ?? []);
  const late = submission === null ? [] : state.coverable.filter((id) => !covered.has(id));
  const questions = asked.map((one) => questionOf(one, answers.get(one.value.question), state.readings));
  const open = questions.some(isOpenQuestion);
  return {
    ...state,
    submission,
    questions,
    conclusion,
    earlierConclusions: conclusions.filter((one) => one !== conclusion),
    late,
    status: statusOf(submission !== null, conclusion?.value.outcome ?? null, late.length > 0, open),
    inspectors: [...authors].sort(),
  };
}

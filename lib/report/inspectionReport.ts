import { canonicalJson, sha256Hex } from '../base/index.ts';
import type { Mark } from '../marks/index.ts';
import { markWord } from '../marks/index.ts';
import { characteristicOf } from '../readings/index.ts';
import {
  type Call,
  gateQuestions,
  type InspectionState,
  type Names,
  NO_SLOT,
  partWords,
  placeWords,
  type RegisterState,
  slotAt,
  type WheelState,
} from '../record/index.ts';
import { measuredBlind, settledParts, submittedParts } from '../review/index.ts';
import { type RuleCited, sourceText, type Verdict } from '../rules/index.ts';

/** A size of a mark in words, as the screen shows it; empty where the photo gives none. */
export type SizeWords = (mark: Mark) => string;

export interface ReportRow {
  readonly label: string;
  readonly value: string;
}

export interface ReportReading {
  readonly where: string;
  readonly typed: string;
  readonly valueMm: number;
  readonly instrument: string;
  readonly by: string;
  readonly at: string;
}

export interface ReportPart {
  readonly slot: string;
  readonly identity: string;
  /** Class as it was submitted, the inspector's and the reviewer's call, and what holds now; null: none. */
  readonly submitted: Call | null;
  readonly inspector: Call | null;
  readonly reviewer: Call | null;
  readonly settled: Call | null;
  /** Why: sentences of the findings, each with its limit and whose limit it is. */
  readonly reasons: readonly { readonly sentence: string; readonly limit: string }[];
  readonly missing: readonly string[];
  readonly readings: readonly ReportReading[];
}

export interface ReportPhoto {
  readonly photo: string;
  readonly caption: string;
  readonly marks: readonly { readonly mark: Mark; readonly words: string }[];
}

export interface ReportSignature {
  readonly what: string;
  readonly by: string;
  readonly at: string;
  readonly words: string;
}

/** Everything an auditor asks for of one inspection, in the order of the pages. */
export interface InspectionReport {
  readonly title: string;
  readonly demonstration: boolean;
  /** Not reviewed, or new evidence since: what the reader must know before reading on. */
  readonly standing: string;
  readonly identity: readonly ReportRow[];
  readonly conditions: readonly ReportRow[];
  readonly parts: readonly ReportPart[];
  readonly assembly: { readonly fit: boolean; readonly reasons: readonly string[] };
  readonly photos: readonly ReportPhoto[];
  readonly limits: readonly { readonly title: string; readonly edition: string; readonly hash: string }[];
  readonly signatures: readonly ReportSignature[];
  readonly cautions: readonly string[];
  /** SHA-256 of the submitted verdict in canonical JSON, and the engine that gave it; null before submission. */
  readonly verdict: { readonly hash: string; readonly engine: string } | null;
}

/** Shown wherever a verdict leaves the screen. */
const CAUTIONS = [
  'A rim with air behind it is a pressure vessel. Deflate it and take the valve core out before anything is loosened.',
  'Never weld, heat or strike an assembly with a tyre mounted or air in it. Stay out of the trajectory.',
  'A photo never rules a crack out: where magnetic-particle, penetrant or ultrasonic testing is asked for, only its record closes the point.',
  'This report records and compares. The decision belongs to a competent person under local codes and the maker’s manual.',
] as const;

const STANDING: Readonly<Record<InspectionState['status'], string>> = {
  open: 'Being taken: nothing in it is signed.',
  submitted: 'Signed by the inspector, waiting for review.',
  asked: 'Signed by the inspector; the review has a question open.',
  'third person': 'Two people disagreed twice: a third has to measure.',
  'sent back': 'Sent back by the reviewer: what it says does not hold.',
  concluded: 'Reviewed.',
  reopened: 'Reviewed, and evidence has come in since that the review does not know.',
};

/** What a wheel is, for the head of a report. */
export function wheelRows(wheel: WheelState): readonly ReportRow[] {
  return [
    { label: 'Wheel', value: wheel.tag },
    { label: 'Machine and position', value: `${wheel.machine} ${wheel.position}`.trim() || 'not said' },
    { label: 'Size', value: wheel.designation },
    { label: 'Construction', value: wheel.construction },
    { label: 'Maker and series', value: `${wheel.maker} ${wheel.series}`.trim() || 'not said' },
  ];
}

/** A moment for a page: to the minute, in UTC. */
export function momentWords(at: string): string {
  return at === '' ? '' : `${at.slice(0, 16).replace('T', ' ')} UTC`;
}

interface Told {
  readonly state: InspectionState;
  readonly wheel: WheelState;
  readonly register: RegisterState;
  readonly names: Names;
  readonly sizeWords: SizeWords;
}

function limitWords(rule: RuleCited | null): string {
  if (rule === null) return 'no limit on file';
  return `${rule.table}, ${rule.edition}, row ${rule.row} (${sourceText(rule.source)})`;
}

function readingsOf(component: string | null, { state, names, register }: Told): ReportReading[] {
  return [...state.readings.values()]
    .filter(({ value }) => value.component === component)
    .sort((a, b) => (placeWords(a.value) < placeWords(b.value) ? -1 : 1))
    .map(({ value, author, at }) => ({
      where: `${characteristicOf(value.characteristic).label}${placeWords(value).slice(value.characteristic.length)}`,
      typed: `${value.typed}${/[a-z"″]/i.test(value.typed) ? '' : ` ${value.defaultUnit}`}${value.overlap ? ' overlap' : ''}`,
      valueMm: value.valueMm,
      instrument:
        value.fromPhoto !== undefined
          ? 'from a photo'
          : value.instrument === null
            ? 'none named'
            : (register.instruments.get(value.instrument)?.name ?? 'unknown'),
      by: names.person(author),
      at,
    }));
}

function partsOf(told: Told, verdict: Verdict | null): ReportPart[] {
  const { state, register } = told;
  if (verdict === null) return [];
  const submitted = new Map(submittedParts(state).map((part) => [part.slot, part]));
  const settled = new Map((settledParts(state) ?? []).map((part) => [part.slot, part.settled]));
  return verdict.parts.map(({ slot, component, result, findings, missing }) => {
    const part = component === null ? undefined : register.components.get(component);
    const reviewer = state.conclusion?.value.calls.find((one) => one.component === component)?.call;
    return {
      slot,
      identity: part === undefined ? 'nobody said which one it is' : partWords(part),
      submitted: submitted.get(slot)?.result ?? result,
      inspector: (component === null ? undefined : state.calls.get(component)?.value.call) ?? null,
      reviewer: reviewer ?? null,
      settled: settled.get(slot) ?? null,
      reasons: findings.map((finding) => ({ sentence: finding.sentence, limit: limitWords(finding.rule) })),
      missing: missing.map(({ text }) => text),
      readings: readingsOf(component, told),
    };
  });
}

function photosOf({ state, wheel, register, sizeWords }: Told): ReportPhoto[] {
  const marks = [...state.marks.values()].map(({ value }) => value);
  const photos = [...state.photos.values()].map(({ value, at }) => {
    const slot = slotAt(register, value.component, wheel.id, at) ?? NO_SLOT;
    const clock = value.clock === null ? '' : `, ${value.clock} o’clock`;
    return {
      photo: value.photo,
      caption: `${slot}, ${value.zone}${clock}; attached ${momentWords(at)}; SHA-256 ${value.photo.slice(0, 16)}…`,
      marks: marks
        .filter(({ photo }) => photo === value.photo)
        .map((mark) => ({
          mark,
          words: `${markWord(mark)} ${sizeWords(mark)}`.trim() + (mark.note === '' ? '' : `: ${mark.note}`),
        })),
    };
  });
  // Photos with something on them first: that is what a reader looks for.
  return [...photos.filter((one) => one.marks.length > 0), ...photos.filter((one) => one.marks.length === 0)];
}

function signaturesOf({ state, names }: Told): ReportSignature[] {
  const { submission, conclusion, earlierConclusions } = state;
  const reviews = [...earlierConclusions, ...(conclusion === null ? [] : [conclusion])];
  const seconds = [...state.seconds].flatMap(([reviewer, { handedIn }]) =>
    handedIn.map(({ at, value }) => ({
      what: 'Second measurement handed in',
      by: names.person(reviewer),
      at,
      words: measuredBlind(state, reviewer, value.submission)
        ? 'measured before seeing the inspector’s figures'
        : 'not blind: figures were known',
    })),
  );
  const signed = [
    ...(submission === null
      ? []
      : [
          {
            what: 'Inspection submitted',
            by: names.person(submission.author),
            at: submission.at,
            words: `resting on ${submission.value.covers.length} entries`,
          },
        ]),
    ...seconds,
    ...reviews.map(({ author, at, value }) => ({
      what: `Review: ${value.outcome}`,
      by: names.person(author),
      at,
      words: `${value.signed}${value.reason === '' ? '' : `; “${value.reason}”`}`,
    })),
  ];
  return signed.sort((a, b) => (a.at < b.at ? -1 : 1));
}

/**
 * The report of one inspection as data: identity, conditions, verdict with reasons, limits and whose they are, readings,
 * photos with marks, signatures, cautions and hashes. What is shown is the submitted verdict, never a newer one.
 */
export function inspectionReport(told: Told): InspectionReport {
  const { state, wheel } = told;
  const submission = state.submission;
  const verdict = (submission?.value.verdict ?? null) as unknown as Verdict | null;
  const gate = gateQuestions.flatMap(({ id, ask }) => {
    const answer = state.gate.get(id)?.value;
    return answer === undefined
      ? []
      : [{ label: ask, value: `${answer.answer}${answer.by === '' ? '' : `, ${answer.by}`}` }];
  });
  const pressure = state.pressure?.value;
  return {
    title: `Inspection of wheel ${wheel.tag}`,
    demonstration: verdict?.demonstration === true,
    standing: STANDING[state.status],
    identity: [
      ...wheelRows(wheel),
      { label: 'Reason', value: state.reason },
      { label: 'Begun', value: momentWords(state.opened?.at ?? '') },
      { label: 'Inspection', value: state.id },
    ],
    conditions: [
      ...gate,
      ...(pressure === undefined
        ? []
        : [
            {
              label: 'Pressure found',
              value: `${pressure.typed} of ${pressure.recommendedTyped} recommended`,
            },
          ]),
    ],
    parts: partsOf(told, verdict),
    assembly: verdict === null ? { fit: false, reasons: ['nothing was submitted'] } : verdict.assembly,
    photos: photosOf(told),
    limits: (verdict?.tables ?? []).map(({ title, edition, hash }) => ({ title, edition, hash })),
    signatures: signaturesOf(told),
    cautions: CAUTIONS,
    verdict:
      verdict === null
        ? null
        : { hash: sha256Hex(canonicalJson(submission?.value.verdict)), engine: String(verdict.engine) },
  };
}

import {
  fail,
  must,
  ok,
  type Problem,
  problem,
  problemsFromIssues,
  type Result,
  remembered,
} from '../base/index.ts';
import { type Entry, EntryEnvelope } from './entry.ts';
import type { Kind, Names } from './kind.ts';
import { photosAligned } from './kinds/alignment.ts';
import { reviewAssigned } from './kinds/assignment.ts';
import {
  componentDescribed,
  componentFitted,
  componentMerged,
  componentRemoved,
  dutyHoursNoted,
  machineHoursRead,
  repairRecorded,
  testRecorded,
} from './kinds/component.ts';
import { callMade, inspectionSubmitted, reviewConcluded } from './kinds/conclusion.ts';
import {
  assemblyPointAnswered,
  gateAnswered,
  inflationBrokenOff,
  inflationStageDone,
  inspectionOpened,
  noteWritten,
  partNotFound,
  pressureRead,
  zoneLookedAt,
} from './kinds/inspection.ts';
import { instrumentDescribed } from './kinds/instrument.ts';
import {
  defectNoted,
  defectWithdrawn,
  markDrawn,
  markLookedAt,
  markRedrawn,
  markWithdrawn,
} from './kinds/mark.ts';
import { photoAttached, photoWithdrawn, scaleSet } from './kinds/photo.ts';
import { inspectionPolicySet } from './kinds/policy.ts';
import { questionAnswered, questionAsked } from './kinds/question.ts';
import { readingCorrected, readingEntered, readingWithdrawn } from './kinds/reading.ts';
import { figuresLookedAt, secondHandedIn, secondMeasured } from './kinds/second.ts';
import { siteDescribed } from './kinds/site.ts';
import { studyClosed, studyOpened, studyReadingEntered, studyReadingWithdrawn } from './kinds/study.ts';
import { surfaceSet } from './kinds/surface.ts';
import { tableApproved, tableDrafted, tableWithdrawn } from './kinds/table.ts';
import { wheelDescribed } from './kinds/wheel.ts';

/** Every kind of entry. A new kind is one more file in kinds/ and one more line here. */
export const kinds = {
  siteDescribed,
  inspectionPolicySet,
  wheelDescribed,
  componentDescribed,
  componentFitted,
  componentRemoved,
  componentMerged,
  machineHoursRead,
  dutyHoursNoted,
  testRecorded,
  repairRecorded,
  photosAligned,
  instrumentDescribed,
  tableDrafted,
  tableApproved,
  tableWithdrawn,
  inspectionOpened,
  gateAnswered,
  pressureRead,
  photoAttached,
  photoWithdrawn,
  scaleSet,
  surfaceSet,
  markDrawn,
  markRedrawn,
  markWithdrawn,
  markLookedAt,
  defectNoted,
  defectWithdrawn,
  zoneLookedAt,
  partNotFound,
  assemblyPointAnswered,
  inflationStageDone,
  inflationBrokenOff,
  readingEntered,
  readingCorrected,
  readingWithdrawn,
  callMade,
  inspectionSubmitted,
  secondMeasured,
  secondHandedIn,
  figuresLookedAt,
  questionAsked,
  questionAnswered,
  reviewConcluded,
  reviewAssigned,
  noteWritten,
  studyOpened,
  studyReadingEntered,
  studyReadingWithdrawn,
  studyClosed,
} as const;

const BY_NAME: ReadonlyMap<string, Kind> = new Map(
  Object.values(kinds).map((kind) => [kind.kind, kind as unknown as Kind]),
);

/** The kind with this name, or undefined when it is not known to this version. */
export function kindNamed(name: string): Kind | undefined {
  return BY_NAME.get(name);
}

/** Whether the body can be read here: the kind is known and its version is not newer than ours. */
export function isReadable(entry: Pick<Entry, 'kind' | 'v'>): boolean {
  const kind = BY_NAME.get(entry.kind);
  return kind !== undefined && entry.v <= kind.v;
}

const WAY_OUT = 'Correct this field and send it as a new entry.';

/**
 * Checks an entry received from anywhere. Known kinds have their body validated after upgrading it;
 * unknown kinds and newer versions pass with only the envelope checked, so that they can be kept and passed on.
 */
export function checkEntry(candidate: unknown): Result<Entry, Problem> {
  const envelope = EntryEnvelope.safeParse(candidate);
  if (!envelope.success)
    return fail(firstOf(problemsFromIssues('entry-envelope', candidate, envelope.error.issues, WAY_OUT)));
  const entry = envelope.data;
  const kind = BY_NAME.get(entry.kind);
  if (kind === undefined) return ok(entry);
  if (kind.subject !== entry.subject.type) {
    return fail(
      problem(
        'entry-subject',
        'subject.type',
        entry.subject.type,
        `"${entry.kind}" is about a ${kind.subject}`,
        `Send it with a ${kind.subject} as its subject.`,
      ),
    );
  }
  if (entry.v > kind.v) return ok(entry);
  const body = kind.body.safeParse(upgraded(kind, entry));
  if (!body.success)
    return fail(firstOf(problemsFromIssues('entry-body', entry.body, body.error.issues, WAY_OUT, 'body')));
  return ok(entry);
}

function firstOf(problems: readonly Problem[]): Problem {
  return must(problems[0], 'an issue of a failed check');
}

function upgraded(kind: Kind, entry: Entry): Record<string, unknown> {
  return kind.upgrades.slice(entry.v - 1).reduce((body, upgrade) => upgrade(body), entry.body);
}

/**
 * The body of a readable entry in its current version. The entry was checked on its way in, so nothing is
 * validated again. Throws when the kind is not readable: ask `isReadable` first.
 */
export function bodyOf(entry: Entry): unknown {
  const kind = BY_NAME.get(entry.kind);
  if (kind === undefined || entry.v > kind.v)
    throw new Error(`Broken invariant: ${entry.kind} v${entry.v} is not readable`);
  return entry.v === kind.v ? entry.body : upgradedOnce(entry);
}

/** A body brought up to date: the same entry gives the same body. */
const upgradedOnce = remembered((entry: Entry) =>
  upgraded(must(BY_NAME.get(entry.kind), 'a known kind'), entry),
);

/** One line in plain language for the audit view; kinds not known here are named as such. */
export function lineOf(entry: Entry, names: Names): string {
  const kind = BY_NAME.get(entry.kind);
  if (kind === undefined || !isReadable(entry))
    return `${entry.kind} (version ${entry.v}, not readable by this version)`;
  const body = kind.body.safeParse(bodyOf(entry));
  return body.success ? kind.line(body.data, names) : `${entry.kind} (damaged)`;
}

import { fail, ok, type Problem, problem, type Result } from '../../lib/base/index.ts';
import { type Entry, isReadable, kindNamed, kinds } from '../../lib/record/index.ts';
import { mayAppend } from '../../lib/review/index.ts';
import { type Accept, type Membership, type Store, siteUnknown } from '../../lib/store/server/index.ts';
import { judgeAssignment } from './assignment.ts';
import { judgeEvidence } from './evidence.ts';
import { judgeConclusion, judgeSubmission } from './judge.ts';
import { judgeStudy } from './judgeStudy.ts';
import { judgeQuestion, judgeSecond } from './second.ts';
import { judgeSite } from './siteDescription.ts';
import { judgeTable } from './tables.ts';

/** How far a device clock may run ahead of the server's before an entry is refused. */
const AHEAD_MS_MAX = 24 * 3600 * 1000;
/** The same for signatures, whose order decides which of them counts. */
const SIGNATURE_AHEAD_MS_MAX = 10 * 60 * 1000;

/** Kinds that sum the record up and are judged against it. */
const SIGNATURES: readonly string[] = [
  kinds.inspectionSubmitted.kind,
  kinds.reviewConcluded.kind,
  kinds.secondHandedIn.kind,
  kinds.tableApproved.kind,
  kinds.tableWithdrawn.kind,
];
/** Kinds that decide what counts: this server must be able to read them to take them. */
const JUDGED: readonly string[] = [
  ...SIGNATURES,
  kinds.siteDescribed.kind,
  kinds.tableDrafted.kind,
  kinds.secondMeasured.kind,
  kinds.figuresLookedAt.kind,
  kinds.questionAsked.kind,
  kinds.questionAnswered.kind,
  kinds.reviewAssigned.kind,
  kinds.studyOpened.kind,
  kinds.studyReadingEntered.kind,
  kinds.studyReadingWithdrawn.kind,
  kinds.studyClosed.kind,
];

/** What is said between a reviewer and an inspector. */
const REVIEWING: readonly string[] = [kinds.questionAsked.kind, kinds.questionAnswered.kind];

/** What acceptance depends on besides the record. */
export interface Sender {
  readonly person: string;
  /** Sites at which the person has a role. */
  readonly sites: readonly Membership[];
  /** Server clock, ISO 8601 in UTC. */
  readonly now: string;
  /** Whether the person has just entered their password again. */
  readonly passwordEntered: boolean;
}

/**
 * Whether an entry may be written: by the person who made it, at a site of theirs, with the role its kind takes, at
 * a time that is not ahead, not overwriting what is there, and following from the record where it sums the record up.
 */
export function acceptFrom(sender: Sender, store: Store): Accept {
  return (entry, readSubject) => {
    const site = sender.sites.find((one) => one.id === entry.site);
    if (site === undefined) return fail(siteUnknown(entry.site));
    const sent = judgeSending(entry, sender);
    if (!sent.ok) return sent;
    const may = mayAppend(entry, site.roles);
    if (!may.ok) return may;
    const known = kindNamed(entry.kind);
    if (known === undefined && entry.subject.type === 'inspection' && !site.roles.includes('inspector')) {
      return fail(
        problem(
          'entry-unknown-kind',
          'kind',
          entry.kind,
          'Only an inspector adds to an inspection what this server does not know',
          'Update the server, then send it again.',
        ),
      );
    }
    if (!isReadable(entry)) {
      return JUDGED.includes(entry.kind) ? fail(newer(entry)) : ok(undefined);
    }
    if (entry.kind === kinds.inspectionSubmitted.kind)
      return judgeSubmission(entry, readSubject, store, sender.now);
    if (entry.kind === kinds.reviewConcluded.kind) return judgeConclusion(entry, readSubject, store, sender);
    if (entry.subject.type === 'inspection' && known?.role === 'second')
      return judgeSecond(entry, readSubject, store);
    if (REVIEWING.includes(entry.kind)) return judgeQuestion(entry, readSubject);
    if (entry.kind === kinds.reviewAssigned.kind) return judgeAssignment(entry, readSubject, store);
    if (entry.kind === kinds.siteDescribed.kind) return judgeSite(entry, store);
    if (entry.subject.type === 'table') return judgeTable(entry, readSubject, store);
    if (entry.subject.type === 'study') return judgeStudy(entry, readSubject, store);
    return judgeEvidence(entry, readSubject);
  };
}

/** The person who made it sends it, and its clock is not ahead. */
function judgeSending(entry: Entry, sender: Sender): Result<void, Problem> {
  if (entry.author !== sender.person) {
    return fail(
      problem(
        'entry-author',
        'author',
        entry.author,
        'An entry is sent by the person who made it',
        'Sign in as that person and send it again.',
      ),
    );
  }
  const aheadMs = Date.parse(entry.at) - Date.parse(sender.now);
  const aheadMsMax = SIGNATURES.includes(entry.kind) ? SIGNATURE_AHEAD_MS_MAX : AHEAD_MS_MAX;
  if (aheadMs <= aheadMsMax) return ok(undefined);
  return fail(
    problem(
      'entry-future',
      'at',
      entry.at,
      `The device clock is more than ${aheadMsMax === AHEAD_MS_MAX ? 'a day' : 'ten minutes'} ahead of the server's`,
      'Set the date and time of the device and make the entry again.',
    ),
  );
}

function newer(entry: Entry): Problem {
  return problem(
    'entry-newer',
    'v',
    entry.v,
    `This server does not know version ${entry.v} of "${entry.kind}" and cannot judge it`,
    'Update the server, then send it again.',
  );
}

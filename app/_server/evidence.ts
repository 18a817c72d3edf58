import type { z } from 'zod';
import { fail, ok, type Problem, problem, type Result } from '../../lib/base/index.ts';
import { checkReading } from '../../lib/readings/index.ts';
import { bodyOf, type Entry, foldInspection, foldRegister, kinds } from '../../lib/record/index.ts';
import type { ReadSubject } from '../../lib/store/server/index.ts';

type BodyOf<K extends { readonly body: z.ZodType }> = z.infer<K['body']>;

function again(entry: Entry, field: string, id: string, what: string, wayOut: string): Result<void, Problem> {
  return fail(
    problem('entry-again', `body.${field}`, id, `${what} is in the record already ("${entry.kind}")`, wayOut),
  );
}

/**
 * Whether evidence may be written: it says what was typed, it is not dated ahead, and it does not take the place of
 * something recorded before. Corrections and withdrawals name what they correct; a second "entered" under the same id
 * would change the record without a trace.
 */
export function judgeEvidence(entry: Entry, readSubject: ReadSubject): Result<void, Problem> {
  const before = () => foldInspection(readSubject('inspection', entry.subject.id));
  const earlier = () => readSubject('inspection', entry.subject.id).filter((one) => one.kind === entry.kind);
  switch (entry.kind) {
    case kinds.inspectionOpened.kind:
      return earlier().length === 0
        ? ok(undefined)
        : again(
            entry,
            'wheel',
            entry.subject.id,
            'The beginning of this inspection',
            'Begin a new inspection.',
          );
    case kinds.readingEntered.kind:
    case kinds.readingCorrected.kind:
      return judgeReading(entry, earlier());
    case kinds.defectNoted.kind: {
      const { defectId } = bodyOf(entry) as BodyOf<typeof kinds.defectNoted>;
      const known = earlier().some((one) => (one.body as { defectId?: unknown }).defectId === defectId);
      return known
        ? again(entry, 'defectId', defectId, 'This defect', 'Withdraw it and note a new one.')
        : ok(undefined);
    }
    case kinds.markDrawn.kind: {
      const { mark } = bodyOf(entry) as BodyOf<typeof kinds.markDrawn>;
      return before().marks.has(mark)
        ? again(entry, 'mark', mark, 'This mark', 'Redraw it, or draw a new one.')
        : ok(undefined);
    }
    case kinds.photoAttached.kind: {
      const body = bodyOf(entry) as BodyOf<typeof kinds.photoAttached>;
      const known = before().photos.get(body.photo)?.value;
      const elsewhere =
        known !== undefined && (known.component !== body.component || known.zone !== body.zone);
      return elsewhere
        ? again(
            entry,
            'photo',
            body.photo,
            `This photo, for the ${known.zone},`,
            'Take another photo of this zone.',
          )
        : ok(undefined);
    }
    case kinds.componentMerged.kind:
      return judgeMerge(entry, readSubject);
    case kinds.dutyHoursNoted.kind:
      return judgeDay(
        entry,
        'hours-date',
        'The day lies in the future',
        'Enter the day the hours were read.',
      );
    case kinds.testRecorded.kind:
      return judgeDay(entry, 'test-date', 'The test lies in the future', 'Enter the day it was done.');
    case kinds.repairRecorded.kind:
      return judgeDay(entry, 'repair-date', 'The repair lies in the future', 'Enter the day it was done.');
    default:
      return ok(undefined);
  }
}

/** Whether what an entry tells of a day (`on`) had come when it was written. */
function judgeDay(entry: Entry, code: string, message: string, wayOut: string): Result<void, Problem> {
  const { on } = bodyOf(entry) as { on: string };
  if (on <= entry.at.slice(0, 10)) return ok(undefined);
  return fail(problem(code, 'body.on', on, message, wayOut));
}

/** Whether two records may be read as one part: both are described, of one kind, and neither stands for itself through the other. */
function judgeMerge(entry: Entry, readSubject: ReadSubject): Result<void, Problem> {
  const { into } = bodyOf(entry) as BodyOf<typeof kinds.componentMerged>;
  const id = entry.subject.id;
  const { components } = foldRegister([...readSubject('component', id), ...readSubject('component', into)]);
  const [one, other] = [components.get(id), components.get(into)];
  const fits =
    id !== into &&
    one?.described === true &&
    other?.described === true &&
    one.componentKind === other.componentKind &&
    one.mergedInto === null &&
    other.mergedInto === null;
  if (fits) return ok(undefined);
  return fail(
    problem(
      'part-merge',
      'body.into',
      into,
      'These two records cannot be one part: they are of different kinds, or one of them is merged already, or not here',
      'Choose two described parts of the same kind.',
    ),
  );
}

function judgeReading(entry: Entry, earlier: readonly Entry[]): Result<void, Problem> {
  const reading = bodyOf(entry) as BodyOf<typeof kinds.readingEntered>;
  const checked = checkReading(reading);
  if (!checked.ok) return fail({ ...checked.error, field: `body.${checked.error.field}` });
  const known = earlier.some((one) => (one.body as { reading?: unknown }).reading === reading.reading);
  if (entry.kind === kinds.readingCorrected.kind || !known) return ok(undefined);
  return again(entry, 'reading', reading.reading, 'This reading', 'Correct it, or enter a new one.');
}

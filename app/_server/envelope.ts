import { canonicalJson, fail, ok, type Problem, problem, type Result } from '../../lib/base/index.ts';
import { checkEntry, type Entry, kinds } from '../../lib/record/index.ts';

/** Deepest nesting of a body; no described kind comes near it. */
const DEPTH_MAX = 32;

/** Most bytes of a body in canonical JSON. */
const BODY_BYTES_MAX = 64_000;
/** Kinds that hold an outline, a verdict with the evidence it was made from, or a whole table. */
const LARGE_BODY_BYTES_MAX: ReadonlyMap<string, number> = new Map([
  [kinds.markDrawn.kind, 256_000],
  [kinds.markRedrawn.kind, 256_000],
  // A mark and what is wrapped round it.
  [kinds.secondMeasured.kind, 257_000],
  [kinds.inspectionSubmitted.kind, 2_000_000],
  [kinds.tableDrafted.kind, 4_000_000],
]);

/** One entry of a batch as received: envelope and body checked, so that the others do not suffer from a malformed one. */
export function readEnvelope(received: unknown): Result<Entry, Problem> {
  const checked = checkEntry(received);
  if (!checked.ok) return checked;
  const entry = checked.value;
  const wrong = plain(entry);
  if (!wrong.ok) return wrong;
  const large = tooLarge(entry);
  return large === undefined ? ok(entry) : fail(large);
}

function tooLarge(entry: Entry): Problem | undefined {
  const bytes = Buffer.byteLength(canonicalJson(entry.body));
  const bytesMax = LARGE_BODY_BYTES_MAX.get(entry.kind) ?? BODY_BYTES_MAX;
  if (bytes <= bytesMax) return undefined;
  return problem(
    'entry-bytes',
    'body',
    `${bytes} bytes`,
    `The body of "${entry.kind}" may have at most ${bytesMax / 1000} kB`,
    'Write less text or draw with fewer points, in several entries if need be.',
  );
}

/** The id to answer under, also when the envelope is malformed. */
export function envelopeId(received: unknown): string {
  if (typeof received !== 'object' || received === null || !('id' in received)) return '';
  return typeof received.id === 'string' ? received.id.slice(0, 64) : '';
}

/** Refuses values that JSON reads but cannot write back alike, which would break the chain of hashes. */
function plain(entry: Entry): Result<void, Problem> {
  for (const [field, text] of Object.entries({ kind: entry.kind, device: entry.device })) {
    if (/\p{Cs}|\0/u.test(text)) {
      return fail(problem('entry-text', field, text, 'This text holds half a character', 'Write it again.'));
    }
  }
  const open: Array<readonly [string, unknown, number]> = [['body', entry.body, 0]];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    const [field, value, depth] = next;
    if (typeof value === 'number' && !Number.isFinite(value)) {
      return fail(
        problem(
          'entry-number',
          field,
          String(value),
          'This number is too large to keep',
          'Enter the number again.',
        ),
      );
    }
    if (typeof value !== 'object' || value === null) continue;
    if (depth >= DEPTH_MAX) {
      return fail(
        problem(
          'entry-depth',
          field.slice(0, 80),
          '',
          `An entry is at most ${DEPTH_MAX} levels deep`,
          'Send it in its described form.',
        ),
      );
    }
    for (const [name, member] of Object.entries(value)) open.push([`${field}.${name}`, member, depth + 1]);
  }
  return ok(undefined);
}

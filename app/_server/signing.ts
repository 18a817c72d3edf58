import { fail, ok, problem, type Result } from '../../lib/base/index.ts';
import { type Outcome, passwordFits, type SignedIn } from '../../lib/store/server/index.ts';
import { ATTEMPTS_PER_MINUTE_MAX, hashingBusy, passwordTries, tooOften } from './attempts.ts';
import type { ServerContext } from './context.ts';
import { appendReceived } from './entries.ts';
import { type Refusal, refuse } from './problems.ts';

/** Appends a signature of a person who enters their password again for it; tries are counted as at signing in. */
export async function sign(
  context: ServerContext,
  person: SignedIn,
  { password, entry }: { readonly password: string; readonly entry: unknown },
): Promise<Result<Outcome, Refusal>> {
  const key = passwordTries(person.id);
  const wait = context.attempts.take(key, ATTEMPTS_PER_MINUTE_MAX, Date.parse(context.now()));
  if (wait > 0) return fail(tooOften(wait));
  if (context.hashing.full) return fail(hashingBusy());
  if (!(await context.hashing.run(() => passwordFits(context.store, person.id, password)))) {
    return fail(
      refuse(
        403,
        problem(
          'sign-password',
          'password',
          '',
          'This is not your password',
          'Enter it again; nothing of the review is lost.',
        ),
      ),
    );
  }
  context.attempts.forget(key);
  const [outcome] = appendReceived(context, person, [entry], true);
  if (outcome === undefined) throw new Error('Broken invariant: an entry has an outcome');
  return ok(outcome);
}

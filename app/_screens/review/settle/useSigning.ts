'use client';
import { useRef, useState } from 'react';
import { canonicalJson, type Problem, problem } from '../../../../lib/base/index.ts';
import { type Entry, kinds, makeEntry } from '../../../../lib/record/index.ts';
import type { Conclusion } from '../../../../lib/review/index.ts';
import { deviceId, newId, now } from '../../../_client/device.ts';
import { signEntry } from '../../../_client/remote.ts';
import { useWorkplace } from '../../../_client/Workplace.tsx';
import { problemOf } from '../../SignIn.tsx';

/** Signs a conclusion with the password entered again. The password is sent once and kept nowhere. */
export function useSigning(inspection: string, onDone: () => Promise<void>) {
  const { me, site } = useWorkplace();
  const made = useRef(new Map<string, Entry>());
  const [wrong, setWrong] = useState<Problem | null>(null);
  const [busy, setBusy] = useState(false);
  /** True when it is signed. */
  const sign = async (
    conclusion: Conclusion,
    password: string,
    refusal: Problem | null,
  ): Promise<boolean> => {
    const why = refusal ?? lacks(conclusion, password);
    setWrong(why);
    if (why !== null) return false;
    // The same words are the same entry, so that signing again after a lost answer is harmless.
    const words = canonicalJson(conclusion);
    const context = { id: newId(), site: site.id, at: now(), author: me.person.id, device: deviceId() };
    const entry =
      made.current.get(words) ?? makeEntry(kinds.reviewConcluded, inspection, conclusion, context);
    made.current.set(words, entry);
    setBusy(true);
    try {
      const outcome = await signEntry(password, entry);
      if (outcome.status === 'refused') {
        setWrong(outcome.problem);
        return false;
      }
      await onDone();
      return true;
    } catch (error) {
      setWrong(problemOf(error));
      return false;
    } finally {
      setBusy(false);
    }
  };
  return { sign, wrong, busy };
}

function lacks({ outcome, reason }: Conclusion, password: string): Problem | null {
  if (outcome !== 'agreed' && reason === '') {
    return problem(
      'review-reason',
      'reason',
      '',
      'Everything but agreeing needs a reason',
      'Say in a sentence what you saw or miss.',
    );
  }
  return password === ''
    ? problem('sign-password', 'password', '', 'A review is signed with your password', 'Enter it again.')
    : null;
}

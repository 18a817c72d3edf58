'use client';
import { useCallback, useEffect, useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import { type BrokenLink, brokenLinks, linkOf, type StoredEntry } from '../../../lib/record/index.ts';
import type { Withheld } from '../../../lib/review/index.ts';
import { call } from '../../_client/remote.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { problemOf } from '../SignIn.tsx';

/** An inspection's record as the server has it, with the end of its chain. */
export interface ChainAnswer {
  readonly entries: readonly StoredEntry[];
  readonly withheld: Withheld | null;
  readonly head: { readonly entries: number; readonly hash: string };
}

/** The record of an inspection with its chain, and what the check of it in this browser found. */
export interface CheckedChain extends ChainAnswer {
  /** Null: entries are kept from this person, so that the chain cannot be followed here. */
  readonly broken: readonly BrokenLink[] | null;
}

/** Fetches the record of an inspection and follows its chain of hashes here; nothing is taken on the server's word. */
export function useChain(inspection: string | null) {
  const { site } = useWorkplace();
  const [chain, setChain] = useState<CheckedChain | null>(null);
  const [wrong, setWrong] = useState<Problem | null>(null);
  const check = useCallback(async () => {
    if (inspection === null) return;
    try {
      const answer = await call<ChainAnswer>(
        'GET',
        `/api/v1/subjects/inspection/${inspection}/entries?site=${site.id}`,
      );
      const broken = answer.withheld === null ? brokenLinks(answer.entries.map(linkOf), answer.head) : null;
      setChain({ ...answer, broken });
      setWrong(null);
    } catch (error) {
      setWrong(problemOf(error));
    }
  }, [inspection, site.id]);
  useEffect(() => void check(), [check]);
  return { chain, wrong, check };
}

'use client';
import { useEffect, useMemo, useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import {
  answersOf,
  type Consequences,
  consequencesOf,
  Evidence,
  inEffectAlways,
  type LimitFinding,
  withDraft,
} from '../../../lib/rules/index.ts';
import type { Table } from '../../../lib/tolerances/index.ts';
import { call } from '../../_client/remote.ts';
import { useUnits } from '../../_client/units.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { problemOf } from '../SignIn.tsx';

/** What the last submission of one wheel rested on. */
export interface WheelEvidence {
  readonly wheel: string;
  readonly inspection: string;
  readonly evidence: Evidence;
}

/** The latest evidence of every wheel of the site, as far as it has come. */
export interface Fleet {
  readonly wheels: readonly WheelEvidence[];
  /** Submissions in a form that this version cannot read. */
  readonly unreadable: number;
  readonly complete: boolean;
  readonly problem: Problem | null;
}

interface Page {
  readonly wheels: readonly {
    readonly wheel: string;
    readonly inspection: string;
    readonly evidence: unknown;
  }[];
  readonly next: string | null;
}

const NOTHING: Fleet = { wheels: [], unreadable: 0, complete: false, problem: null };

/** Fetches the latest evidence of the site's wheels once, page by page; `again` fetches it anew. */
export function useFleet(): Fleet & { again(): void } {
  const { site } = useWorkplace();
  const [fleet, setFleet] = useState(NOTHING);
  const [tries, setTries] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another try is another fetch
  useEffect(() => {
    let gone = false;
    setFleet(NOTHING);
    const read = async () => {
      let so = NOTHING;
      for (let after: string | null = ''; after !== null; ) {
        const page: Page = await call<Page>('GET', `/api/v1/evidence?site=${site.id}&after=${after}`);
        if (gone) return;
        const parsed = page.wheels.map((one) => ({ ...one, evidence: Evidence.safeParse(one.evidence) }));
        so = {
          wheels: [
            ...so.wheels,
            ...parsed.flatMap(({ wheel, inspection, evidence }) =>
              evidence.success ? [{ wheel, inspection, evidence: evidence.data }] : [],
            ),
          ],
          unreadable: so.unreadable + parsed.filter(({ evidence }) => !evidence.success).length,
          complete: page.next === null,
          problem: null,
        };
        setFleet(so);
        after = page.next;
      }
    };
    read().catch((error: unknown) => {
      const problem = problemOf(error);
      if (!gone) setFleet((so) => ({ ...so, problem }));
    });
    return () => {
      gone = true;
    };
  }, [site.id, tries]);
  return { ...fleet, again: () => setTries((count) => count + 1) };
}

/** Wheels decided on between two breaths of the page. */
const AT_ONCE = 8;

/** What a draft would change for each wheel, with how many wheels have been gone through. */
export interface FleetConsequences {
  readonly done: number;
  readonly changes: readonly (WheelEvidence & { readonly consequences: Consequences })[];
  readonly parts: number;
}

const NO_CONSEQUENCES: FleetConsequences = { done: 0, changes: [], parts: 0 };

/** Goes through the fleet under the tables in force and under those with the draft, a few wheels at a time. */
export function useConsequences(fleet: Fleet, inForce: readonly Table[], draft: Table): FleetConsequences {
  const [found, setFound] = useState(NO_CONSEQUENCES);
  const { wheels } = fleet;
  const [units] = useUnits();
  useEffect(() => {
    const before = inEffectAlways(inForce);
    const after = inEffectAlways(withDraft(inForce, draft));
    let timer: ReturnType<typeof setTimeout> | undefined;
    const goOn = (so: FleetConsequences) => {
      const next = wheels.slice(so.done, so.done + AT_ONCE).map((one) => ({
        ...one,
        consequences: consequencesOf(one.evidence, before, after, units),
      }));
      const now = {
        done: so.done + next.length,
        changes: [...so.changes, ...next.filter(({ consequences }) => hasChange(consequences))],
        parts: so.parts + next.reduce((sum, { consequences }) => sum + consequences.parts, 0),
      };
      setFound(now);
      if (now.done < wheels.length) timer = setTimeout(() => goOn(now));
    };
    goOn(NO_CONSEQUENCES);
    return () => clearTimeout(timer);
  }, [wheels, inForce, draft, units]);
  return found;
}

function hasChange({ changed, fit }: Consequences): boolean {
  return changed.length > 0 || fit.before !== fit.after;
}

/** The fleet's readings that the rows of a table are compared with: sizes by the name of the row. */
export function useReadings(fleet: Fleet, table: Table | null): ReadonlyMap<string, readonly number[]> {
  const { wheels } = fleet;
  return useMemo(() => {
    const byRow = new Map<string, number[]>();
    if (table === null) return byRow;
    const alone = inEffectAlways([table]);
    for (const { evidence } of wheels) {
      for (const finding of answersOf(evidence, alone).parts.flatMap((part) => part.findings)) {
        if (finding.about !== 'limit') continue;
        byRow.set(finding.rule.row, [...(byRow.get(finding.rule.row) ?? []), ...valuesOf(finding)]);
      }
    }
    return byRow;
  }, [wheels, table]);
}

function valuesOf(finding: LimitFinding): number[] {
  return finding.positions.map((one) => one.value);
}

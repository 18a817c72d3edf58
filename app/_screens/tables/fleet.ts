'use client';
import { useCallback, useEffect, useMemo, useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import {
  answersOf,
  type Consequences,
  consequencesOf,
  Evidence,
  inEffectAlways,
  type LimitFinding,
  type Measured,
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

interface Page {
  readonly wheels: readonly {
    readonly wheel: string;
    readonly inspection: string;
    readonly evidence: unknown;
  }[];
  readonly next: string | null;
}

/** The latest evidence of the site's wheels, page by page, with how many submissions cannot be read by this version. */
async function* pagesOf(site: string): AsyncGenerator<{ wheels: WheelEvidence[]; unreadable: number }> {
  for (let after: string | null = ''; after !== null; ) {
    const page: Page = await call<Page>('GET', `/api/v1/evidence?site=${site}&after=${after}`);
    const wheels = page.wheels.flatMap(({ wheel, inspection, evidence }) => {
      const parsed = Evidence.safeParse(evidence);
      return parsed.success ? [{ wheel, inspection, evidence: parsed.data }] : [];
    });
    yield { wheels, unreadable: page.wheels.length - wheels.length };
    after = page.next;
  }
}

/** Wheels whose readings are drawn; of a larger fleet those that come first. */
const DRAWN_MAX = 300;
const NONE: readonly WheelEvidence[] = [];

/** The latest evidence of the site's wheels for drawings, as far as it has come; none without a connection. */
export function useFleet(): readonly WheelEvidence[] {
  const { site } = useWorkplace();
  const [wheels, setWheels] = useState(NONE);
  useEffect(() => {
    let gone = false;
    const read = async () => {
      let so = NONE;
      for await (const page of pagesOf(site.id)) {
        if (gone || so.length >= DRAWN_MAX) return;
        so = [...so, ...page.wheels];
        setWheels(so);
      }
    };
    // Without the readings a limit is drawn without them.
    read().catch(problemOf);
    return () => {
      gone = true;
    };
  }, [site.id]);
  return wheels;
}

/** Wheels decided on between two breaths of the page. */
const AT_ONCE = 8;

/** What a draft would change for each wheel, with how many wheels have been gone through. */
export interface FleetConsequences {
  readonly done: number;
  readonly changes: readonly (WheelEvidence & { readonly consequences: Consequences })[];
  readonly parts: number;
  /** Submissions in a form that this version cannot read. */
  readonly unreadable: number;
  readonly complete: boolean;
  readonly problem: Problem | null;
}

const BEGUN: FleetConsequences = {
  done: 0,
  changes: [],
  parts: 0,
  unreadable: 0,
  complete: false,
  problem: null,
};

/**
 * Goes through the fleet under the tables in force and under those with the draft, a few wheels at a time; of a wheel
 * that does not change nothing is kept. `again` goes through it anew.
 */
export function useConsequences(
  inForce: readonly Table[],
  draft: Table,
): FleetConsequences & { again(): void } {
  const { site } = useWorkplace();
  const [units] = useUnits();
  const [found, setFound] = useState(BEGUN);
  const [tries, setTries] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another try goes through the fleet anew
  useEffect(() => {
    let gone = false;
    const before = inEffectAlways(inForce);
    const after = inEffectAlways(withDraft(inForce, draft));
    const goThrough = async () => {
      let so = BEGUN;
      setFound(so);
      for await (const { wheels, unreadable } of pagesOf(site.id)) {
        so = { ...so, unreadable: so.unreadable + unreadable };
        for (let i = 0; i < wheels.length && !gone; i += AT_ONCE) {
          so = withWheels(so, wheels.slice(i, i + AT_ONCE), (evidence) =>
            consequencesOf(evidence, before, after, units),
          );
          setFound(so);
          await new Promise((breath) => setTimeout(breath));
        }
        if (gone) return;
      }
      setFound({ ...so, complete: true });
    };
    goThrough().catch((error: unknown) => {
      const problem = problemOf(error);
      if (!gone) setFound((so) => ({ ...so, problem }));
    });
    return () => {
      gone = true;
    };
  }, [site.id, inForce, draft, units, tries]);
  const again = useCallback(() => setTries((count) => count + 1), []);
  return { ...found, again };
}

function withWheels(
  so: FleetConsequences,
  wheels: readonly WheelEvidence[],
  decide: (evidence: Evidence) => Consequences,
): FleetConsequences {
  const decided = wheels.map((one) => ({ ...one, consequences: decide(one.evidence) }));
  return {
    ...so,
    done: so.done + decided.length,
    changes: [...so.changes, ...decided.filter(({ consequences }) => hasChange(consequences))],
    parts: so.parts + decided.reduce((sum, { consequences }) => sum + consequences.parts, 0),
  };
}

function hasChange({ changed, fit }: Consequences): boolean {
  return changed.length > 0 || fit.before !== fit.after;
}

/** The readings of wheels that the rows of a table are compared with, by the name of the row. */
export function useReadings(
  wheels: readonly WheelEvidence[],
  table: Table | null,
): ReadonlyMap<string, readonly Measured[]> {
  return useMemo(() => {
    const byRow = new Map<string, Measured[]>();
    if (table === null) return byRow;
    const alone = inEffectAlways([table]);
    for (const { evidence } of wheels) {
      for (const finding of answersOf(evidence, alone).parts.flatMap((part) => part.findings)) {
        if (finding.about !== 'limit') continue;
        byRow.set(finding.rule.row, [...(byRow.get(finding.rule.row) ?? []), ...measuredIn(finding)]);
      }
    }
    return byRow;
  }, [wheels, table]);
}

function measuredIn(finding: LimitFinding): Measured[] {
  return finding.positions.map(({ value, u }) => ({ value, u }));
}

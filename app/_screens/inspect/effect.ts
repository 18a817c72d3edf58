'use client';
import { useMemo } from 'react';
import type { z } from 'zod';
import { foldInspection, type Kind, makeEntry } from '../../../lib/record/index.ts';
import { CLASSES, sizeText } from '../../../lib/rules/index.ts';
import { newId, now } from '../../_client/device.ts';
import { type InspectionView, useDecide } from '../../_client/inspection.ts';
import { useUnits } from '../../_client/units.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';

/** What of a tried entry says which quantity it is about, where it is about one. */
interface Tried {
  readonly characteristic?: string;
  readonly zone?: string;
  readonly state?: string | null;
  readonly clock?: number | null;
}

/** What an entry would do to the verdict if it were made now. */
export interface Effect {
  readonly text: string;
}

/**
 * Evaluates the inspection as it would be with one more entry, by the same code that gives the verdict.
 * Null while there is no body to try.
 */
export function useEffectOf<B extends z.ZodType>(
  view: InspectionView,
  slot: string,
  kind: Kind<B>,
  body: z.input<B> | null,
): Effect | null {
  const { me, site } = useWorkplace();
  const decideNow = useDecide();
  const [units] = useUnits();
  const key = body === null ? null : JSON.stringify(body);
  return useMemo(() => {
    const again = key === null ? null : kind.body.safeParse(JSON.parse(key));
    if (again === null || !again.success) return null;
    const tried = makeEntry(kind, view.state.id, JSON.parse(key ?? '') as z.input<B>, {
      id: newId(),
      site: site.id,
      at: now(),
      author: me.person.id,
      device: 'trial',
    });
    const state = foldInspection([...view.entries, tried]);
    const { verdict } = decideNow(state, view.wheel);
    const part = verdict.parts.find((one) => one.slot === slot);
    if (part === undefined) return null;
    const { characteristic, zone, state: ringState, clock } = tried.body as Tried;
    // Several tables may speak of it: the strictest answer is the one that counts.
    const [finding] = part.findings
      .filter((one) => one.about === 'limit')
      .filter(
        (one) =>
          one.characteristic === characteristic && one.zone === zone && one.state === (ringState ?? null),
      )
      .sort((a, b) => CLASSES.indexOf(b.class) - CLASSES.indexOf(a.class));
    if (finding === undefined) {
      return { text: `No limit on file for this. The ${slot} would be: ${part.result}.` };
    }
    const here = part.missing.filter(
      (one) =>
        one.characteristic === characteristic &&
        one.zone === zone &&
        one.state === finding.state &&
        one.clock === (clock ?? null),
    );
    const cannot = here.some((one) => one.what === 'instrument')
      ? ' This instrument cannot support keep.'
      : '';
    const disagree = here.some((one) => one.what === 'disagreement')
      ? ' The instruments disagree here: the worst of them counts.'
      : '';
    const doubt =
      finding.guardedClass === finding.simpleClass
        ? ''
        : finding.decisionRule === 'guarded'
          ? ` By the number alone ${finding.simpleClass}; its uncertainty is too large for that.`
          : ` With its uncertainty ${finding.guardedClass}; the table decides by the number alone.`;
    const rework = finding.noRework === null ? '' : ' Rework is not on offer.';
    const worst = (clock ?? null) === finding.governing.clock ? '' : ' (another place is worse)';
    return {
      text: `${finding.class}${worst}, margin to keep ${sizeText(finding.characteristic, finding.margin, units)}.${doubt}${disagree}${rework}${cannot} The ${slot} would be: ${part.result}, ${part.missing.length} still missing.`,
    };
  }, [view, slot, kind, key, me, site, decideNow, units]);
}

import type { InspectionState, RegisterState, WheelState } from '../record/index.ts';
import { type TablesOnFile, tablesInForce } from '../tolerances/index.ts';
import { evaluate, type Verdict } from './evaluate.ts';
import { gatherEvidence, type SizeSource } from './gather.ts';

/** A verdict, and the tables that the site names and of which no edition was in force at that moment. */
export interface Decision {
  readonly verdict: Verdict;
  readonly without: readonly string[];
}

/**
 * What the record says of a wheel at the moment `decidedAt` (ISO 8601 UTC) under the tables that were in force at its
 * site then. The one path to a verdict, at the wheel and on the server alike. A table that the site names holds every
 * part while no edition of it counts; so does an edition under that name of which this version cannot read all, as an
 * unreadable entry. `sizes` as in `gatherEvidence`.
 */
export function decide(
  inspection: InspectionState,
  wheel: WheelState,
  register: RegisterState,
  onFile: TablesOnFile,
  decidedAt: string,
  sizes?: SizeSource,
): Decision {
  const named = register.sites.get(wheel.site)?.tables ?? [];
  const { tables, without } = tablesInForce(named, onFile.tables, decidedAt);
  const evidence = gatherEvidence(inspection, wheel, register, decidedAt, sizes);
  const unread = onFile.unreadable.filter(({ names }) =>
    names.some((name) => name === '' || named.includes(name)),
  );
  const inputs = {
    ...evidence,
    ...(without.length === 0 ? {} : { tablesWithout: [...without] }),
    unreadable: evidence.unreadable + unread.length,
  };
  return { verdict: evaluate(inputs, tables), without };
}

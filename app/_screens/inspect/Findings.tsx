'use client';
import { useMemo } from 'react';
import type { Instrument } from '../../../lib/readings/index.ts';
import {
  type Finding,
  sentenceOf,
  type TraceContext,
  type Verdict as VerdictData,
} from '../../../lib/rules/index.ts';
import { useUnits } from '../../_client/units.ts';
import { Empty, Verdict } from '../../_ui/kit.tsx';
import { FindingTrace } from './FindingTrace.tsx';
import classes from './inspect.module.css';

interface Props {
  readonly findings: readonly Finding[];
  /** The verdict that the findings are of, and the slot: for the readings and tables in their traces. */
  readonly verdict: VerdictData;
  readonly slot: string;
  /** Instruments of the site, for what would settle a finding. */
  readonly instruments: ReadonlyMap<string, Instrument>;
}

/** Findings as sentences, the worst first, each with its trace to open. */
export function Findings({ findings, verdict, slot, instruments }: Props) {
  const [units] = useUnits();
  const context = useMemo((): TraceContext => {
    const { inputs, tables } = verdict;
    const readings = inputs.parts.find((part) => part.slot === slot)?.readings ?? [];
    return { readings, tables, instruments: [...instruments.values()], at: inputs.decidedAt };
  }, [verdict, slot, instruments]);
  if (findings.length === 0) return <Empty>Nothing has been compared with a limit yet.</Empty>;
  const order = ['scrap', 'repair', 'keep'];
  const sorted = [...findings].sort((a, b) => order.indexOf(a.class) - order.indexOf(b.class));
  return (
    <>
      {sorted.map((finding) => (
        <div className={classes.finding} key={`${finding.about}${finding.sentence}`}>
          <Verdict result={finding.class} />{' '}
          {finding.rule?.source.kind === 'demonstration' ? <b>Demonstration limit. </b> : null}
          {sentenceOf(finding, units)}
          <FindingTrace finding={finding} context={context} units={units} />
        </div>
      ))}
    </>
  );
}

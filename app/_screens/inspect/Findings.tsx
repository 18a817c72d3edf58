'use client';
import { type Finding, type LimitFinding, sizeText, sourceText } from '../../../lib/rules/index.ts';
import { showNumber, showProbability } from '../../../lib/units/index.ts';
import { Empty, Verdict } from '../../_ui/kit.tsx';
import classes from './inspect.module.css';

/** Findings as sentences, the worst first, each with its trace to open. */
export function Findings({ findings }: { findings: readonly Finding[] }) {
  if (findings.length === 0) return <Empty>Nothing has been compared with a limit yet.</Empty>;
  const order = ['scrap', 'repair', 'keep'];
  const sorted = [...findings].sort((a, b) => order.indexOf(a.class) - order.indexOf(b.class));
  return (
    <>
      {sorted.map((finding) => (
        <div className={classes.finding} key={`${finding.about}${finding.sentence}`}>
          <Verdict result={finding.class} />{' '}
          {finding.rule?.source.kind === 'demonstration' ? <b>Demonstration limit. </b> : null}
          {finding.sentence}
          <details>
            <summary>How this was decided</summary>
            <Trace finding={finding} />
          </details>
        </div>
      ))}
    </>
  );
}

function Trace({ finding }: { finding: Finding }) {
  return (
    <dl className={classes.trace}>
      {finding.about === 'limit' ? <LimitTrace finding={finding} /> : null}
      <dt>Rule</dt>
      <dd>{finding.rule === null ? 'none on file' : `${finding.rule.table}, ${finding.rule.row}`}</dd>
      <dt>Owner</dt>
      <dd>
        {finding.rule === null
          ? 'nobody'
          : `${sourceText(finding.rule.source)} (${finding.rule.source.kind})`}
      </dd>
      {finding.noRework === null ? null : (
        <>
          <dt>Rework</dt>
          <dd>not on offer: {sourceText(finding.noRework.source)}</dd>
        </>
      )}
    </dl>
  );
}

function LimitTrace({ finding }: { finding: LimitFinding }) {
  const { governing, characteristic } = finding;
  return (
    <>
      <dt>Places</dt>
      <dd>
        {finding.positions
          .map(
            (one) =>
              `${one.clock === null ? 'unplaced' : `${one.clock} o'clock`} ${sizeText(characteristic, one.value)}`,
          )
          .join('; ')}
      </dd>
      <dt>Governing</dt>
      <dd>
        {sizeText(characteristic, governing.value)}, u = {showNumber(governing.u, 3)}, {governing.repeats}{' '}
        reading{governing.repeats === 1 ? '' : 's'}
      </dd>
      <dt>Margin to keep</dt>
      <dd>{sizeText(characteristic, finding.margin)}</dd>
      <dt>Beyond keep</dt>
      <dd>{showProbability(finding.beyondKeep)}</dd>
      <dt>Beyond repair</dt>
      <dd>{showProbability(finding.beyondRepair)}</dd>
      <dt>Risk allowed</dt>
      <dd>
        {showProbability(finding.risk)}, {finding.decisionRule}
      </dd>
      <dt>Guarded / simple</dt>
      <dd>
        {finding.guardedClass} / {finding.simpleClass}
      </dd>
    </>
  );
}

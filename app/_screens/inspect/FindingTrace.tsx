'use client';
import { useMemo, useState } from 'react';
import { type Finding, type TraceContext, type TraceStep, traceOf } from '../../../lib/rules/index.ts';
import type { UnitPreference } from '../../../lib/units/index.ts';
import classes from './trace.module.css';

interface Props {
  readonly finding: Finding;
  readonly context: TraceContext;
  readonly units: UnitPreference;
}

/** How a finding came about: closed at first, then step by step, each with its particulars to open. */
export function FindingTrace({ finding, context, units }: Props) {
  const [open, setOpen] = useState(false);
  return (
    <details className={classes.trace} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>How this was decided</summary>
      {open ? <Steps finding={finding} context={context} units={units} /> : null}
    </details>
  );
}

/** Worked out only once opened: what would settle a finding takes a moment on a phone. */
function Steps({ finding, context, units }: Props) {
  const steps = useMemo(() => traceOf(finding, context, units), [finding, context, units]);
  return (
    <ol className={classes.steps}>
      {steps.map((step) => (
        <li key={step.title}>{step.lines.length === 0 ? <Gist step={step} /> : <Step step={step} />}</li>
      ))}
    </ol>
  );
}

function Gist({ step }: { step: TraceStep }) {
  return (
    <div className={classes.gist}>
      <b>{step.title}</b> <span>{step.gist}</span>
    </div>
  );
}

function Step({ step }: { step: TraceStep }) {
  return (
    <details>
      <summary>
        <Gist step={step} />
      </summary>
      <ul className={classes.lines}>
        {step.lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </details>
  );
}

'use client';
import { type FormEvent, useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import { type InflationStage, inflationStages, kinds, nextStage } from '../../../lib/record/index.ts';
import { parseTypedPressure } from '../../../lib/units/index.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Caution, Field, ProblemNote, When } from '../../_ui/kit.tsx';
import classes from './inflation.module.css';

/** Inflation stage by stage: the next opens when the one before is done, none while the set is not fit. */
export function InflationCard({ view }: { view: InspectionView }) {
  const { state, verdict } = view;
  const next = nextStage(new Set(state.inflation.keys()));
  const begun = state.inflation.size > 0;
  const { has } = useWorkplace();
  const may = has('inspector');
  return (
    <Card title="Inflation in stages">
      {verdict.assembly.fit ? null : (
        <Caution kind="danger">
          No air: the set is not fit to go together.{begun ? ' Let out what is in it, core removed.' : ''}
        </Caution>
      )}
      {state.brokenOff !== null && !begun ? (
        <Caution kind="note">
          Air was let out, <When at={state.brokenOff.at} />: {state.brokenOff.value.reason}
        </Caution>
      ) : null}
      <ol className={classes.stages}>
        {inflationStages.map((stage) => {
          const done = state.inflation.get(stage.id);
          const open = stage === next && verdict.assembly.fit && may;
          return (
            <li key={stage.id} className={open ? classes.open : undefined}>
              <b className={classes.title}>{stage.id}</b>
              {done === undefined ? null : (
                <span>
                  {' '}
                  done{done.value.typed === '' ? '' : `, ${done.value.typed}`}, <When at={done.at} />
                </span>
              )}
              <p>{stage.ask}</p>
              <Caution kind={open ? 'danger' : 'note'}>
                {stage.caution} <small>({stage.source})</small>
              </Caution>
              {open ? <StageDone key={stage.id} view={view} stage={stage} /> : null}
            </li>
          );
        })}
      </ol>
      {begun && may ? <BreakOff view={view} /> : null}
      {may ? null : <p>An inspector of the site goes through the stages.</p>}
    </Card>
  );
}

/** Answers a stage; where the gauge is read, with what it shows. A pressure above the usual is asked about once. */
function StageDone({ view, stage }: { view: InspectionView; stage: InflationStage }) {
  const { write } = useWorkplace();
  const [typed, setTyped] = useState('');
  const [wrong, setWrong] = useState<Problem | null>(null);
  const [asked, setAsked] = useState<number | null>(null);
  const recommended = view.state.pressure?.value;
  const most = stage.askAboveKpa ?? recommended?.recommendedKpa ?? Number.POSITIVE_INFINITY;
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const kpa = stage.pressure ? parseTypedPressure(typed, 'pressure') : null;
    if (kpa !== null && !kpa.ok) return setWrong(kpa.error);
    setWrong(null);
    const shown = kpa === null ? null : kpa.value;
    if (shown !== null && shown > most && asked !== shown) return setAsked(shown);
    void write(kinds.inflationStageDone, view.state.id, { stage: stage.id, typed: typed.trim(), kpa: shown });
  };
  return (
    <form onSubmit={submit}>
      {stage.pressure ? (
        <Field label="The gauge shows" hint="With its unit: 430 kPa, 4,3 bar or 62 psi">
          <input value={typed} onChange={(event) => setTyped(event.target.value)} />
        </Field>
      ) : null}
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      {asked === null ? null : (
        <Caution kind="danger">
          More than {stage.askAboveKpa} kPa. Only inside a restraint, and only as much as seats the beads. If
          that is so, press again.
        </Caution>
      )}
      <Button type="submit" tone="act">
        {asked === null ? `Done: ${stage.id}` : 'It is right so'}
      </Button>
    </form>
  );
}

function BreakOff({ view }: { view: InspectionView }) {
  const { write } = useWorkplace();
  const [open, setOpen] = useState(false);
  const [reason, setReason] = useState('');
  if (!open) return <Button onClick={() => setOpen(true)}>Air let out, begin again …</Button>;
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        if (reason.trim() === '') return;
        void write(kinds.inflationBrokenOff, view.state.id, { reason });
        setOpen(false);
      }}
    >
      <Caution kind="danger">
        All the air out, with the core removed, before a hand goes to the rings.
      </Caution>
      <Field label="Why">
        <input required maxLength={500} value={reason} onChange={(event) => setReason(event.target.value)} />
      </Field>
      <Button type="submit" tone="grave" disabled={reason.trim() === ''}>
        The air is out
      </Button>
    </form>
  );
}

'use client';
import { useMemo, useState } from 'react';
import {
  type BookMoment,
  bookMoments,
  type ComponentState,
  componentsIn,
  type InspectionState,
  inspectionAt,
  type WheelState,
} from '../../../lib/record/index.ts';
import { replacedSince, type Withheld } from '../../../lib/review/index.ts';
import type { Verdict } from '../../../lib/rules/index.ts';
import { type Construction, constructionOf } from '../../../lib/wheel/index.ts';
import { useInspection } from '../../_client/inspection.ts';
import { usePlace } from '../../_client/place.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { SectionDrawing } from '../../_drawings/SectionDrawing.tsx';
import { UnrolledRim } from '../../_drawings/UnrolledRim.tsx';
import { Button, Caution, DemonstrationLimits, Empty, When } from '../../_ui/kit.tsx';
import { type ZoneState, zoneStates } from '../inspect/zoneStates.ts';
import classes from './wheel.module.css';

const WHAT: Readonly<Record<BookMoment['what'], string>> = {
  placed: 'Put',
  fitted: 'Fitted:',
  'taken out': 'Taken out:',
  tested: 'Tested:',
  repaired: 'Repaired:',
  'inspection begun': 'Inspection begun:',
  submitted: 'Submitted:',
  reviewed: 'Reviewed:',
};

/** The rim, in section and laid flat, as the book has it at any moment of its life; it opens at the newest. */
export function ThroughTime({
  wheel,
  inspections,
  withheld,
}: {
  wheel: WheelState;
  inspections: readonly InspectionState[];
  withheld: ReadonlyMap<string, Withheld>;
}) {
  const { register } = useWorkplace();
  const moments = useMemo(() => bookMoments(wheel, inspections, register), [wheel, inspections, register]);
  const last = moments.length - 1;
  const [chosen, setChosen] = useState<number | null>(null);
  const step = Math.min(chosen ?? last, last);
  const moment = moments[step];
  if (moment === undefined) return <Empty>Nothing has happened to this wheel yet.</Empty>;
  return (
    <section className={classes.through} aria-labelledby="through-time">
      <div className={classes.time}>
        <h2 id="through-time">The rim through time</h2>
        <Slider moments={moments} step={step} onStep={setChosen} />
      </div>
      <AsItWas
        wheel={wheel}
        at={step === last ? null : moment.at}
        state={step === last ? (inspections[0] ?? null) : inspectionAt(inspections, moment.at)}
        withheld={withheld}
      />
    </section>
  );
}

function momentText({ at, what, words }: BookMoment): string {
  return `${at.slice(0, 10)}: ${WHAT[what]} ${words.join('; ')}`;
}

function Slider({
  moments,
  step,
  onStep,
}: {
  moments: readonly BookMoment[];
  step: number;
  onStep(step: number): void;
}) {
  const place = usePlace();
  const moment = moments[step];
  if (moment === undefined) return null;
  return (
    <>
      <div className={classes.slider}>
        <Button disabled={step === 0} onClick={() => onStep(step - 1)}>
          Earlier
        </Button>
        <input
          type="range"
          aria-label="Moment in the life of the wheel"
          aria-valuetext={momentText(moment)}
          min={0}
          max={moments.length - 1}
          step={1}
          value={step}
          onChange={(event) => onStep(Number(event.target.value))}
        />
        <Button disabled={step === moments.length - 1} onClick={() => onStep(step + 1)}>
          Later
        </Button>
      </div>
      <p className={classes.moment} role="status">
        <span>
          <small>
            {step + 1} of {moments.length}, <When at={moment.at} />
          </small>
          <b>{WHAT[moment.what]}</b> {moment.words.join('; ')}
        </span>
        {moment.inspection === null ? null : (
          <Button onClick={() => place.go({ inspection: moment.inspection })}>Open it</Button>
        )}
      </p>
    </>
  );
}

function AsItWas({
  wheel,
  at,
  state,
  withheld,
}: {
  wheel: WheelState;
  /** Null: now. */
  at: string | null;
  state: InspectionState | null;
  withheld: ReadonlyMap<string, Withheld>;
}) {
  const place = usePlace();
  const { register } = useWorkplace();
  const construction = constructionOf(wheel.construction);
  const parts = useMemo(() => componentsIn(wheel.id, register, at ?? undefined), [wheel.id, register, at]);
  const replaced = useMemo(
    () => (state === null ? [] : replacedSince(state, parts, register)),
    [state, parts, register],
  );
  const { zones, openOnDemonstration } = useZones(construction, parts, state, replaced);
  const begun = state?.opened?.at ?? null;
  const kept = state !== null && withheld.get(state.id)?.why === 'measure first';
  return (
    <>
      <p>
        {begun === null ? (
          'No inspection had been begun then.'
        ) : (
          <>
            As the inspection of <When at={begun} /> has it
            {kept ? '; its figures are kept from you until you have measured' : ''}.
          </>
        )}
      </p>
      {replaced.length === 0 ? null : (
        <Caution>
          Changed since that inspection: {replaced.join(', ')}. It says nothing of what is there now; below,
          the rim laid flat still shows what it found of the part that was taken out.
        </Caution>
      )}
      {openOnDemonstration ? <DemonstrationLimits /> : null}
      <SectionDrawing
        construction={construction}
        designation={wheel.designation}
        zones={zones}
        selected={null}
        onZone={() => state !== null && place.go({ inspection: state.id })}
      />
      {state === null ? null : (
        <UnrolledRim
          construction={construction}
          state={state}
          parts={parts}
          {...(state.submission === null
            ? {}
            : { verdict: state.submission.value.verdict as unknown as Verdict })}
          onPhoto={(photo) => place.go({ inspection: state.id, photo })}
        />
      )}
    </>
  );
}

/**
 * Zones as the inspection's own verdict had them, but for parts that are no longer there; where it is not submitted yet, as
 * it would be judged now.
 */
function useZones(
  construction: Construction,
  parts: ReadonlyMap<string, ComponentState>,
  state: InspectionState | null,
  replaced: readonly string[],
): { readonly zones: ZoneState[]; readonly openOnDemonstration: boolean } {
  const open = useInspection(state !== null && state.submission === null ? state.id : null);
  return useMemo(() => {
    const looks = state?.looks ?? new Map();
    const submitted = state?.submission?.value.verdict as unknown as Verdict | undefined;
    if (submitted === undefined && open.state === 'ready' && open.value.state.id === state?.id)
      return { zones: zoneStates(open.value), openOnDemonstration: open.value.verdict.demonstration };
    const verdict = { parts: (submitted?.parts ?? []).filter(({ slot }) => !replaced.includes(slot)) };
    const zones = zoneStates({ construction, parts, state: { looks }, verdict });
    return { zones, openOnDemonstration: false };
  }, [construction, parts, state, replaced, open]);
}

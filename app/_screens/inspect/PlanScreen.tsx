'use client';
import type { PartVerdict } from '../../../lib/rules/index.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { usePlace } from '../../_client/place.ts';
import { SectionDrawing } from '../../_drawings/SectionDrawing.tsx';
import { UnrolledRim } from '../../_drawings/UnrolledRim.tsx';
import { Button, Card, Caution, ProblemNote, Verdict, When } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import { useGate, useMayAdd } from './Inspect.tsx';
import classes from './inspect.module.css';
import { QuestionsCard } from './QuestionsCard.tsx';
import { zoneStates } from './zoneStates.ts';

/** The whole wheel: its section with the state of every zone, its parts with their verdicts so far, the ways on. */
export function PlanScreen({ view }: { view: InspectionView }) {
  const place = usePlace();
  const gate = useGate(view);
  const { may, why } = useMayAdd(view);
  const { verdict, wheel, state } = view;
  return (
    <>
      <div className={classes.headline}>
        <b>{wheel.tag}</b> {wheel.machine} {wheel.position}
        <small>
          {wheel.designation}, {wheel.construction}. {state.reason}, <When at={state.opened?.at ?? ''} />
        </small>
      </div>
      {may ? null : <Caution kind="note">{why}</Caution>}
      {state.status === 'sent back' && state.conclusion !== null ? (
        <Caution kind="note">Sent back by the reviewer: {state.conclusion.value.reason}</Caution>
      ) : null}
      {may ? <QuestionsCard view={view} /> : null}
      {view.without.length === 0 ? null : (
        <ProblemNote
          problem={{
            code: 'tables-unknown',
            field: 'tables',
            value: view.without.join(', '),
            message: 'No edition of tables that the site names is in effect',
            wayOut: 'Tell the lead; until one is approved and in effect, nothing can be kept.',
          }}
        />
      )}
      <button
        type="button"
        className={`${classes.gate} ${gate.allows === 'hands-on' ? classes.gateOpen : classes.gateShut}`}
        onClick={() => place.go({ screen: 'gate' })}
      >
        <span>
          <b>{gate.allows === 'hands-on' ? 'Safety gate passed' : 'Walk-around only'}</b>
          <small>
            {gate.allows === 'hands-on' ? 'Hands-on work is open' : `Open: ${gate.open.join(', ')}`}
          </small>
        </span>
        <span aria-hidden="true">›</span>
      </button>
      <SectionDrawing
        construction={view.construction}
        designation={wheel.designation}
        zones={zoneStates(view)}
        selected={null}
        onZone={(slot, zone) => place.go({ part: slot, zone })}
      />
      <Card title="Parts">
        <ul className={list.list}>
          {verdict.parts.map((part) => (
            <li key={part.slot}>
              <button type="button" className={list.row} onClick={() => place.go({ part: part.slot })}>
                <span className={list.main}>
                  <b className={classes.slot}>{part.slot}</b>
                  <small>{missingText(part)}</small>
                </span>
                <Verdict result={part.result} />
              </button>
            </li>
          ))}
        </ul>
      </Card>
      <UnrolledRim
        construction={view.construction}
        state={state}
        verdict={verdict}
        parts={view.parts}
        onPhoto={(photo) => place.go({ photo })}
        onZone={(slot, zone) => place.go({ part: slot, zone })}
      />
      <div className={classes.ways}>
        <Button block onClick={() => place.go({ screen: 'assembly' })}>
          Assembly: {verdict.assembly.fit ? 'fit' : 'not fit'}
        </Button>
        <Button tone="act" block onClick={() => place.go({ screen: 'verdict' })}>
          Verdict and submit
        </Button>
      </div>
    </>
  );
}

/** What is missing and how bad it is so far, in a line. */
export function missingText(part: PartVerdict): string {
  const count = part.missing.length;
  const missing =
    count === 0 ? 'Nothing missing' : count === 1 ? '1 thing missing' : `${count} things missing`;
  const worst = part.result === 'hold' && part.worst !== null ? `, worst so far: ${part.worst}` : '';
  return `${missing}${worst}${part.demonstration ? ', demonstration limits' : ''}`;
}

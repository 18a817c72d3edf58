'use client';
import { type FormEvent, useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import { characteristicOf, readTyped } from '../../../lib/readings/index.ts';
import { kinds, nextTurn, type StudyTurn, studyOrder } from '../../../lib/record/index.ts';
import { newId, rememberedUnit, rememberUnit } from '../../_client/device.ts';
import { useDraft } from '../../_client/useDraft.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Choice, Empty, ProblemNote } from '../../_ui/kit.tsx';
import { Withdraw } from '../../_ui/Withdraw.tsx';
import type { StudyProps } from './StudyPage.tsx';
import classes from './studies.module.css';

/** Asks the person at the device for one reading after the other, in their own order, and shows none of them again. */
export function StudyEntry({ study, plan }: StudyProps) {
  const { me } = useWorkplace();
  const turn = nextTurn(study, me.person.id);
  const order = studyOrder(plan, me.person.id);
  const done = [...study.readings.values()].filter((one) => one.author === me.person.id).length;
  return (
    <Card title="Your readings" aside={<span className={classes.count}>{`${done} of ${order.length}`}</span>}>
      <progress className={classes.progress} max={order.length} value={done}>
        {done} of {order.length}
      </progress>
      {turn === null ? (
        <Empty>
          You have read everything. What came out is shown when the study is closed, so that nobody reads by
          it.
        </Empty>
      ) : (
        <OneReading key={`${turn.part}|${turn.trial}`} study={study} plan={plan} turn={turn} />
      )}
      <Entered study={study} plan={plan} />
    </Card>
  );
}

/** What is being typed for a turn, kept as a draft until it is entered. */
function useTyped({ study, plan, turn }: StudyProps & { turn: StudyTurn }) {
  const { store, write } = useWorkplace();
  const draftKey = ['study', study.id, turn.part, turn.trial].join('|');
  const [typed, type] = useDraft(draftKey);
  const [unit, setUnit] = useState(rememberedUnit);
  const [overlap, setOverlap] = useState(plan.state === 'free');
  const [wrong, setWrong] = useState<Problem | null>(null);
  const [question, setQuestion] = useState<string | null>(null);
  const mayOverlap = characteristicOf(plan.characteristic).plausible.min < 0;
  const change = (text: string) => {
    setWrong(null);
    setQuestion(null);
    void type(text);
  };
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    const read = readTyped(plan.characteristic, typed, unit, mayOverlap && overlap);
    if (!read.ok) return setWrong(read.error);
    if (read.value.question !== null && question === null) return setQuestion(read.value.question);
    await store.setDraft(draftKey, '');
    await write(kinds.studyReadingEntered, study.id, {
      reading: newId(),
      ...turn,
      typed: typed.trim(),
      defaultUnit: unit,
      valueMm: read.value.valueMm,
      confirmed: read.value.question !== null,
      overlap: mayOverlap && overlap,
    });
  };
  const chooseUnit = (next: 'mm' | 'in') => {
    setUnit(next);
    setQuestion(null);
    rememberUnit(next);
  };
  const chooseOverlap = (next: boolean) => {
    setOverlap(next);
    setQuestion(null);
  };
  return { typed, change, unit, chooseUnit, mayOverlap, overlap, chooseOverlap, wrong, question, submit };
}

function OneReading(props: StudyProps & { turn: StudyTurn }) {
  const { plan, turn } = props;
  const entry = useTyped(props);
  const { typed, unit, wrong, question } = entry;
  const characteristic = characteristicOf(plan.characteristic);
  const label = plan.parts.find((one) => one.part === turn.part)?.label ?? '';
  return (
    <form onSubmit={entry.submit} className={classes.entry}>
      <p className={classes.ask}>
        Take part <b>{label}</b>
        <small>
          trial {turn.trial} of {plan.trials}; {characteristic.label.toLowerCase()}
          {plan.state === null ? '' : `, ring ${plan.state}`}
        </small>
      </p>
      <input
        className={classes.big}
        aria-label={`${characteristic.label} of part ${label}`}
        aria-invalid={wrong !== null}
        value={typed}
        onChange={(event) => entry.change(event.target.value)}
        placeholder={unit}
        inputMode={unit === 'mm' ? 'decimal' : 'text'}
        autoComplete="off"
        // biome-ignore lint/a11y/noAutofocus: the field is all there is to do here, one reading after the other
        autoFocus
      />
      {entry.mayOverlap ? (
        <label className={classes.check}>
          <input
            type="checkbox"
            checked={entry.overlap}
            onChange={(event) => entry.chooseOverlap(event.target.checked)}
          />{' '}
          The ends overlap by this much
        </label>
      ) : null}
      {question === null ? null : (
        <p role="alert" className={classes.question}>
          <strong>{question}</strong> If it is, press “It is right”.
        </p>
      )}
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <Button type="submit" tone="act" block disabled={typed.trim() === ''}>
        {question === null ? 'Enter' : 'It is right'}
      </Button>
      <details>
        <summary>How to take it, units</summary>
        <p>{characteristic.how}</p>
        <Choice
          legend="A number without a unit is in"
          options={['mm', 'in']}
          value={unit}
          onChoose={entry.chooseUnit}
        />
      </details>
    </form>
  );
}

/** What the person has entered, without the values: to take one back that went wrong. */
function Entered({ study, plan }: StudyProps) {
  const { me, write } = useWorkplace();
  const own = [...study.readings.values()]
    .filter((one) => one.author === me.person.id)
    .sort((a, b) => (a.at < b.at ? 1 : -1));
  if (own.length === 0) return null;
  const label = (part: string) => plan.parts.find((one) => one.part === part)?.label ?? '';
  return (
    <details>
      <summary>Entered so far ({own.length}); take one back</summary>
      <ul className={classes.entered}>
        {own.map(({ value }) => (
          <li key={value.reading}>
            <span>
              Part {label(value.part)}, trial {value.trial}
            </span>
            <Withdraw
              what={`the reading of part ${label(value.part)} in trial ${value.trial}`}
              onWithdraw={(reason) =>
                void write(kinds.studyReadingWithdrawn, study.id, { reading: value.reading, reason })
              }
            />
          </li>
        ))}
      </ul>
    </details>
  );
}

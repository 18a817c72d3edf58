'use client';
import { type FormEvent, useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import { type GateQuestion, gateQuestions, kinds, pressureRule } from '../../../lib/record/index.ts';
import { parseTypedPressure } from '../../../lib/units/index.ts';
import { now } from '../../_client/device.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { usePlace } from '../../_client/place.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Caution, Choice, Field, ProblemNote, When } from '../../_ui/kit.tsx';
import { useGate } from './Inspect.tsx';

/** What is settled before hands go near the wheel. Every answer is an entry. */
export function GateScreen({ view }: { view: InspectionView }) {
  const place = usePlace();
  const gate = useGate(view);
  const asked = gateQuestions.filter((question) => view.wheel.dual || !question.dualOnly);
  return (
    <>
      <Caution kind="danger">
        A rim with air behind it can come apart with deadly force. Nothing is loosened, struck, welded or
        heated while the tyre holds air. Local codes and the maker’s manual come first.
      </Caution>
      <PressureCard view={view} />
      <h2>Safety gate</h2>
      {asked.map((question) => (
        <Question key={question.id} question={question} view={view} />
      ))}
      <Card title={gate.allows === 'hands-on' ? 'Hands-on work is open' : 'Walk-around only'}>
        <p>
          {gate.allows === 'hands-on'
            ? 'Every point is answered yes. If anything changes, come back and change the answer.'
            : `Still open: ${gate.open.join(', ')}. Until then you can look and photograph from outside the trajectory; nothing can be kept on that.`}
        </p>
        <Button tone="act" block onClick={() => place.go({ screen: null })}>
          {gate.allows === 'hands-on' ? 'Go to the parts' : 'Go on with a walk-around'}
        </Button>
      </Card>
    </>
  );
}

function Question({ question, view }: { question: GateQuestion; view: InspectionView }) {
  const { write, me } = useWorkplace();
  const given = view.state.gate.get(question.id);
  const [by, setBy] = useState(given?.value.by ?? me.person.name);
  const answer = (value: 'yes' | 'no') =>
    write(kinds.gateAnswered, view.state.id, {
      question: question.id,
      answer: value,
      by: question.whoAndWhen ? by.trim() : '',
      doneAt: question.whoAndWhen && value === 'yes' ? now() : null,
    });
  return (
    <Card>
      <Choice
        legend={question.ask}
        options={['yes', 'no']}
        value={given?.value.answer ?? null}
        onChoose={answer}
        words={{ yes: 'Yes', no: 'No' }}
      />
      {question.whoAndWhen ? (
        <Field label="Done by">
          <input
            value={by}
            onChange={(event) => setBy(event.target.value)}
            onBlur={() => given?.value.answer === 'yes' && by.trim() !== given.value.by && void answer('yes')}
          />
        </Field>
      ) : null}
      <Caution kind={question.whoAndWhen ? 'danger' : 'caution'}>
        {question.caution} <small>({question.source})</small>
      </Caution>
      {given === undefined ? null : (
        <small>
          {given.value.answer}
          {given.value.by === '' ? '' : `, by ${given.value.by}`},{' '}
          <When at={given.value.doneAt ?? given.at} />
        </small>
      )}
    </Card>
  );
}

function PressureCard({ view }: { view: InspectionView }) {
  const { write } = useWorkplace();
  const known = view.state.pressure?.value;
  const [found, setFound] = useState(known?.typed ?? '');
  const [wanted, setWanted] = useState(known?.recommendedTyped ?? '');
  const [wrong, setWrong] = useState<Problem | null>(null);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const foundKpa = parseTypedPressure(found, 'pressure found');
    const recommendedKpa = parseTypedPressure(wanted, 'recommended pressure');
    if (!foundKpa.ok) return setWrong(foundKpa.error);
    if (!recommendedKpa.ok) return setWrong(recommendedKpa.error);
    if (recommendedKpa.value === 0) {
      return setWrong({
        code: 'pressure',
        field: 'recommended pressure',
        value: wanted,
        message: 'The recommended pressure is above zero',
        wayOut: 'Read it from the tyre maker’s table.',
      });
    }
    setWrong(null);
    void write(kinds.pressureRead, view.state.id, {
      typed: found.trim(),
      foundKpa: foundKpa.value,
      recommendedTyped: wanted.trim(),
      recommendedKpa: recommendedKpa.value,
    });
  };
  const rule = known === undefined ? null : pressureRule(known.foundKpa, known.recommendedKpa);
  return (
    <Card title="Pressure found, before anything is let out">
      <form onSubmit={submit}>
        <Field label="Pressure found" hint="With its unit: 430 kPa, 4,3 bar or 62 psi">
          <input value={found} onChange={(event) => setFound(event.target.value)} />
        </Field>
        <Field label="Recommended pressure">
          <input value={wanted} onChange={(event) => setWanted(event.target.value)} />
        </Field>
        {wrong === null ? null : <ProblemNote problem={wrong} />}
        <Button type="submit">Enter</Button>
      </form>
      {rule === null ? null : (
        <Caution kind={rule.asks === 'may be topped up' ? 'must' : 'danger'}>
          {Math.round(rule.share * 100)} % of the recommended pressure. {rule.sentence}{' '}
          <small>({rule.source})</small>
        </Caution>
      )}
    </Card>
  );
}

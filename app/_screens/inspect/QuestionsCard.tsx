'use client';
import { useState } from 'react';
import { isOpenQuestion, kinds, type Question } from '../../../lib/record/index.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { usePlace } from '../../_client/place.ts';
import { useDraftOf } from '../../_client/useDraft.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Caution, Field } from '../../_ui/kit.tsx';
import { PinnedSpot } from '../../_ui/PinnedSpot.tsx';
import { pinWords } from '../review/settle/Questions.tsx';
import classes from './inspect.module.css';

/** What the reviewer asks of the inspector, at the wheel and without a connection. */
export function QuestionsCard({ view }: { view: InspectionView }) {
  const open = view.state.questions.filter(isOpenQuestion);
  if (open.length === 0) return null;
  return (
    <Card title={open.length === 1 ? 'The reviewer asks' : `The reviewer asks ${open.length} things`}>
      {open.map((question) => (
        <Asked key={question.asked.value.question} view={view} question={question} />
      ))}
    </Card>
  );
}

const NO_TEXT = { text: '' };

function Asked({ view, question }: { view: InspectionView; question: Question }) {
  const place = usePlace();
  const { write } = useWorkplace();
  const { question: id, pin, text, wants } = question.asked.value;
  const [draft, setDraft] = useDraftOf(`answer|${id}`, NO_TEXT);
  const [busy, setBusy] = useState(false);
  const answer = async () => {
    setBusy(true);
    await write(kinds.questionAnswered, view.state.id, { question: id, text: draft.text.trim() });
    setDraft(NO_TEXT);
    setBusy(false);
  };
  const slot =
    pin.on === 'reading'
      ? [...view.parts].find(([, component]) => component.id === pin.place.component)?.[0]
      : undefined;
  const reads = wants === 'another reading' && pin.on === 'reading' && slot !== undefined;
  return (
    <div className={classes.asked}>
      <small>About {pinWords(pin, view)}</small>
      {pin.on === 'photo' ? <PinnedSpot photo={pin.photo} at={pin.at} /> : null}
      <p>
        <b>{text}</b>
      </p>
      {pin.on === 'photo' ? (
        <Button block onClick={() => place.go({ photo: pin.photo })}>
          Open the photo
        </Button>
      ) : null}
      {reads ? (
        <>
          <Caution>
            Only with the safety gate passed: tyre deflated, core out, nobody in the trajectory.
          </Caution>
          <Button tone="act" block onClick={() => place.go({ part: slot, zone: pin.place.zone })}>
            Read it again
          </Button>
          <p>Add it with “Repeat”, then submit again. Where it cannot be read, say why.</p>
        </>
      ) : null}
      <Field label={reads ? 'Why it cannot be read' : 'Your answer'}>
        <textarea
          rows={3}
          maxLength={2000}
          value={draft.text}
          onChange={(event) => setDraft({ text: event.target.value })}
        />
      </Field>
      <Button
        tone={reads ? 'plain' : 'act'}
        block
        disabled={busy || draft.text.trim() === ''}
        onClick={() => void answer()}
      >
        Answer
      </Button>
    </div>
  );
}

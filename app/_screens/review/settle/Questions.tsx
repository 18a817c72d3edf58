'use client';
import { useEffect, useRef, useState } from 'react';
import {
  isOpenQuestion,
  kinds,
  placeWords,
  type Question,
  type QuestionPin,
} from '../../../../lib/record/index.ts';
import { newId } from '../../../_client/device.ts';
import type { InspectionView } from '../../../_client/inspection.ts';
import { useWorkplace } from '../../../_client/Workplace.tsx';
import { Button, Card, Field, When } from '../../../_ui/kit.tsx';
import list from '../../../_ui/list.module.css';
import { PinnedSpot } from '../../../_ui/PinnedSpot.tsx';
import type { Asking } from '../compare/PartCompare.tsx';
import classes from '../review.module.css';

/** What a question points at, in words. */
export function pinWords(pin: QuestionPin, view: InspectionView): string {
  const slotOf = (id: string) => [...view.parts].find(([, { id: known }]) => known === id)?.[0] ?? 'a part';
  switch (pin.on) {
    case 'photo':
      return `a spot on the photo of the ${view.state.photos.get(pin.photo)?.value.zone ?? 'rim'}`;
    case 'reading':
      return `${slotOf(pin.place.component)}, ${placeWords(pin.place)}`;
    case 'part':
      return `the ${slotOf(pin.component)}`;
    case 'inspection':
      return 'the whole inspection';
  }
}

/** Questions to the inspector with what became of them. */
export function Questions({ view, questions }: { view: InspectionView; questions: readonly Question[] }) {
  if (questions.length === 0) return null;
  return (
    <Card title="Questions to the inspector">
      <ul className={list.list}>
        {questions.map((question) => {
          const { value, at } = question.asked;
          return (
            <li key={value.question} className={classes.question}>
              <small>
                About {pinWords(value.pin, view)}, <When at={at} />
                {value.wants === 'another reading' ? '; another reading is asked for' : ''}
              </small>
              {value.pin.on === 'photo' ? <PinnedSpot photo={value.pin.photo} at={value.pin.at} /> : null}
              <p>{value.text}</p>
              <p>
                {question.answer === null ? null : <b>“{question.answer.value}”</b>}
                {question.reading === null ? null : <b>Read again.</b>}
                {isOpenQuestion(question) ? <i>not answered yet</i> : null}
              </p>
            </li>
          );
        })}
      </ul>
    </Card>
  );
}

/** The question that is being put. */
export function AskForm({ view, asking, onDone }: { view: InspectionView; asking: Asking; onDone(): void }) {
  const { write } = useWorkplace();
  const field = useRef<HTMLTextAreaElement>(null);
  // The form has just appeared because somebody pressed Ask.
  useEffect(() => field.current?.focus(), []);
  const [text, setText] = useState(asking.wants === 'another reading' ? 'Please read this place again.' : '');
  const ask = async () => {
    await write(kinds.questionAsked, view.state.id, { question: newId(), text: text.trim(), ...asking });
    onDone();
  };
  return (
    <Card title={asking.wants === 'another reading' ? 'Ask for another reading' : 'Ask the inspector'}>
      <p>About {pinWords(asking.pin, view)}.</p>
      {asking.pin.on === 'photo' ? <PinnedSpot photo={asking.pin.photo} at={asking.pin.at} /> : null}
      <Field label="Your question" hint="It reaches the inspector’s phone; your figures do not.">
        <textarea
          rows={3}
          maxLength={1000}
          ref={field}
          value={text}
          onChange={(event) => setText(event.target.value)}
        />
      </Field>
      <div className={classes.pair}>
        <Button tone="act" disabled={text.trim() === ''} onClick={() => void ask()}>
          Ask
        </Button>
        <Button onClick={onDone}>Do not ask</Button>
      </div>
    </Card>
  );
}

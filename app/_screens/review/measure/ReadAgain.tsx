'use client';
import { type FormEvent, useEffect, useState } from 'react';
import type { Problem } from '../../../../lib/base/index.ts';
import { characteristicOf, type Reading, readTyped } from '../../../../lib/readings/index.ts';
import { kinds } from '../../../../lib/record/index.ts';
import type { AskedReading } from '../../../../lib/review/index.ts';
import { newId, rememberedUnit } from '../../../_client/device.ts';
import { useWriting } from '../../../_client/hand.ts';
import type { InspectionView } from '../../../_client/inspection.ts';
import { useWorkplace } from '../../../_client/Workplace.tsx';
import { ProblemNote } from '../../../_ui/kit.tsx';
import classes from '../review.module.css';

/** Name of a place within its characteristic. */
export function placeName({ clock, state }: Pick<AskedReading, 'clock' | 'state'>): string {
  return (
    [state, clock === null ? null : `${clock} o’clock`].filter((one) => one !== null).join(', ') || 'value'
  );
}

interface Props {
  readonly view: InspectionView;
  readonly asked: AskedReading;
  readonly own: Reading | undefined;
  /** The photo on the screen, from which the gauge is read; null: none is shown. */
  readonly seenIn: string | null;
  onPlace(asked: AskedReading): void;
}

/** One place to read again: a field that takes the value as it is typed, on Enter or on leaving it. */
export function ReadAgain({ view, asked, own, seenIn, onPlace }: Props) {
  const { store, register } = useWorkplace();
  const write = useWriting(view);
  const characteristic = characteristicOf(asked.characteristic);
  const draftKey = `second|${view.state.id}|${asked.reading}`;
  const [typed, setTyped] = useState(own?.typed ?? '');
  const [wrong, setWrong] = useState<Problem | null>(null);
  const [question, setQuestion] = useState<string | null>(null);
  useEffect(() => {
    let gone = false;
    void store.draft(draftKey).then((text) => !gone && text !== '' && setTyped(text));
    return () => {
      gone = true;
    };
  }, [store, draftKey]);
  const change = (text: string) => {
    setTyped(text);
    setWrong(null);
    setQuestion(null);
    void store.setDraft(draftKey, text);
  };
  const overlap = asked.state === 'free' && characteristic.plausible.min < 0;
  const enter = async (confirmed: boolean): Promise<boolean> => {
    const text = typed.trim();
    if (text === (own?.typed ?? '')) return true;
    if (text === '') {
      if (own !== undefined)
        await write(kinds.readingWithdrawn, { reading: own.reading, reason: 'cannot be read after all' });
      return true;
    }
    const read = readTyped(asked.characteristic, text, rememberedUnit(), overlap);
    if (!read.ok) {
      setWrong(read.error);
      return false;
    }
    if (read.value.question !== null && !confirmed) {
      setQuestion(read.value.question);
      return false;
    }
    const { component, zone, clock, state } = asked;
    const body = {
      reading: own?.reading ?? newId(),
      component,
      characteristic: asked.characteristic,
      zone,
      clock,
      state,
      typed: text,
      defaultUnit: rememberedUnit(),
      valueMm: read.value.valueMm,
      instrument: asked.instrument,
      repeat: 1,
      confirmed: read.value.question !== null,
      overlap,
    };
    await write(own === undefined ? kinds.readingEntered : kinds.readingCorrected, body, seenIn);
    await store.setDraft(draftKey, '');
    setQuestion(null);
    return true;
  };
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = event.currentTarget;
    if (await enter(question !== null)) nextField(form)?.focus();
  };
  const label = `${characteristic.label}, ${placeName(asked)}`;
  const instrument = asked.instrument === null ? undefined : register.instruments.get(asked.instrument);
  return (
    <form className={classes.again} onSubmit={(event) => void submit(event)}>
      <span className={classes.place}>
        {placeName(asked)}
        {overlap ? <small>overlap of the ends</small> : null}
        <small>
          {asked.photo !== null ? 'taken from a photo' : (instrument?.name ?? 'no instrument named')}
        </small>
      </span>
      <input
        aria-label={label}
        aria-invalid={wrong !== null}
        data-again=""
        value={typed}
        onChange={(event) => change(event.target.value)}
        onFocus={() => onPlace(asked)}
        onBlur={() => void enter(false)}
        placeholder={rememberedUnit()}
        inputMode={rememberedUnit() === 'mm' ? 'decimal' : 'text'}
        autoComplete="off"
      />
      <span className={classes.entered} aria-live="polite">
        {own !== undefined && own.typed === typed.trim() ? 'entered' : ''}
      </span>
      {question === null ? null : (
        <p role="alert" className={classes.asks}>
          <strong>{question}</strong> If it is, press Enter once more.
        </p>
      )}
      {wrong === null ? null : <ProblemNote problem={wrong} />}
    </form>
  );
}

/** The field after the one of this form. */
function nextField(form: HTMLFormElement): HTMLElement | undefined {
  const fields = [...document.querySelectorAll<HTMLElement>('[data-again]')];
  const here = fields.findIndex((field) => form.contains(field));
  return fields[here + 1];
}

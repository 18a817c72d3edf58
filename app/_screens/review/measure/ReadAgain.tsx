'use client';
import { type FormEvent, useRef, useState } from 'react';
import type { Problem } from '../../../../lib/base/index.ts';
import { characteristicOf, type Reading, readTyped } from '../../../../lib/readings/index.ts';
import { kinds } from '../../../../lib/record/index.ts';
import type { AskedReading } from '../../../../lib/review/index.ts';
import { newId, rememberedUnit } from '../../../_client/device.ts';
import { useWriting } from '../../../_client/hand.ts';
import type { InspectionView } from '../../../_client/inspection.ts';
import { useDraft } from '../../../_client/useDraft.ts';
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
  const [typed, type] = useDraft(draftKey, own?.typed ?? '');
  const [wrong, setWrong] = useState<Problem | null>(null);
  const [question, setQuestion] = useState<string | null>(null);
  const confirmed = useRef<string | null>(null);
  const change = (text: string) => {
    setWrong(null);
    setQuestion(null);
    void type(text);
  };
  const overlap = asked.state === 'free' && characteristic.plausible.min < 0;
  /** Takes what is typed; a value out of the usual range once it was confirmed. */
  const enter = async () => {
    const text = typed.trim();
    if (text === (own?.typed ?? '')) return;
    if (text === '') {
      if (own !== undefined)
        await write(kinds.readingWithdrawn, { reading: own.reading, reason: 'cannot be read after all' });
      return;
    }
    const read = readTyped(asked.characteristic, text, rememberedUnit(), overlap);
    if (!read.ok) return setWrong(read.error);
    if (read.value.question !== null && confirmed.current !== text) return setQuestion(read.value.question);
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
  };
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    if (question !== null) confirmed.current = typed.trim();
    const next = nextField(event.currentTarget);
    const read = readTyped(asked.characteristic, typed, rememberedUnit(), overlap);
    const taken = read.ok && (read.value.question === null || confirmed.current === typed.trim());
    // Leaving the field takes its value.
    if (taken && next !== undefined) next.focus();
    else void enter();
  };
  const label = `${characteristic.label}, ${placeName(asked)}`;
  const instrument = asked.instrument === null ? undefined : register.instruments.get(asked.instrument);
  return (
    <form className={classes.again} onSubmit={submit}>
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
        onBlur={() => void enter()}
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

'use client';
import { type FormEvent, useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import { type CardName, type CheckedRuler, nominalRulerMm, readRuler } from '../../../lib/photo/index.ts';
import { showNumber } from '../../../lib/units/index.ts';
import { checkedRuler, forgetRuler, keepRuler, rememberedUnit } from '../../_client/device.ts';
import { Button, Card, Field, ProblemNote } from '../../_ui/kit.tsx';
import classes from './card.module.css';

/** What the ruler of a printed card truly measures, kept on this device. */
export function RulerCheck({ card }: { card: CardName }) {
  const [known, setKnown] = useState(() => (typeof window === 'undefined' ? null : checkedRuler(card)));
  const [typed, setTyped] = useState('');
  const [wrong, setWrong] = useState<Problem | null>(null);
  const nominal = nominalRulerMm(card);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const read = readRuler(card, typed, rememberedUnit());
    if (!read.ok) return setWrong(read.error);
    keepRuler(card, read.value);
    setKnown(read.value);
    setWrong(null);
    setTyped('');
  };
  return (
    <Card title={`Ruler of the ${card}`}>
      <p>{known === null ? NOT_MEASURED : wordsOf(known)}</p>
      <form onSubmit={submit} className={classes.ruler}>
        <Field
          label={`From 0 to ${nominal} it measures`}
          hint={`From the middle of the line at 0, such as ${(nominal - 0.2).toFixed(1)} mm`}
        >
          <input
            value={typed}
            inputMode="decimal"
            onChange={(event) => {
              setTyped(event.target.value);
              setWrong(null);
            }}
          />
        </Field>
        <Button type="submit" tone="act" disabled={typed.trim() === ''}>
          Keep it
        </Button>
      </form>
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      {known === null ? null : (
        <>
          <p>Measure again after every new print.</p>
          <Button
            onClick={() => {
              forgetRuler(card);
              setKnown(null);
            }}
          >
            Forget it
          </Button>
        </>
      )}
    </Card>
  );
}

const NOT_MEASURED =
  'Not measured yet: sizes taken with this card carry 1.5 % of doubt for the printer. Lay a steel rule on its millimetre ruler.';

function wordsOf({ nominalMm, measuredMm }: CheckedRuler): string {
  const off = (measuredMm / nominalMm - 1) * 100;
  const printed =
    Math.abs(off) < 0.05
      ? 'true to size'
      : `${showNumber(Math.abs(off), 1)} % too ${off < 0 ? 'small' : 'large'}, which is reckoned with`;
  return `Its ${nominalMm} mm measure ${showNumber(measuredMm, 2)} mm on the print used with this device: ${printed}.`;
}

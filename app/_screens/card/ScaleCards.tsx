'use client';
import { type FormEvent, useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import {
  type CardName,
  type CardPaper,
  cardLayouts,
  cardPapers,
  cardSheet,
  nominalRulerMm,
  readRuler,
} from '../../../lib/photo/index.ts';
import { cardPdf } from '../../_client/cardPdf.ts';
import { checkedRuler, keepRuler, rememberedUnit } from '../../_client/device.ts';
import { SheetPicture } from '../../_drawings/CardPicture.tsx';
import { Frame } from '../../_ui/Frame.tsx';
import { Button, Card, Choice, Field, ProblemNote } from '../../_ui/kit.tsx';
import classes from './card.module.css';
import { YourCamera } from './YourCamera.tsx';

/** The scale cards: to print, and what their rulers truly measure. */
export function ScaleCards() {
  return (
    <Frame title="Scale card" back={{ href: '/', label: 'start' }}>
      <Printing />
      {cardLayouts.map(({ name }) => (
        <RulerCheck key={name} card={name} />
      ))}
      <YourCamera />
      <Card title="How to lay it">
        <ul>
          <li>On clean, dry metal of the part itself, flat, its long side round the rim.</li>
          <li>As near to what you measure as it can lie, and wholly in the picture.</li>
          <li>
            Never reach into a rim that may hold air: the card is laid with the tyre empty and the valve core
            out.
          </li>
        </ul>
      </Card>
    </Frame>
  );
}

const PAPER_WORDS: Readonly<Record<CardPaper, string>> = {
  A4: 'A4',
  Letter: 'Letter',
  wallet: 'Wallet size',
};

function Printing() {
  const [paper, setPaper] = useState<CardPaper>('A4');
  const [wrong, setWrong] = useState<string | null>(null);
  const sheet = cardSheet(paper);
  const save = async () => {
    setWrong(null);
    try {
      const address = URL.createObjectURL(new Blob([await cardPdf(sheet)], { type: 'application/pdf' }));
      const link = document.createElement('a');
      link.href = address;
      link.download = `scale-card-${paper}.pdf`;
      link.click();
      // The browser has begun to save it by then.
      setTimeout(() => URL.revokeObjectURL(address), 10_000);
    } catch (error) {
      setWrong(error instanceof Error ? error.message : String(error));
    }
  };
  return (
    <Card title="Print it">
      <Choice legend="Paper" options={cardPapers} words={PAPER_WORDS} value={paper} onChoose={setPaper} />
      <div className={classes.preview}>
        <SheetPicture sheet={sheet} />
      </div>
      <ol>
        <li>Print at 100 %, without fitting to the page.</li>
        <li>Glue it to something flat and stiff, matt side out, and cut along the lines.</li>
        <li>Measure its ruler with a steel rule and enter below what it measures.</li>
      </ol>
      <Button tone="act" onClick={() => void save()}>
        Save the page as PDF
      </Button>
      {wrong === null ? null : (
        <p role="alert">
          The page could not be made: {wrong}. It is loaded once with a connection; try again then.
        </p>
      )}
    </Card>
  );
}

function RulerCheck({ card }: { card: CardName }) {
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
      <p>
        {known === null
          ? 'Not measured yet: sizes taken with this card carry 1.5 % of doubt for the printer.'
          : `Its ${known.nominalMm} mm measure ${known.measuredMm} mm on this device’s print.`}
      </p>
      <form onSubmit={submit} className={classes.ruler}>
        <Field label={`From 0 to ${nominal} it measures`} hint={`Such as ${(nominal - 0.2).toFixed(1)} mm`}>
          <input value={typed} inputMode="decimal" onChange={(event) => setTyped(event.target.value)} />
        </Field>
        <Button type="submit" tone="act" disabled={typed.trim() === ''}>
          Keep it
        </Button>
      </form>
      {wrong === null ? null : <ProblemNote problem={wrong} />}
    </Card>
  );
}

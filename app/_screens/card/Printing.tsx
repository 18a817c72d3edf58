'use client';
import { useState } from 'react';
import { errorText } from '../../../lib/base/index.ts';
import { type CardPaper, cardPapers, cardSheet } from '../../../lib/photo/index.ts';
import { cardPdf } from '../../_client/cardPdf.ts';
import { SheetPicture } from '../../_drawings/CardPicture.tsx';
import { Button, Card, Choice } from '../../_ui/kit.tsx';
import classes from './card.module.css';

const PAPER_WORDS: Readonly<Record<CardPaper, string>> = {
  A4: 'A4',
  Letter: 'Letter',
  wallet: 'Wallet size',
};

/** The page of cards: as it will look, and as a PDF to print. */
export function Printing() {
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
      setWrong(errorText(error));
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

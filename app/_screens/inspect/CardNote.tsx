'use client';
import type { PhotoScale } from '../../../lib/record/index.ts';
import { checkedRuler } from '../../_client/device.ts';
import { Button } from '../../_ui/kit.tsx';
import classes from './photo.module.css';
import type { Looking } from './useCardFinding.ts';

const round = (at: number) => Math.round(at * 100) / 100;

/** The scale that a found card gives; null where none was found. */
export function scaleOfCard(looking: Looking): PhotoScale | null {
  const [card] = looking.state === 'done' ? looking.finding.cards : [];
  if (card === undefined) return null;
  return {
    source: 'scale card',
    layout: card.layout,
    markers: card.markers.map(({ id, corners: [a, b, c, d] }) => ({
      id,
      corners: [a, b, c, d].map(([x, y]) => [round(x), round(y)]) as [
        [number, number],
        [number, number],
        [number, number],
        [number, number],
      ],
    })),
    ruler: checkedRuler(card.layout),
  };
}

/** Says whether the scale card was found in a photo without a scale, and sets it with one touch. */
export function CardNote({
  looking,
  onUse,
  onByHand,
}: {
  looking: Looking;
  onUse(scale: PhotoScale): void;
  onByHand(): void;
}) {
  const scale = scaleOfCard(looking);
  const words = noteOf(looking);
  return (
    <div className={classes.note} role="status">
      <span>{words}</span>
      {scale === null ? (
        looking.state === 'looking' ? null : (
          <Button onClick={onByHand}>Set it by hand</Button>
        )
      ) : (
        <Button tone="act" onClick={() => onUse(scale)}>
          Use the card
        </Button>
      )}
    </div>
  );
}

/** What was found, in a sentence or two. */
export function noteOf(looking: Looking): string {
  if (looking.state === 'looking') return 'Looking for the scale card …';
  if (looking.state === 'failed') return looking.problem.message;
  const { cards, faults } = looking.finding;
  const [card] = cards;
  const after = faults
    .slice(0, FAULTS_TOLD)
    .map(({ words, wayOut }) => ` ${words}. ${wayOut}`)
    .join('');
  if (card === undefined)
    return `No scale card seen in this photo; nothing is measured without a scale.${after}`;
  const count = card.markers.length;
  const found =
    count === 4
      ? 'found, all 4 markers.'
      : `found, ${count} of 4 markers; the rest is covered or out of the picture, so sizes are less sure.`;
  const doubt =
    checkedRuler(card.layout) === null
      ? ' Its ruler was never measured (Menu, Scale card): 1.5 % of doubt.'
      : '';
  return `${capital(card.layout)} ${found}${after}${doubt}`;
}

/** Faults told at once; more are not read with gloves on. */
const FAULTS_TOLD = 2;

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

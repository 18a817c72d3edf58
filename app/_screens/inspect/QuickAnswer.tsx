'use client';
import { noteOf } from './CardNote.tsx';
import classes from './photo.module.css';
import { useCardFinding } from './useCardFinding.ts';

/** The answer right after the shutter: whether the photo can be measured on, while the hand can still take another. */
export function QuickAnswer({ photo }: { photo: string }) {
  const looking = useCardFinding(photo);
  return (
    <p className={classes.answer} role="status">
      {noteOf(looking)}
    </p>
  );
}

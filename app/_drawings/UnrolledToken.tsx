import type { ReactNode } from 'react';
import { VerdictSign } from '../_ui/kit.tsx';
import { DefectGlyph } from './glyphs.tsx';
import classes from './UnrolledRim.module.css';
import type { Item, Token as TokenOf } from './unrolled.ts';

/** One thing at its place: a glyph, a figure, a small photo, or a count of several. `again` repeats it at the far end. */
export function Token({
  token,
  lit,
  again = false,
  photoPx,
  choose,
  thumb,
}: {
  token: TokenOf;
  lit: boolean;
  again?: boolean;
  photoPx: number;
  choose(token: TokenOf): void;
  thumb(photo: string, name: string): ReactNode;
}) {
  const [first] = token.items;
  if (first === undefined) return null;
  const several = token.items.length > 1;
  const label = several
    ? `${token.items.length} more: ${token.items.map(({ words }) => words).join('; ')}`
    : `${first.slot}, ${first.zone}: ${first.class === null ? '' : `${first.class}, `}${first.words}`;
  const names = [classes.token, lit ? classes.lit : '', again ? classes.again : ''];
  if (!several && first.class !== null) names.push(classes[first.class] ?? '');
  return (
    <button
      type="button"
      className={names.join(' ')}
      aria-label={label}
      aria-hidden={again}
      tabIndex={again ? -1 : 0}
      onClick={() => choose(token)}
    >
      {several ? <b>+{token.items.length}</b> : <Inside item={first} photoPx={photoPx} thumb={thumb} />}
    </button>
  );
}

function Inside({
  item,
  photoPx,
  thumb,
}: {
  item: Item;
  photoPx: number;
  thumb(photo: string, name: string): ReactNode;
}) {
  if (item.what === 'photo' && item.photo !== null) {
    return (
      <span className={classes.photo} style={{ width: photoPx, height: photoPx - 2 }}>
        {thumb(item.photo, item.words)}
      </span>
    );
  }
  return (
    <>
      {item.class === null ? null : <VerdictSign result={item.class} size={14} />}
      {item.what === 'reading' ? (
        <span className={classes.figure}>{item.figure}</span>
      ) : (
        <DefectGlyph kind={item.defect ?? 'measure'} />
      )}
    </>
  );
}

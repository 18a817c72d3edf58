import { type KeyboardEvent, useState } from 'react';
import { markWord, shapeAreaPx2 } from '../../lib/marks/index.ts';
import css from './PhotoCanvas.module.css';
import type { PhotoCanvasProps, PhotoMark } from './types.ts';

function formWord({ shape }: PhotoMark): string {
  if (shapeAreaPx2(shape) !== null) return 'area';
  return shape.form === 'spot' ? 'place' : shape.form === 'angle' ? 'two lines' : 'line';
}

function describe(mark: PhotoMark, props: PhotoCanvasProps): string {
  const label = props.labelFor?.(mark) ?? markWord(mark);
  const word = markWord(mark);
  const kind = label.toLowerCase().includes(word) ? '' : `, ${word}`;
  return `${mark.suggested ? 'Suggestion, not accepted: ' : ''}${label}${kind}, ${formWord(mark)}`;
}

/** The marks as text: one stop for the tab key, arrows move along, shown only while it has the focus. */
export function MarkList({ props, onShow }: { props: PhotoCanvasProps; onShow: (mark: string) => void }) {
  const [at, setAt] = useState(0);
  const { marks, selected } = props;
  const stop = Math.min(at, Math.max(0, marks.length - 1));
  const onKeyDown = (event: KeyboardEvent<HTMLUListElement>): void => {
    const by = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0;
    const next = Math.min(marks.length - 1, Math.max(0, stop + by));
    if (by === 0 || next === stop) return;
    event.preventDefault();
    setAt(next);
    const item = event.currentTarget.children[next]?.querySelector('button');
    item?.focus();
  };
  return (
    <div className={css.list}>
      <p>{marks.length === 0 ? 'No marks on this photo' : `Marks on this photo: ${marks.length}`}</p>
      <ul onKeyDown={onKeyDown} aria-label="Marks">
        {marks.map((mark, index) => (
          <li key={mark.mark}>
            <button
              type="button"
              tabIndex={index === stop ? 0 : -1}
              aria-pressed={mark.mark === selected}
              onFocus={() => setAt(index)}
              onClick={() => {
                props.onSelect(mark.mark);
                onShow(mark.mark);
              }}
            >
              {describe(mark, props)}
            </button>
          </li>
        ))}
      </ul>
    </div>
  );
}

'use client';

import { type KeyboardEvent, useState } from 'react';
import { pressKey } from './key-hand.ts';
import { MarkList } from './MarkList.tsx';
import css from './PhotoCanvas.module.css';
import { makePainters, StageLayers } from './StageLayers.tsx';
import type { PhotoCanvasProps } from './types.ts';
import { useEasel } from './use-easel.ts';
import { type PhotoState, usePhotos } from './use-photos.ts';

const KEY_HELP =
  'Plus and minus zoom, arrows move the photo, 0 shows all of it. With a mark selected: square brackets ' +
  'choose a point, arrows move it, Delete removes it. Enter finishes, Escape cancels.';

/** The canvas itself; needs a browser, so `PhotoCanvas` loads it there only. */
export default function PhotoStage(props: PhotoCanvasProps) {
  const { easel, surface, refs, port, note } = useEasel(props);
  const [painters] = useState(makePainters);
  const photos = usePhotos(easel, props, () => refs.photo.current?.batchDraw());

  const onKeyDown = (event: KeyboardEvent<HTMLDivElement>): void => {
    if (event.target !== event.currentTarget || event.altKey) return;
    const press = { key: event.key, shift: event.shiftKey, command: event.ctrlKey || event.metaKey };
    if (pressKey(easel, press)) event.preventDefault();
  };

  return (
    <div className={css.frame}>
      <div
        ref={surface}
        className={css.surface}
        role="application"
        aria-label={`Photo: ${props.name}`}
        aria-description={KEY_HELP}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the surface takes keys
        tabIndex={0}
        data-photo-canvas={photos.open ? 'open' : 'closed'}
        data-tool={props.readOnly ? 'look' : props.tool}
        onKeyDown={onKeyDown}
        onBlur={() => easel.settle()}
      >
        <StageLayers easel={easel} painters={painters} refs={refs} port={port} />
        <canvas ref={refs.loupe} className={css.loupe} hidden />
      </div>
      <Opening photos={photos} />
      <p className={css.note} role="status" data-shown={note !== ''}>
        {note}
      </p>
      <MarkList props={props} onShow={(mark) => easel.zoomToMark(mark)} />
    </div>
  );
}

/** Says that the photo is being opened, or why it cannot be. */
function Opening({ photos }: { photos: PhotoState }) {
  if (photos.problem) {
    return (
      <div className={css.trouble} role="alert">
        <p>{photos.problem}</p>
        <button type="button" onClick={photos.retry}>
          Try again
        </button>
      </div>
    );
  }
  return photos.open ? null : <p className={css.opening}>Opening the photo…</p>;
}

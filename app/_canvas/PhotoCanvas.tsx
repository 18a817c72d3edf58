'use client';

import dynamic from 'next/dynamic';
import css from './PhotoCanvas.module.css';
import type { PhotoCanvasProps } from './types.ts';

const PhotoStage = dynamic(() => import('./PhotoStage.tsx'), {
  ssr: false,
  loading: () => (
    <div className={css.frame}>
      <p className={css.opening}>Opening the photo…</p>
    </div>
  ),
});

/** One photo with its marks, to look at and to draw on. It fills its parent, which must have a size. */
export function PhotoCanvas(props: PhotoCanvasProps) {
  return <PhotoStage {...props} />;
}

'use client';
import { useMemo, useRef, useState } from 'react';
import { linesOf, type Mark, markWord } from '../../../../lib/marks/index.ts';
import type { InspectionState } from '../../../../lib/record/index.ts';
import { PhotoCanvas } from '../../../_canvas/PhotoCanvas.tsx';
import type { PhotoCanvasHandle, PhotoMark } from '../../../_canvas/types.ts';
import { usePhoto } from '../../../_client/photos.ts';
import { usePlace } from '../../../_client/place.ts';
import { Button, Empty } from '../../../_ui/kit.tsx';
import photoClasses from '../../inspect/photo.module.css';
import { useFullScreen } from '../../inspect/useFullScreen.ts';
import type { Asking } from './PartCompare.tsx';

interface Props {
  readonly photo: string;
  readonly first: InspectionState;
  readonly own: InspectionState;
  onAsk: ((asking: Asking) => void) | null;
}

/** One photo with the marks of both: the inspector's in white, the reviewer's in the colours of their kinds. */
export function ComparePhoto({ photo, first, own, onAsk }: Props) {
  const place = usePlace();
  const handle = useRef<PhotoCanvasHandle>(null);
  const [selected, setSelected] = useState<string | null>(null);
  const [pointing, setPointing] = useState(false);
  const attached = first.photos.get(photo)?.value;
  const source = usePhoto(photo, '2048');
  useFullScreen();
  const marks = useMemo(() => {
    const on = (state: InspectionState, otherHand: boolean): (Mark & PhotoMark)[] =>
      [...state.marks.values()]
        .filter(({ value }) => value.photo === photo)
        .map(({ value }) => ({ ...value, otherHand }));
    return [...on(first, true), ...on(own, false)];
  }, [first, own, photo]);
  const widthPx = attached?.widthPx ?? source.photo?.widthPx ?? null;
  const heightPx = attached?.heightPx ?? source.photo?.heightPx ?? null;
  const leave = () => place.go({ photo: null });
  const chosen = marks.find(({ mark }) => mark === selected);
  const at = chosen === undefined ? undefined : linesOf(chosen.shape)[0]?.points[0];
  const askAt = (spot: readonly [number, number]) => {
    onAsk?.({ pin: { on: 'photo', photo, at: [spot[0], spot[1]] }, wants: 'an answer' });
    leave();
  };
  return (
    <div className={photoClasses.sheet}>
      <div className={photoClasses.bar}>
        <span className={photoClasses.name}>
          Both measurements, {attached?.zone}
          <small>inspector: white, dotted; reviewer: in colour</small>
        </span>
        <Button onClick={() => handle.current?.fit()}>Whole photo</Button>
        <Button tone="act" onClick={leave}>
          Done
        </Button>
      </div>
      <div className={photoClasses.canvas}>
        {source.url === null || widthPx === null || heightPx === null ? (
          <Empty>This photo cannot be shown here.</Empty>
        ) : (
          <PhotoCanvas
            photoUrl={source.url}
            widthPx={widthPx}
            heightPx={heightPx}
            name={attached?.zone ?? 'photo'}
            marks={marks}
            selected={selected}
            tool={pointing ? 'spot' : 'look'}
            readOnly={!pointing}
            labelFor={(mark) => `${mark.otherHand === true ? 'Inspector' : 'Reviewer'}: ${markWord(mark)}`}
            onDrawn={(shape) => {
              if (shape.form === 'spot') askAt(shape.at);
            }}
            onRedrawn={() => undefined}
            onWithdraw={() => undefined}
            onSelect={setSelected}
            handle={handle}
          />
        )}
      </div>
      <div className={photoClasses.foot}>
        <div className={photoClasses.panel}>
          {onAsk === null ? null : pointing ? (
            <p>
              Tap the spot that you ask about. <Button onClick={() => setPointing(false)}>Do not ask</Button>
            </p>
          ) : (
            <>
              {at === undefined ? null : (
                <Button tone="act" onClick={() => askAt(at)}>
                  Ask about this mark
                </Button>
              )}{' '}
              <Button onClick={() => setPointing(true)}>Ask about a spot</Button>
            </>
          )}
        </div>
      </div>
    </div>
  );
}

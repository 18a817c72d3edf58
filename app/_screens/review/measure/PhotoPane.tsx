'use client';
import { PhotoCanvas } from '../../../_canvas/PhotoCanvas.tsx';
import type { InspectionView } from '../../../_client/inspection.ts';
import { usePhoto } from '../../../_client/photos.ts';
import { usePlace } from '../../../_client/place.ts';
import { Button, Empty } from '../../../_ui/kit.tsx';
import list from '../../../_ui/list.module.css';
import { PhotoThumb } from '../../../_ui/PhotoThumb.tsx';
import classes from '../review.module.css';

type Attached =
  InspectionView['state']['photos'] extends ReadonlyMap<string, { readonly value: infer P }> ? P : never;

/** The photos of one part: one large, to zoom into, the others as small pictures below. */
export function PhotoPane({
  view,
  photos,
  shown,
  onShow,
}: {
  view: InspectionView;
  photos: readonly Attached[];
  shown: Attached | undefined;
  onShow(photo: string): void;
}) {
  if (shown === undefined) return <Empty>There is no photo of this part.</Empty>;
  return (
    <div className={classes.pane}>
      <Large key={shown.photo} view={view} photo={shown} />
      <ul className={`${list.strip} ${classes.strip}`}>
        {photos.map(({ photo, zone, clock }) => (
          <li key={photo}>
            <button type="button" aria-pressed={photo === shown.photo} onClick={() => onShow(photo)}>
              <PhotoThumb sha256={photo} name={zone} />
              <span>
                {zone}
                {clock === null ? '' : `, ${clock} o’clock`}
              </span>
            </button>
          </li>
        ))}
      </ul>
    </div>
  );
}

function Large({ view, photo }: { view: InspectionView; photo: Attached }) {
  const place = usePlace();
  const { url, photo: kept } = usePhoto(photo.photo, '2048');
  const widthPx = photo.widthPx ?? kept?.widthPx ?? null;
  const heightPx = photo.heightPx ?? kept?.heightPx ?? null;
  const marks = [...view.state.marks.values()]
    .map(({ value }) => value)
    .filter((mark) => mark.photo === photo.photo);
  const scaled = view.state.scales.has(photo.photo);
  return (
    <>
      <div className={classes.large}>
        {url === null || widthPx === null || heightPx === null ? (
          <Empty>This photo has not arrived yet, or cannot be shown here.</Empty>
        ) : (
          <PhotoCanvas
            photoUrl={url}
            widthPx={widthPx}
            heightPx={heightPx}
            name={photo.zone}
            marks={marks}
            selected={null}
            tool="look"
            readOnly
            onDrawn={() => undefined}
            onRedrawn={() => undefined}
            onWithdraw={() => undefined}
            onSelect={() => undefined}
          />
        )}
      </div>
      <p className={classes.under}>
        <span>
          <b>{photo.zone}</b>
          {photo.clock === null ? '' : `, ${photo.clock} o’clock`}; {scaled ? 'has a scale' : 'no scale'};{' '}
          {marks.length === 1 ? '1 mark' : `${marks.length} marks`} of yours
        </span>
        <Button tone="act" onClick={() => place.go({ photo: photo.photo })}>
          Mark and measure
        </Button>
      </p>
    </>
  );
}

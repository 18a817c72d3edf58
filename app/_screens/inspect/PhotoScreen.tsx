'use client';
import { useCallback, useState } from 'react';
import { type InspectionView, useFetched } from '../../_client/inspection.ts';
import { usePhoto } from '../../_client/photos.ts';
import { usePlace } from '../../_client/place.ts';
import { fetchPhotoFacts, type PhotoFacts } from '../../_client/remote.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Empty } from '../../_ui/kit.tsx';
import { PhotoSheet } from './PhotoSheet.tsx';

/** One photo on the whole screen: look, set the scale, draw and edit marks. */
export function PhotoScreen({ view, photo }: { view: InspectionView; photo: string }) {
  const place = usePlace();
  const attached = view.state.photos.get(photo)?.value;
  const source = usePhoto(photo, '2048');
  const { site } = useWorkplace();
  const [facts, setFacts] = useState<PhotoFacts | null>(null);
  const fetch = useCallback(async () => setFacts(await fetchPhotoFacts(site.id, photo)), [site.id, photo]);
  useFetched(fetch);
  const widthPx = attached?.widthPx ?? source.photo?.widthPx ?? facts?.widthPx ?? null;
  const heightPx = attached?.heightPx ?? source.photo?.heightPx ?? facts?.heightPx ?? null;
  const leave = () => place.go({ photo: null });
  if (attached === undefined) {
    return (
      <>
        <Button onClick={leave}>Back</Button>
        <Empty>This photo does not belong to the inspection, or was withdrawn from it.</Empty>
      </>
    );
  }
  if (source.url === null || widthPx === null || heightPx === null) {
    return (
      <>
        <Button onClick={leave}>Back</Button>
        <Empty>This device cannot decode “{attached.name}”. It can be marked once the server has it.</Empty>
      </>
    );
  }
  return (
    <PhotoSheet
      view={view}
      photo={photo}
      url={source.url}
      widthPx={widthPx}
      heightPx={heightPx}
      name={attached.name}
      capturedAt={facts?.capturedAt ?? null}
    />
  );
}

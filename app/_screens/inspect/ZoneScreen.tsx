'use client';
import { type ChangeEvent, useCallback, useState } from 'react';
import { type Problem, problem } from '../../../lib/base/index.ts';
import { type ComponentState, kinds, lookKey } from '../../../lib/record/index.ts';
import { slotOf, ZoneId, zoneInfo } from '../../../lib/wheel/index.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { takePhoto } from '../../_client/photos.ts';
import { usePlace } from '../../_client/place.ts';
import { useStored } from '../../_client/useStored.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Caution, Choice, Empty, ProblemNote } from '../../_ui/kit.tsx';
import { PhotoThumb } from '../../_ui/PhotoThumb.tsx';
import { Withdraw } from '../../_ui/Withdraw.tsx';
import { DefectCard } from './DefectCard.tsx';
import { useGate, useMayAdd } from './Inspect.tsx';
import classes from './inspect.module.css';
import { MissingList } from './MissingList.tsx';
import { Identify } from './PartScreen.tsx';
import { QuickAnswer } from './QuickAnswer.tsx';
import { ReadingTable } from './ReadingTable.tsx';
import { lookAhead } from './useCardFinding.ts';
import { hasDefect } from './zoneStates.ts';

/** One zone of one part: photos, what the eye saw, defects, the readings taken there. */
export function ZoneScreen({
  view,
  slotName,
  zoneName,
}: {
  view: InspectionView;
  slotName: string;
  zoneName: string;
}) {
  const place = usePlace();
  const gate = useGate(view);
  const slot = slotOf(view.construction, slotName);
  const zone = ZoneId.safeParse(zoneName);
  const component = view.parts.get(slotName);
  if (slot === undefined || !zone.success || !slot.zones.some((one) => one.zone === zone.data)) {
    return (
      <Empty>
        This rim has no zone “{zoneName}” on its {slotName}.
      </Empty>
    );
  }
  const missing = (view.verdict.parts.find((part) => part.slot === slotName)?.missing ?? []).filter(
    (one) => one.zone === zone.data,
  );
  const info = zoneInfo(zone.data);
  return (
    <>
      <div className={classes.tools}>
        <Button onClick={() => place.go({ zone: null })}>{slotName}</Button>
        <Button onClick={() => place.go({ zone: null, part: null })}>All parts</Button>
      </div>
      <Card title={`${slotName}: ${zone.data}`}>
        <p>{info.where}</p>
        <p>
          <b>Look for:</b> {info.lookFor}
        </p>
        {gate.allows === 'walk-around' ? (
          <Caution kind="danger">Walk-around only: stay outside the trajectory and do not touch.</Caution>
        ) : null}
        {missing.length === 0 ? null : <MissingList slot={slotName} missing={missing} />}
      </Card>
      {component === undefined ? (
        <Card title={`Which ${slotName} is it?`}>
          <Identify view={view} slot={slot} />
        </Card>
      ) : (
        <>
          <Photos view={view} component={component} zone={zone.data} />
          <Look view={view} component={component} zone={zone.data} />
          <DefectCard view={view} slot={slotName} component={component} zone={zone.data} />
          <ReadingTable view={view} slot={slot} component={component} zone={zone.data} />
        </>
      )}
    </>
  );
}

interface ZoneProps {
  readonly view: InspectionView;
  readonly component: ComponentState;
  readonly zone: ZoneId;
}

function Look({ view, component, zone }: ZoneProps) {
  const { write } = useWorkplace();
  const { may, why } = useMayAdd(view);
  const look = view.state.looks.get(lookKey(component.id, zone))?.value;
  const defects = hasDefect(view, component.id, zone);
  return (
    <Card title="What the eye says">
      {may ? (
        <Choice
          legend="After looking all round"
          options={
            defects
              ? ['defect recorded', 'could not be seen']
              : ['nothing seen', 'defect recorded', 'could not be seen']
          }
          words={{
            'nothing seen': 'Nothing seen',
            'defect recorded': 'Defect recorded',
            'could not be seen': 'Could not see it',
          }}
          value={look?.result ?? null}
          onChoose={(result) =>
            void write(kinds.zoneLookedAt, view.state.id, { component: component.id, zone, result, note: '' })
          }
        />
      ) : (
        <p>
          {look?.result ?? 'Not looked at'}. {why}
        </p>
      )}
      <p>A look or a photo never rules a crack out where the limits ask for a test.</p>
    </Card>
  );
}

function Photos({ view, component, zone }: ZoneProps) {
  const { store, site, write } = useWorkplace();
  const place = usePlace();
  const { may } = useMayAdd(view);
  const [wrong, setWrong] = useState<Problem | null>(null);
  const [busy, setBusy] = useState<number | null>(null);
  const [fresh, setFresh] = useState<readonly string[]>([]);
  const key = `refused photos ${view.state.id} ${component.id} ${zone}`;
  const readRefused = useCallback(async () => {
    const known = await store.note(key);
    const hashes = Array.isArray(known) ? known.filter((one) => typeof one === 'string') : [];
    return (await Promise.all(hashes.map((hash) => store.photo(hash)))).filter(
      (photo) => photo?.state === 'refused',
    );
  }, [store, key]);
  const refused = useStored(store, readRefused, []);
  const photos = [...view.state.photos.values()]
    .map(({ value }) => value)
    .filter((photo) => photo.zone === zone && photo.component === component.id);
  const take = async (event: ChangeEvent<HTMLInputElement>) => {
    const files = [...(event.target.files ?? [])];
    event.target.value = '';
    setWrong(null);
    setBusy(files.length);
    for (const file of files) {
      setBusy((count) => (count ?? 1) - 1);
      const looked: ((hash: string) => void)[] = [];
      const taken = await takePhoto(store, site.id, file, () => {
        looked.push(lookAhead(file));
      });
      if (!taken.ok) setWrong(taken.error);
      else if (taken.value.problem !== null && taken.value.state === 'refused') {
        const known = await store.note(key);
        await store.setNote(key, [...(Array.isArray(known) ? known : []), taken.value.sha256]);
      } else {
        const { sha256, name, blob, widthPx, heightPx } = taken.value;
        const known = view.state.photos.get(sha256)?.value;
        if (known !== undefined) {
          setWrong(
            problem(
              'photo-known',
              'photo',
              name,
              `This photo is in the inspection already, for the ${known.zone}`,
              'Take another photo of this zone.',
            ),
          );
          continue;
        }
        looked[0]?.(sha256);
        await write(kinds.photoAttached, view.state.id, {
          photo: sha256,
          name,
          bytes: blob.size,
          widthPx,
          heightPx,
          component: component.id,
          zone,
          clock: null,
        });
        setFresh((known) => [...known, sha256]);
      }
    }
    setBusy(null);
  };
  return (
    <Card title={`Photos (${photos.length})`}>
      {may ? (
        <div className={classes.take}>
          <label>
            Photograph
            <input type="file" accept="image/*" capture="environment" onChange={take} />
          </label>
          <label>
            Choose files
            <input type="file" accept="image/*,.heic,.heif,.avif" multiple onChange={take} />
          </label>
        </div>
      ) : null}
      {busy === null ? null : (
        <p role="status">{busy === 0 ? 'Keeping the photo …' : `Keeping a photo, ${busy} more to come …`}</p>
      )}
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      {refused.map((photo) =>
        photo?.problem == null ? null : (
          <div key={photo.sha256}>
            <ProblemNote problem={photo.problem} />
            <p>“{photo.name}” stays on this device and is not evidence.</p>
            <Button onClick={() => void store.discardRefusedPhoto(photo.sha256)}>
              Remove it from this device
            </Button>
          </div>
        ),
      )}
      {photos.length === 0 ? (
        <Empty>
          No photo of this zone yet. Lay a tape or a card beside what you photograph, in its plane.
        </Empty>
      ) : null}
      <ul className={classes.zones}>
        {photos.map((photo) => (
          <li key={photo.photo}>
            <button type="button" className={classes.thumb} onClick={() => place.go({ photo: photo.photo })}>
              <PhotoThumb sha256={photo.photo} name={photo.name} />
              <span>
                {[...view.state.marks.values()].filter(({ value }) => value.photo === photo.photo).length}{' '}
                marks
                {view.state.scales.has(photo.photo) ? ', scale' : ', no scale'}
              </span>
            </button>
            {fresh.includes(photo.photo) ? <QuickAnswer photo={photo.photo} /> : null}
            {may && ![...view.state.marks.values()].some(({ value }) => value.photo === photo.photo) ? (
              <Withdraw
                what={`the photo ${photo.name}`}
                onWithdraw={(reason) =>
                  void write(kinds.photoWithdrawn, view.state.id, { photo: photo.photo, reason })
                }
              />
            ) : null}
          </li>
        ))}
      </ul>
    </Card>
  );
}

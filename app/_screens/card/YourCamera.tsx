'use client';
import { type ChangeEvent, useState } from 'react';
import { type Problem, problem } from '../../../lib/base/index.ts';
import { type CalibrationShot, type CameraFit, cardLayout, markerCorners } from '../../../lib/photo/index.ts';
import { keepProfile, storedProfile } from '../../_client/device.ts';
import { findCard, fitShots } from '../../_client/vision.ts';
import { Button, Card, Field, ProblemNote } from '../../_ui/kit.tsx';
import classes from './card.module.css';

interface Shot {
  readonly name: string;
  readonly says: string;
  readonly shot: CalibrationShot | null;
}

async function shotOf(file: File): Promise<Shot> {
  try {
    const { widthPx, heightPx, cards } = await findCard(
      file,
      `${file.name} ${file.size} ${file.lastModified}`,
    );
    const [card] = cards;
    if (card === undefined) return { name: file.name, says: 'no card seen', shot: null };
    const layout = cardLayout(card.layout);
    const pairs = card.markers.flatMap(({ id, corners }) => {
      const printed = layout.markers.find((one) => one.id === id);
      return printed === undefined
        ? []
        : markerCorners(printed).map((mm, k) => ({ mm, px: corners[k] ?? corners[0] }));
    });
    const shot = {
      name: file.name,
      widthPx,
      heightPx,
      mm: pairs.map(({ mm }) => mm),
      px: pairs.map(({ px }) => px),
    };
    return { name: file.name, says: `${card.markers.length} of 4 markers`, shot };
  } catch (error) {
    return { name: file.name, says: error instanceof Error ? error.message : String(error), shot: null };
  }
}

/** Fits this device’s camera to several shots of a card, and keeps it. */
export function YourCamera() {
  const [known, setKnown] = useState(() => (typeof window === 'undefined' ? null : storedProfile()));
  const [shots, setShots] = useState<readonly Shot[]>([]);
  const [busy, setBusy] = useState(false);
  const [fit, setFit] = useState<CameraFit | null>(null);
  const [name, setName] = useState('');
  const [wrong, setWrong] = useState<Problem | null>(null);
  const take = async (event: ChangeEvent<HTMLInputElement>) => {
    const files = [...(event.target.files ?? [])];
    event.target.value = '';
    setBusy(true);
    setFit(null);
    setWrong(null);
    const looked: Shot[] = [];
    for (const file of files) {
      looked.push(await shotOf(file));
      setShots([...looked]);
    }
    const fitted = await fitShots(looked.flatMap(({ shot }) => (shot === null ? [] : [shot])));
    setBusy(false);
    if (fitted.ok) setFit(fitted.value);
    else setWrong(fitted.error);
  };
  const keep = () => {
    if (fit === null) return;
    if (name.trim() === '') {
      return setWrong(
        problem('camera-name', 'name', name, 'The camera has no name', 'Give it one, such as the phone’s.'),
      );
    }
    const { focalPx, centrePx, k1, k2 } = fit.lens;
    const { widthPx, heightPx, focalShareU, k1U } = fit;
    const profile = {
      name: name.trim(),
      widthPx,
      heightPx,
      focalPx,
      centrePx: [centrePx[0], centrePx[1]] as [number, number],
      k1,
      k2,
      focalShareU,
      k1U,
    };
    keepProfile(profile);
    setKnown(profile);
    setFit(null);
    setShots([]);
  };
  return (
    <Card title="Your camera">
      <p>
        {known === null
          ? 'Not fitted: the focal length that each photo states is used, good to about one percent.'
          : `“${known.name}” is used for photos whose focal length agrees: ${Math.round(known.focalPx)} px at ${known.widthPx} × ${known.heightPx}, within ${(200 * known.focalShareU).toFixed(1)} %.`}
      </p>
      <p>
        Four or more photos of one card with this phone, near enough to fill half the picture, each from
        another side.
      </p>
      <label className={classes.files}>
        Choose photos of the card
        <input type="file" accept="image/*" multiple onChange={(event) => void take(event)} />
      </label>
      {busy ? <p role="status">Looking at the photos …</p> : null}
      <ul>
        {shots.map(({ name: file, says }) => (
          <li key={file}>
            {file}: {says}
          </li>
        ))}
      </ul>
      {fit === null ? null : (
        <div role="status">
          <p>
            Focal length {Math.round(fit.lens.focalPx)} px, within {(200 * fit.focalShareU).toFixed(1)} % (k =
            2); distortion k1 {fit.lens.k1.toFixed(3)}. The corners fit within {fit.residualPx.toFixed(2)} px.
          </p>
          <div className={classes.ruler}>
            <Field label="Name of the camera">
              <input value={name} onChange={(event) => setName(event.target.value)} />
            </Field>
            <Button tone="act" onClick={keep}>
              Use it on this device
            </Button>
          </div>
        </div>
      )}
      {wrong === null ? null : <ProblemNote problem={wrong} />}
    </Card>
  );
}

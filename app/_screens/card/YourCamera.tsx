'use client';
import { type ChangeEvent, type FormEvent, useState } from 'react';
import { errorText, fail, type Problem, problem } from '../../../lib/base/index.ts';
import {
  CALIBRATION_SHOTS_MIN,
  type CameraFit,
  focal35Of,
  profileOfCamera,
} from '../../../lib/photo/index.ts';
import { CameraProfile } from '../../../lib/record/index.ts';
import { showNumber } from '../../../lib/units/index.ts';
import { keepProfile, storedProfile } from '../../_client/device.ts';
import { fitShots } from '../../_client/vision.ts';
import { Button, Card, Field, ProblemNote } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import classes from './card.module.css';
import { type CardPhoto, shotsOf, useCardPhotos, wordsOf } from './useCardPhotos.ts';

/** The camera of this device, fitted from photos of a card and kept under a name. */
export function YourCamera() {
  const [stored, setStored] = useState(() => (typeof window === 'undefined' ? null : storedProfile()));
  const keep = (profile: CameraProfile | null) => {
    keepProfile(profile);
    setStored(profile);
  };
  return (
    <Card title="Your camera">
      {stored === null ? (
        <p>
          Photos say roughly what their lens is. A camera told from photos of a card is known better, and the
          bending of lines by its lens is taken out.
        </p>
      ) : (
        <StoredCamera profile={stored} onForget={() => keep(null)} />
      )}
      <ol>
        <li>Lay a printed card flat. Use the camera that you use at the wheel, without zoom.</li>
        <li>
          Take 6 to 10 photos, the card filling about half of each: one from straight above, the others about
          30° from the left, the right, above and below.
        </li>
        <li>
          Let the card lie in another corner of the picture each time. Hold the camera the same way round.
        </li>
      </ol>
      <Photos onKeep={keep} />
    </Card>
  );
}

function StoredCamera({ profile, onForget }: { profile: CameraProfile; onForget(): void }) {
  return (
    <div className={classes.kept}>
      <p>
        <b>{profile.name}</b>, for pictures of {profile.widthPx} × {profile.heightPx} px: focal length{' '}
        {focalWords(profile)}. It is used for photos of that shape that state this focal length.
      </p>
      <Button onClick={onForget}>Forget this camera</Button>
    </div>
  );
}

/** Cards that reached this far tell the distortion of nearly the whole picture; our own choice. */
const REACH_SHARE_ENOUGH = 0.8;

type Work =
  | { readonly state: 'none' }
  | { readonly state: 'working' }
  | { readonly state: 'refused'; readonly problem: Problem }
  | { readonly state: 'fitted'; readonly fit: CameraFit };

function Photos({ onKeep }: { onKeep(profile: CameraProfile): void }) {
  const { photos, add, remove } = useCardPhotos();
  const [work, setWork] = useState<Work>({ state: 'none' });
  const shots = shotsOf(photos);
  const looking = photos.some(({ look }) => look.state === 'looking');
  const choose = (event: ChangeEvent<HTMLInputElement>) => {
    setWork({ state: 'none' });
    add([...(event.target.files ?? [])]);
    event.target.value = '';
  };
  const workOut = async () => {
    setWork({ state: 'working' });
    const result = await fitShots(shots).catch((error: unknown) => fail(notReached(error)));
    setWork(result.ok ? { state: 'fitted', fit: result.value } : { state: 'refused', problem: result.error });
  };
  const more = CALIBRATION_SHOTS_MIN - shots.length;
  return (
    <>
      <div className={classes.take}>
        <label>
          Photograph
          <input type="file" accept="image/*" capture="environment" onChange={choose} />
        </label>
        <label>
          Choose photos
          <input type="file" accept="image/*,.heic,.heif,.avif" multiple onChange={choose} />
        </label>
      </div>
      <PhotoList
        photos={photos}
        onLeaveOut={(key) => {
          setWork({ state: 'none' });
          remove(key);
        }}
      />
      {photos.length === 0 ? null : (
        <p role="status">
          {looking
            ? 'Looking for the card …'
            : more > 0
              ? `${shots.length} of ${photos.length} can be used; ${more} more ${more === 1 ? 'is' : 'are'} needed.`
              : `${shots.length} of ${photos.length} can be used.`}
        </p>
      )}
      {more > 0 || work.state === 'fitted' ? null : (
        <Button tone="act" disabled={looking || work.state === 'working'} onClick={() => void workOut()}>
          {work.state === 'working' ? 'Working it out …' : 'Work out the camera'}
        </Button>
      )}
      {work.state === 'refused' ? <ProblemNote problem={work.problem} /> : null}
      {work.state === 'fitted' ? (
        <Fitted
          fit={work.fit}
          onKeep={(profile) => {
            onKeep(profile);
            setWork({ state: 'none' });
          }}
        />
      ) : null}
    </>
  );
}

function PhotoList({ photos, onLeaveOut }: { photos: readonly CardPhoto[]; onLeaveOut(key: string): void }) {
  return (
    <ul className={list.list}>
      {photos.map((photo) => (
        <li key={photo.key} className={list.row}>
          <span className={list.main}>
            {photo.name}
            <small role={photo.look.state === 'failed' ? 'alert' : undefined}>{wordsOf(photo.look)}</small>
          </span>
          <Button aria-label={`Leave out ${photo.name}`} onClick={() => onLeaveOut(photo.key)}>
            Leave out
          </Button>
        </li>
      ))}
    </ul>
  );
}

function Fitted({ fit, onKeep }: { fit: CameraFit; onKeep(profile: CameraProfile): void }) {
  const [name, setName] = useState('');
  const [wrong, setWrong] = useState<Problem | null>(null);
  const profile = profileOfCamera(fit, name.trim());
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const checked = CameraProfile.safeParse(profile);
    if (checked.success) return onKeep(checked.data);
    const [issue] = checked.error.issues;
    const field = issue?.path.join('.') ?? '';
    setWrong(
      problem(
        'camera-profile',
        field,
        field === 'name' ? name : JSON.stringify(profile),
        field === 'name'
          ? 'A camera needs a name of 1 to 80 characters'
          : 'This is no camera that can be kept',
        field === 'name' ? 'Type one, such as the phone’s.' : 'Take the photos again.',
      ),
    );
  };
  return (
    <div className={classes.kept}>
      <p>
        <b>Focal length {focalWords(profile)}.</b> The corners of the cards fit to{' '}
        {showNumber(fit.residualPx, 2)} px. Where they lay, the lens bends the picture by up to{' '}
        {showNumber(bendPx(fit), 0)} px; that is taken out.
      </p>
      {fit.reachShare < REACH_SHARE_ENOUGH ? (
        <p>
          The cards reached {showNumber(100 * fit.reachShare, 0)} % of the way to the corners of the picture.
          What lies further out is corrected less surely: add photos with the card in the corners.
        </p>
      ) : null}
      <form onSubmit={submit}>
        <Field label="Name of this camera" hint="Such as Phone 7, main camera">
          <input
            value={name}
            maxLength={80}
            onChange={(event) => {
              setName(event.target.value);
              setWrong(null);
            }}
          />
        </Field>
        {wrong === null ? null : <ProblemNote problem={wrong} />}
        <Button type="submit" tone="act">
          Keep it on this device
        </Button>
      </form>
    </div>
  );
}

const notReached = (error: unknown): Problem =>
  problem(
    'camera-not-fitted',
    'photos',
    errorText(error),
    'The camera could not be worked out on this device',
    'Load this page once with a connection, then try again.',
  );

/** Focal length as photos state it, with what it may be off by in 19 cases of 20. */
function focalWords(
  profile: Pick<CameraProfile, 'widthPx' | 'heightPx' | 'focalPx' | 'focalShareU'>,
): string {
  const share = showNumber(200 * profile.focalShareU, 1);
  return `${showNumber(focal35Of(profile), 1)} mm in terms of 35 mm film, sure to ± ${share} %`;
}

/** How far radial distortion moves a point as far out as the cards reached, px. */
function bendPx({ lens, widthPx, heightPx, reachShare }: CameraFit): number {
  const outPx = (reachShare * Math.hypot(widthPx, heightPx)) / 2;
  const r2 = (outPx / lens.focalPx) ** 2;
  return Math.abs(outPx * (lens.k1 * r2 + lens.k2 * r2 * r2));
}

'use client';
import { useCallback } from 'react';
import { problemText } from '../../../lib/base/index.ts';
import { lineOf } from '../../../lib/record/index.ts';
import { namesOf } from '../../_client/inspection.ts';
import { usePeople } from '../../_client/people.ts';
import { useStored } from '../../_client/useStored.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Frame } from '../../_ui/Frame.tsx';
import { Button, Card, Empty, When } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';

/** What is on this device and not at the server: what waits, and what was refused with the reason. Nothing leaves it unseen. */
export function Outbox() {
  return (
    <Frame title="Not sent yet" back={{ href: '/', label: 'start' }}>
      <Waiting />
    </Frame>
  );
}

function Waiting() {
  const workplace = useWorkplace();
  const { store, exchange, connection, me } = workplace;
  const people = usePeople();
  const names = namesOf(workplace, people);
  const read = useCallback(async () => {
    const items = await store.outbox();
    const entries = await Promise.all(
      items.map(async (item) => ({ item, entry: await store.entry(item.id) })),
    );
    const photos = [...(await store.photosIn('refused')), ...(await store.photosIn('waiting'))];
    return { entries, photos };
  }, [store]);
  const { entries, photos } = useStored<Awaited<ReturnType<typeof read>>>(store, read, {
    entries: [],
    photos: [],
  });
  const refused = entries.filter(({ item }) => item.state === 'refused').map(({ item }) => item.id);
  const again = async () => {
    await store.retry([
      ...refused,
      ...photos
        .filter((photo) => photo.state === 'refused' && photo.problem?.code.startsWith('photo-') !== true)
        .map((photo) => photo.sha256),
    ]);
    await exchange();
  };
  return (
    <>
      <Card
        title={
          connection === 'connected'
            ? 'Connected'
            : connection === 'signed out'
              ? 'Signed out'
              : 'No connection'
        }
        aside={
          <Button tone="act" onClick={() => void again()}>
            Send now
          </Button>
        }
      >
        {connection === 'signed out' ? (
          <p>
            Your session is over. What you entered is safe here.{' '}
            <a href="/sign-in?then=/outbox">Sign in again</a> to send it.
          </p>
        ) : (
          <p>Everything stays on this device until the server has confirmed it.</p>
        )}
      </Card>
      <Card title={`Entries (${entries.length})`}>
        {entries.length === 0 ? <Empty>Every entry has arrived.</Empty> : null}
        <ul className={list.list}>
          {entries.map(({ item, entry }) => (
            <li key={item.id} className={list.row}>
              <span className={list.main}>
                {entry === undefined ? item.id : lineOf(entry, names)}
                <small>
                  {entry === undefined ? '' : <When at={entry.at} />}
                  {item.author === me.person.id
                    ? ''
                    : `, waits for ${names.person(item.author)} to sign in here`}
                </small>
                {item.problem === null ? null : (
                  <small role="alert">Refused: {problemText(item.problem)}</small>
                )}
              </span>
              <span className={list.aside}>{item.state}</span>
            </li>
          ))}
        </ul>
      </Card>
      <Card title={`Photos (${photos.length})`}>
        {photos.length === 0 ? <Empty>Every photo has arrived.</Empty> : null}
        <ul className={list.list}>
          {photos.map((photo) => (
            <li key={photo.sha256} className={list.row}>
              <span className={list.main}>
                {photo.name}
                <small>
                  {(photo.blob.size / 1e6).toFixed(1)} MB, <When at={photo.addedAt} />
                </small>
                {photo.problem === null ? null : (
                  <small role="alert">Not sent: {problemText(photo.problem)}</small>
                )}
              </span>
              {photo.state === 'refused' ? (
                <Button onClick={() => void store.discardRefusedPhoto(photo.sha256)}>
                  Remove it from this device
                </Button>
              ) : (
                <span className={list.aside}>{photo.state}</span>
              )}
            </li>
          ))}
        </ul>
      </Card>
    </>
  );
}

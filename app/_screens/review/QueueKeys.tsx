'use client';
import { useId, useState } from 'react';
import { Button } from '../../_ui/kit.tsx';
import classes from './queue.module.css';
import { KEYS, keysAreOn, switchKeys } from './queueKeys.ts';

/** The list of keys, shown by a button or by `?`; single keys can be switched off. */
export function QueueKeys({ shown, onShow }: { shown: boolean; onShow: (shown: boolean) => void }) {
  const panel = useId();
  const [on, setOn] = useState(keysAreOn);
  return (
    <div className={classes.keys}>
      <Button aria-expanded={shown} aria-controls={panel} onClick={() => onShow(!shown)}>
        Keys
      </Button>
      {shown ? (
        <div id={panel} className={classes.keyPanel}>
          <dl>
            {KEYS.map(([keys, what]) => (
              <div key={keys}>
                <dt>
                  <kbd>{keys}</kbd>
                </dt>
                <dd>{what}</dd>
              </div>
            ))}
          </dl>
          <label className={classes.switch}>
            <input
              type="checkbox"
              checked={on}
              onChange={(event) => {
                switchKeys(event.target.checked);
                setOn(event.target.checked);
              }}
            />
            Single keys act on this device
          </label>
        </div>
      ) : null}
    </div>
  );
}

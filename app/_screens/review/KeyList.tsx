import classes from './review.module.css';
import type { KeyAct } from './useKeys.ts';

/** The keys of a screen, folded away. */
export function KeyList({ acts }: { acts: readonly Pick<KeyAct, 'key' | 'words'>[] }) {
  return (
    <details className={classes.keys}>
      <summary>Keys</summary>
      <dl>
        {acts.map(({ key, words }) => (
          <div key={key}>
            <dt>
              <kbd>{key}</kbd>
            </dt>
            <dd>{words}</dd>
          </div>
        ))}
        <div>
          <dt>
            <kbd>Esc</kbd>
          </dt>
          <dd>out of a field</dd>
        </div>
      </dl>
    </details>
  );
}

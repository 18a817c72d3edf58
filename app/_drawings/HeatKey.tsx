import classes from './heat.module.css';
import { heatKey } from './heat.ts';

/** Which shade stands for which counts. */
export function HeatKey({ largest }: { largest: number }) {
  return (
    <ul className={classes.key} aria-label="Shades">
      {heatKey(largest).map(({ step, words }) => (
        <li key={step} className={classes[`heat${step}`]}>
          <span className={classes.swatch} />
          {words}
        </li>
      ))}
    </ul>
  );
}

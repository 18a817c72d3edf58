'use client';
import type { ButtonHTMLAttributes, ReactNode } from 'react';
import type { Problem } from '../../lib/base/index.ts';
import type { Result } from '../../lib/rules/index.ts';
import classes from './kit.module.css';

/** A button of the full target size; `tone` says what kind of act it is. */
export function Button({
  tone = 'plain',
  block = false,
  className = '',
  ...rest
}: ButtonHTMLAttributes<HTMLButtonElement> & { tone?: 'plain' | 'act' | 'grave'; block?: boolean }) {
  return (
    <button
      type="button"
      {...rest}
      className={`${classes.button} ${classes[tone]} ${block ? classes.block : ''} ${className}`}
    />
  );
}

/** Like a button, for going somewhere. */
export function LinkButton({
  href,
  tone = 'plain',
  children,
}: {
  href: string;
  tone?: 'plain' | 'act';
  children: ReactNode;
}) {
  return (
    <a href={href} className={`${classes.button} ${classes[tone]}`}>
      {children}
    </a>
  );
}

const SHAPES: Readonly<Record<Result, ReactNode>> = {
  // Disc, wedge, bar and open ring: four outlines that differ without colour.
  keep: <circle cx="12" cy="12" r="9" fill="currentColor" />,
  repair: <path d="M12 2 22 20H2z" fill="currentColor" />,
  scrap: <path d="M2 8h20v8H2z" fill="currentColor" />,
  hold: (
    <circle cx="12" cy="12" r="8" fill="none" stroke="currentColor" strokeWidth="4" strokeDasharray="8 4.5" />
  ),
};

/** The sign of a verdict: its outline, drawn in the current colour. */
export function VerdictSign({ result, size = 24 }: { result: Result; size?: number }) {
  return (
    <svg viewBox="0 0 24 24" width={size} height={size} aria-hidden="true" className={classes.sign}>
      {SHAPES[result]}
    </svg>
  );
}

/** A verdict as word, shape and colour together. */
export function Verdict({ result, large = false }: { result: Result; large?: boolean }) {
  return (
    <span className={`${classes.verdict} ${classes[result]} ${large ? classes.large : ''}`}>
      <VerdictSign result={result} size={large ? 28 : 20} />
      {result}
    </span>
  );
}

/** From the one that decides to the mildest. */
const WORST_FIRST: readonly Result[] = ['scrap', 'repair', 'hold', 'keep'];

/** The results of several parts: each verdict once, worst first, with how many have it. */
export function VerdictCounts({ results }: { results: readonly Result[] }) {
  return WORST_FIRST.map((result) => {
    const count = results.filter((one) => one === result).length;
    return count === 0 ? null : (
      <span key={result} className={classes.counted}>
        {count === 1 ? '' : `${count} × `}
        <Verdict result={result} />
      </span>
    );
  });
}

/** A problem for a person: what is wrong, with which value, and the way out. */
export function ProblemNote({ problem }: { problem: Problem }) {
  return (
    <div className={classes.problem} role="alert">
      <strong>{problem.message}.</strong>
      {problem.value === '' ? null : (
        <span>
          {' '}
          {problem.field === '' ? '' : `${problem.field}: `}
          <q>{problem.value}</q>
        </span>
      )}
      <div>{problem.wayOut}</div>
    </div>
  );
}

/** A caution at the point of action, after ISO 3864: yellow for caution, red for danger, blue for what must be done; or a plain note. */
export function Caution({
  kind = 'caution',
  children,
}: {
  kind?: 'caution' | 'danger' | 'must' | 'note';
  children: ReactNode;
}) {
  const words = { caution: 'Caution', danger: 'Danger', must: 'First', note: 'Note' };
  return (
    <div className={`${classes.caution} ${classes[`caution-${kind}`]}`} role="note">
      <strong>{words[kind]}</strong> {children}
    </div>
  );
}

export function Card({
  title,
  children,
  aside,
}: {
  title?: ReactNode;
  children: ReactNode;
  aside?: ReactNode;
}) {
  return (
    <section className={classes.card}>
      {title === undefined ? null : (
        <div className={classes.cardHead}>
          <h2>{title}</h2>
          {aside}
        </div>
      )}
      {children}
    </section>
  );
}

/** One of a few answers, as large buttons in a row. */
export function Choice<T extends string>({
  legend,
  options,
  value,
  onChoose,
  words,
}: {
  legend: string;
  options: readonly T[];
  value: T | null;
  onChoose: (value: NoInfer<T>) => void;
  words?: Readonly<Partial<Record<T, string>>>;
}) {
  return (
    <fieldset className={classes.choice}>
      <legend>{legend}</legend>
      <div className={classes.options}>
        {options.map((option) => (
          <button key={option} type="button" aria-pressed={value === option} onClick={() => onChoose(option)}>
            {words?.[option] ?? option}
          </button>
        ))}
      </div>
    </fieldset>
  );
}

/** A labelled control, the child; the hint stands below it and is no part of its name. */
export function Field({ label, hint, children }: { label: string; hint?: string; children: ReactNode }) {
  return (
    <div className={classes.field}>
      {/* biome-ignore lint/a11y/noLabelWithoutControl: the control is the child */}
      <label>
        <span>{label}</span>
        {children}
      </label>
      {hint === undefined ? null : <small>{hint}</small>}
    </div>
  );
}

/** What a list shows when there is nothing in it, with the way on. */
export function Empty({ children }: { children: ReactNode }) {
  return <p className={classes.empty}>{children}</p>;
}

/** Said wherever a class rests on invented limits. */
export function DemonstrationLimits() {
  return <Caution kind="note">The verdict rests on demonstration limits. It is not for real rims.</Caution>;
}

/** A moment in the reader's own time zone and words; with `day` the day alone. */
export function When({ at, day = false }: { at: string; day?: boolean }) {
  return (
    <time dateTime={at} title={at}>
      {new Date(at).toLocaleString(undefined, {
        dateStyle: 'medium',
        ...(day ? {} : { timeStyle: 'short' }),
      })}
    </time>
  );
}

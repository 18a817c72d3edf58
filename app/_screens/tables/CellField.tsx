'use client';
import type { Problem } from '../../../lib/base/index.ts';
import type { Column } from '../../../lib/tolerances/index.ts';
import { Field } from '../../_ui/kit.tsx';
import classes from './tables.module.css';

const LABELS: Readonly<Record<string, string>> = {
  name: 'Name',
  makers: 'Makers (none: any)',
  series: 'Series (none: any)',
  constructions: 'Constructions',
  components: 'Components',
  zones: 'Zones',
  'effective from': 'In effect from',
  'effective until': 'In effect until (none: until withdrawn)',
  risk: 'Risk that the truth is worse (0.05 is 5 %)',
  'diameter from': 'Diameter code from',
  'diameter to': 'Diameter code to',
  unit: 'Sizes of this row are in',
  'bounds of': 'Bounds are counted as',
  nominal: 'Size of the new part',
  'nominal uncertainty': 'Its standard uncertainty',
  'keep min': 'Keep: at least',
  'keep max': 'Keep: at most',
  'repair min': 'Repair: at least',
  'repair max': 'Repair: at most',
  says: 'What the source says, in our words',
  'source title': 'Source: title',
  'source section': 'Source: section',
  'source page': 'Source: page',
  'source edition': 'Source: edition',
  'source kind': 'Source: what sort',
};
const HINTS: Readonly<Record<string, string>> = {
  pairs: 'Maker | series + Maker | series, in the order of “between”; the next pair after a semicolon',
  positions: 'Clock positions, separated by semicolons; none: anywhere',
  makers: 'Separated by semicolons',
  series: 'Separated by semicolons',
};
/** What an empty choice means, where that is more than nothing. */
const EMPTY_WORDS: Readonly<Record<string, string>> = { 'bounds of': 'value' };
const LONG: readonly string[] = ['says', 'note', 'pairs'];
/** Texts that do not fit into a narrow field. */
const BROAD: readonly string[] = ['title', 'name', 'edition', 'issued by', 'source title'];
const DATES: readonly string[] = ['effective from', 'effective until'];

function labelOf(name: string): string {
  return LABELS[name] ?? `${name.charAt(0).toUpperCase()}${name.slice(1)}`;
}

interface Props {
  readonly column: Column;
  readonly options: readonly string[] | null;
  readonly needed: boolean;
  readonly value: string;
  readonly problems: readonly Problem[];
  onChange(value: string): void;
}

/** One cell of a draft, as the control that suits it. */
export function CellField(props: Props) {
  const { column, options, problems } = props;
  const words = options !== null && column.form === 'words';
  const broad = BROAD.includes(column.name) ? classes.broadField : undefined;
  return (
    <div className={words || LONG.includes(column.name) ? classes.wideField : broad}>
      {options !== null && column.name === 'between' ? (
        <Two {...props} options={options} />
      ) : options !== null && column.form === 'words' ? (
        <Words {...props} options={options} />
      ) : (
        <One {...props} />
      )}
      {problems.map((one) => (
        <p key={one.message} className={classes.wrong} role="alert">
          {one.message}. {one.wayOut}
        </p>
      ))}
    </div>
  );
}

function One({ column, options, needed, value, problems, onChange }: Props) {
  const { name } = column;
  const hint = HINTS[name];
  const shared = {
    value,
    'aria-invalid': problems.length > 0,
    onChange: (event: { target: { value: string } }) => onChange(event.target.value),
  };
  return (
    <Field label={labelOf(name)} {...(hint === undefined ? {} : { hint })}>
      {options !== null ? (
        <select {...shared}>
          {needed && value !== '' ? null : (
            <option value="">{needed ? 'choose' : (EMPTY_WORDS[name] ?? 'not given')}</option>
          )}
          {options
            .filter((option) => option !== EMPTY_WORDS[name])
            .map((option) => (
              <option key={option}>{option}</option>
            ))}
        </select>
      ) : LONG.includes(name) ? (
        <textarea rows={2} {...shared} />
      ) : (
        <input type={DATES.includes(name) ? 'date' : 'text'} {...shared} />
      )}
    </Field>
  );
}

/** Two kinds of component, in the order that the pairs of the row are written in. */
function Two({ value, options, onChange }: Props & { readonly options: readonly string[] }) {
  const [first = '', second = ''] = value.split(';').map((word) => word.trim());
  const choose = (one: string, other: string) =>
    onChange([one, other].filter((word) => word !== '').join('; '));
  const select = (label: string, chosen: string, onChoose: (word: string) => void) => (
    <Field label={label}>
      <select value={chosen} onChange={(event) => onChoose(event.target.value)}>
        <option value="">choose</option>
        {options.map((option) => (
          <option key={option}>{option}</option>
        ))}
      </select>
    </Field>
  );
  return (
    <div className={classes.two}>
      {select('Between: first of each pair', first, (word) => choose(word, second))}
      {select('Second of each pair', second, (word) => choose(first, word))}
    </div>
  );
}

/** Several words out of some: none chosen means any. */
function Words({
  column,
  options,
  needed,
  value,
  onChange,
}: Props & { readonly options: readonly string[] }) {
  const chosen = value
    .split(';')
    .map((word) => word.trim())
    .filter((word) => word !== '');
  const toggle = (word: string) => {
    const next = chosen.includes(word) ? chosen.filter((one) => one !== word) : [...chosen, word];
    onChange(next.join('; '));
  };
  return (
    <details className={classes.words} open={needed && chosen.length === 0}>
      <summary>
        <b>{labelOf(column.name)}</b>: {chosen.length === 0 ? (needed ? 'choose' : 'any') : chosen.join(', ')}
      </summary>
      <div className={classes.wordList}>
        {options.map((word) => (
          <label key={word}>
            <input type="checkbox" checked={chosen.includes(word)} onChange={() => toggle(word)} /> {word}
          </label>
        ))}
      </div>
    </details>
  );
}

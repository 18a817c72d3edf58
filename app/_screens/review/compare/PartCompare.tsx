'use client';
import { markWord } from '../../../../lib/marks/index.ts';
import { characteristicOf } from '../../../../lib/readings/index.ts';
import type { QuestionPin } from '../../../../lib/record/index.ts';
import type { MarkCompared, MarkSize, PartCompared, ReadingCompared } from '../../../../lib/review/index.ts';
import type { UnitPreference } from '../../../../lib/units/index.ts';
import { usePlace } from '../../../_client/place.ts';
import { useUnits } from '../../../_client/units.ts';
import { Button, Card, Empty, Verdict } from '../../../_ui/kit.tsx';
import list from '../../../_ui/list.module.css';
import { measureText } from '../../inspect/sizes.ts';
import { placeName } from '../measure/ReadAgain.tsx';
import classes from '../review.module.css';

/** A question that somebody is about to ask. */
export type Asking = { readonly pin: QuestionPin; readonly wants: 'an answer' | 'another reading' };

interface Props {
  readonly part: PartCompared;
  /** Null: nobody may ask now. */
  onAsk: ((asking: Asking) => void) | null;
}

/** One part as two people have it: calls, readings, marks; what disagrees stands in the head. */
export function PartCompare({ part, onAsk }: Props) {
  const { calls, disagreements } = part;
  return (
    <Card
      title={part.slot}
      aside={
        <span className={disagreements.length > 0 ? classes.differs : classes.agrees}>
          {disagreements.length > 0 ? '≠ they disagree' : '= they agree'}
        </span>
      }
    >
      {disagreements.length === 0 ? null : (
        <p>
          <b>They disagree on</b> {disagreements.join('; ')}.
        </p>
      )}
      <dl className={classes.calls}>
        <Called words="Inspector’s call" result={calls.inspector} />
        <Called words="Class under the inspector’s numbers" result={calls.submitted} />
        <Called words="Class under the reviewer’s numbers" result={calls.second} />
        <Called words="Reviewer’s call" result={calls.reviewer} />
      </dl>
      <Readings {...{ part, onAsk }} />
      <Marks {...{ part, onAsk }} />
      {onAsk === null || part.component === null ? null : (
        <Button
          onClick={() => onAsk({ pin: { on: 'part', component: part.component ?? '' }, wants: 'an answer' })}
        >
          Ask about the {part.slot}
        </Button>
      )}
    </Card>
  );
}

function Called({ words, result }: { words: string; result: PartCompared['calls']['inspector'] }) {
  return (
    <div>
      <dt>{words}</dt>
      <dd>{result === null ? 'no call' : <Verdict result={result} />}</dd>
    </div>
  );
}

const mm = (value: number, signed = false) => `${signed && value > 0 ? '+' : ''}${value.toFixed(2)}`;

/** The normalised error in words: up to 1 in size the two agree within what they state. */
function enText(En: number | null): string {
  if (En === null) return '–';
  return `${En.toFixed(2)} ${Math.abs(En) > 1 ? '≠' : '='}`;
}

const farthestFirst = (a: ReadingCompared, b: ReadingCompared) => Math.abs(b.En ?? 0) - Math.abs(a.En ?? 0);

function Readings({ part: { readings, component }, onAsk }: Props) {
  if (readings.length === 0) return <Empty>Neither of them has a reading of this part.</Empty>;
  const pairs = readings.filter(({ first, second }) => first !== null && second !== null);
  const lone = readings.filter((one) => !pairs.includes(one));
  return (
    <>
      {pairs.length === 0 ? null : (
        <ReadingTable
          caption="Readings, mm. |En| up to 1: they agree within the uncertainty they state."
          readings={[...pairs].sort(farthestFirst)}
          component={component}
          onAsk={onAsk}
        />
      )}
      {lone.length === 0 ? null : (
        <details className={classes.lone}>
          <summary>
            {lone.length === 1 ? '1 reading' : `${lone.length} readings`} that only one of them has
          </summary>
          <ReadingTable caption="Readings, mm" readings={lone} component={component} onAsk={onAsk} />
        </details>
      )}
    </>
  );
}

function ReadingTable({
  caption,
  readings,
  component,
  onAsk,
}: {
  caption: string;
  readings: readonly ReadingCompared[];
  component: string | null;
  onAsk: Props['onAsk'];
}) {
  return (
    <div className={classes.scroll}>
      <table className={list.table}>
        <caption>{caption}</caption>
        <thead>
          <tr>
            <th>Where</th>
            <th>Inspector</th>
            <th>Reviewer</th>
            <th>Difference</th>
            <th>± U</th>
            <th>En</th>
            {onAsk === null ? null : <th>Read again</th>}
          </tr>
        </thead>
        <tbody>
          {readings.map((one) => (
            <ReadingLine
              key={`${one.characteristic}|${one.clock}|${one.state}`}
              one={one}
              component={component}
              onAsk={onAsk}
            />
          ))}
        </tbody>
      </table>
    </div>
  );
}

function ReadingLine({
  one,
  component,
  onAsk,
}: {
  one: ReadingCompared;
  component: string | null;
  onAsk: Props['onAsk'];
}) {
  const { characteristic, zone, clock, state, first, second, difference, U, En } = one;
  const where = `${characteristicOf(characteristic).label}, ${placeName(one)}`;
  return (
    <tr className={En !== null && Math.abs(En) > 1 ? classes.beyond : undefined}>
      <td>{where}</td>
      <td className={list.figure}>{first === null ? '–' : mm(first.value)}</td>
      <td className={list.figure}>{second === null ? 'not readable' : mm(second.value)}</td>
      <td className={list.figure}>{difference === null ? '–' : mm(difference, true)}</td>
      <td className={list.figure}>{U === null ? '–' : mm(U)}</td>
      <td className={list.figure}>{enText(En)}</td>
      {onAsk === null || component === null ? null : (
        <td>
          <Button
            aria-label={`Ask for another reading: ${where}`}
            onClick={() =>
              onAsk({
                pin: { on: 'reading', place: { component, characteristic, zone, clock, state } },
                wants: 'another reading',
              })
            }
          >
            Ask
          </Button>
        </td>
      )}
    </tr>
  );
}

function sizeWords(size: MarkSize | null, units: UnitPreference): string {
  return size === null ? 'not measured' : measureText(size.quantity, size.value, size.u, units);
}

function apartWords({ alike }: MarkCompared): string {
  if (alike === null) return '–';
  const { meanPx, farthestPx, overlap } = alike;
  const apart = `${meanPx.toFixed(0)} px apart on average, ${farthestPx.toFixed(0)} px at most`;
  return overlap === null ? apart : `${apart}; ${(overlap * 100).toFixed(0)} % of their area in common`;
}

function Marks({ part: { marks }, onAsk }: Props) {
  const place = usePlace();
  const [units] = useUnits();
  if (marks.length === 0) return <p>Neither of them has marked anything on this part.</p>;
  return (
    <div className={classes.scroll}>
      <table className={list.table}>
        <caption>Marks</caption>
        <thead>
          <tr>
            <th>Inspector</th>
            <th>Reviewer</th>
            <th>How far apart</th>
            <th>En</th>
            <th>Photo</th>
          </tr>
        </thead>
        <tbody>
          {marks.map((pair) => {
            const mark = pair.first ?? pair.second;
            if (mark === null) return null;
            const lone = pair.first === null || pair.second === null;
            const beyond = lone || (pair.En !== null && Math.abs(pair.En) > 1);
            return (
              <tr
                key={`${pair.first?.mark}|${pair.second?.mark}`}
                className={beyond ? classes.beyond : undefined}
              >
                <td>
                  {pair.first === null
                    ? '≠ not marked'
                    : `${markWord(pair.first)} ${sizeWords(pair.sizes.first, units)}`}
                </td>
                <td>
                  {pair.second === null
                    ? '≠ not marked'
                    : `${markWord(pair.second)} ${sizeWords(pair.sizes.second, units)}`}
                </td>
                <td>{apartWords(pair)}</td>
                <td className={list.figure}>{enText(pair.En)}</td>
                <td>
                  <Button onClick={() => place.go({ photo: mark.photo })}>
                    {onAsk === null ? 'Look' : 'Look, ask'}
                  </Button>
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}

import { gateQuestions, type InspectionState } from '../../../lib/record/index.ts';
import type { AskedReading } from '../../../lib/review/index.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import classes from './review.module.css';

/** Under which conditions and with which instruments it was measured; no figure of anybody. */
export function Conditions({
  state,
  readings,
}: {
  state: InspectionState;
  readings: readonly AskedReading[];
}) {
  const { register } = useWorkplace();
  const answers = gateQuestions.flatMap(({ id, ask: text }) => {
    const answer = state.gate.get(id)?.value.answer;
    return answer === undefined ? [] : [{ id, text, answer }];
  });
  const no = answers.filter(({ answer }) => answer === 'no');
  const instruments = [...new Set(readings.map(({ instrument }) => instrument))].map((id) =>
    id === null ? undefined : register.instruments.get(id),
  );
  const pressure = state.pressure?.value;
  return (
    <details className={classes.conditions}>
      <summary>
        Conditions and instruments: safety gate {answers.length - no.length} yes, {no.length} no
        {pressure === undefined ? '' : `; pressure found ${pressure.typed} of ${pressure.recommendedTyped}`}
      </summary>
      <ul>
        {no.map(({ id, text }) => (
          <li key={id}>
            <b>No:</b> {text}
          </li>
        ))}
        {[...state.assembly.values()].map(({ value }) => (
          <li key={value.point}>
            Assembly, {value.point}: {value.answer}
          </li>
        ))}
        {[...state.absent.values()].map(({ value }) => (
          <li key={value.slot}>Not there: {value.slot}</li>
        ))}
        {instruments.map((instrument, i) => (
          <li key={instrument?.id ?? `none ${i}`}>
            {instrument === undefined
              ? 'Readings without a named instrument'
              : `${instrument.name}, calibration due ${instrument.calibrationDue ?? 'not known'}`}
          </li>
        ))}
      </ul>
    </details>
  );
}

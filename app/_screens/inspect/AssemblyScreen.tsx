'use client';
import { assemblyPoints, kinds } from '../../../lib/record/index.ts';
import type { InspectionView } from '../../_client/inspection.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Card, Caution, Choice, LinkButton } from '../../_ui/kit.tsx';
import { InflationCard } from './InflationCard.tsx';
import { useGate } from './Inspect.tsx';

/** The points that are checked when the set goes together, and the pairs that must match. */
export function AssemblyScreen({ view }: { view: InspectionView }) {
  const { write } = useWorkplace();
  const gate = useGate(view);
  const { assembly } = view.verdict;
  return (
    <>
      <Caution kind="danger">
        Put nothing together that is not keep. Inflate only in a restraining device or with remote equipment,
        in stages, with nobody in the trajectory; never hammer or force a ring that has air behind it.
      </Caution>
      {gate.allows === 'walk-around' ? (
        <Caution kind="must">Answer the safety gate first; nothing is assembled while it is open.</Caution>
      ) : null}
      {assemblyPoints.map((point) => (
        <Card key={point.id}>
          <Choice
            legend={point.ask}
            options={['yes', 'no']}
            value={view.state.assembly.get(point.id)?.value.answer ?? null}
            words={{ yes: 'Yes', no: 'No' }}
            onChoose={(answer) =>
              void write(kinds.assemblyPointAnswered, view.state.id, { point: point.id, answer, note: '' })
            }
          />
          <Caution>
            {point.caution} <small>({point.source})</small>
          </Caution>
        </Card>
      ))}
      <Card title={assembly.fit ? 'Fit to go together' : 'Not fit to go together'}>
        <h3>Pairs that must match</h3>
        <ul>
          {assembly.pairs.map((pair) => (
            <li key={pair.slots.join()}>
              <b>{pair.matches ? 'Match' : 'No match shown'}:</b> {pair.slots.join(' and ')}: {pair.why}.
              {(pair.rules ?? []).map((rule) => (
                <small key={`${rule.table}${rule.row}`}>
                  {' '}
                  Row “{rule.row}” of {rule.table}, {rule.edition} ({rule.source.kind}).
                </small>
              ))}
            </li>
          ))}
        </ul>
        {assembly.reasons.length === 0 ? null : (
          <>
            <h3>Against it</h3>
            <ul>
              {assembly.reasons.map((reason) => (
                <li key={reason}>{reason}</li>
              ))}
            </ul>
          </>
        )}
      </Card>
      <InflationCard view={view} />
      <LinkButton href={`/inspect?id=${view.state.id}`}>Back to the parts</LinkButton>
    </>
  );
}

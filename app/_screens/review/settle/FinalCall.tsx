'use client';
import { useId } from 'react';
import type { Call } from '../../../../lib/record/index.ts';
import type { SubmittedPart } from '../../../../lib/review/index.ts';
import { type RuleCited, sourceText, type Verdict } from '../../../../lib/rules/index.ts';
import { Choice, Field } from '../../../_ui/kit.tsx';
import { CALLS } from '../measure/PartMeasure.tsx';

/** A reviewer's call with what it rests on. */
export interface OwnCall {
  readonly call: Call;
  readonly reason: string;
  readonly limit: string;
}

function citation({ table, edition, row, source }: RuleCited): string {
  return `${table}, ${edition}, row ${row} (${sourceText(source)})`.slice(0, 400);
}

/** Limits that the verdicts on a part rest on, for citing. */
function limitsOf(slot: string, verdicts: readonly Verdict[]): string[] {
  const cited = verdicts.flatMap(({ parts }) =>
    (parts.find((part) => part.slot === slot)?.findings ?? []).flatMap(({ rule }) =>
      rule === null ? [] : [citation(rule)],
    ),
  );
  return [...new Set(cited)];
}

/** The final call on one part; one that differs from the submitted class says why and by which limit. */
export function FinalCall({
  part,
  own,
  measured,
  verdicts,
  onCall,
}: {
  part: SubmittedPart;
  own: OwnCall | undefined;
  /** The call that was handed in. */
  measured: Call | null;
  verdicts: readonly Verdict[];
  onCall(call: OwnCall): void;
}) {
  const id = useId();
  const call = own ?? { call: part.result, reason: '', limit: '' };
  const differs = own !== undefined && own.call !== part.result;
  return (
    <>
      <Choice
        legend={`${part.slot}: submitted as ${part.result}`}
        options={CALLS}
        value={own?.call ?? null}
        onChoose={(value) => onCall({ ...call, call: value })}
      />
      {differs || (own !== undefined && measured !== null && measured !== own.call) ? (
        <Field label={`Why the ${part.slot} is ${call.call}`}>
          <input
            value={call.reason}
            maxLength={2000}
            onChange={(event) => onCall({ ...call, reason: event.target.value })}
          />
        </Field>
      ) : null}
      {differs ? (
        <>
          <Field
            label={`Limit that makes the ${part.slot} ${call.call}`}
            hint="A row of a table in force, or document and page."
          >
            <input
              value={call.limit}
              maxLength={400}
              list={id}
              onChange={(event) => onCall({ ...call, limit: event.target.value })}
            />
          </Field>
          <datalist id={id}>
            {limitsOf(part.slot, verdicts).map((limit) => (
              <option key={limit} value={limit} />
            ))}
          </datalist>
        </>
      ) : null}
    </>
  );
}

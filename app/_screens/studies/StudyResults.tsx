'use client';
import { useMemo } from 'react';
import { counted } from '../../../lib/base/index.ts';
import {
  DISTINCT_MIN,
  gaugeClass,
  type StudyFigures,
  type StudyGap,
  studyComponents,
  studyResult,
} from '../../../lib/review/agreement/index.ts';
import { showNumber } from '../../../lib/units/index.ts';
import { NAME_UNKNOWN, usePeople } from '../../_client/people.ts';
import { useUnits } from '../../_client/units.ts';
import { type LengthScale, lengthScale } from '../../_plots/scale.ts';
import { Card, Empty } from '../../_ui/kit.tsx';
import type { StudyProps } from './StudyPage.tsx';
import { Components, Ranges, Readings } from './StudyPlots.tsx';
import { ComponentTables } from './StudyTables.tsx';
import classes from './studies.module.css';

/** What came out of a study; of an incomplete one, what is missing. */
export function StudyResults({ study, plan }: StudyProps) {
  const result = useMemo(() => studyResult(study), [study]);
  const people = usePeople();
  const [units] = useUnits();
  const scale = useMemo(() => lengthScale(units), [units]);
  const names = useMemo(
    () => distinct(plan.people.map((id) => people.get(id) ?? NAME_UNKNOWN)),
    [plan, people],
  );
  if (!result.ok) return <Missing gaps={result.error} plan={plan} study={study} names={names} />;
  return <Figures figures={result.value} names={names} scale={scale} />;
}

/** Names by which people are told apart: a second one of the same name is numbered. */
function distinct(names: readonly string[]): readonly string[] {
  return names.map((name, i) => (names.indexOf(name) === i ? name : `${name} (${i + 1})`));
}

/** Gaps listed by person, so that each knows what to take; more than this per person are only counted. */
const GAPS_LISTED = 12;

function Missing({
  gaps,
  plan,
  names,
}: StudyProps & { gaps: readonly StudyGap[]; names: readonly string[] }) {
  const label = (part: string) => plan.parts.find((one) => one.part === part)?.label ?? '';
  return (
    <Card title="Result">
      <Empty>
        Nothing is computed while readings are missing: {counted(gaps.length, 'reading')} of{' '}
        {plan.parts.length * plan.people.length * plan.trials}.
      </Empty>
      <ul className={classes.missing}>
        {plan.people.map((person, i) => {
          const own = gaps.filter((gap) => gap.person === person);
          if (own.length === 0) return null;
          return (
            <li key={person}>
              <b>{names[i]}</b>:{' '}
              {own
                .slice(0, GAPS_LISTED)
                .map((gap) => `${label(gap.part)} trial ${gap.trial}`)
                .join(', ')}
              {own.length > GAPS_LISTED ? ` and ${own.length - GAPS_LISTED} more` : ''}
            </li>
          );
        })}
      </ul>
    </Card>
  );
}

export interface FiguresProps {
  readonly figures: StudyFigures;
  readonly names: readonly string[];
  readonly scale: LengthScale;
}

function Figures({ figures, names, scale }: FiguresProps) {
  return (
    <>
      <Headline figures={figures} names={names} />
      <Card title="Components of variation">
        <ComponentTables figures={figures} scale={scale} />
      </Card>
      <Card title="Plots">
        <Components figures={figures} />
        <Readings figures={figures} names={names} scale={scale} />
        <Ranges figures={figures} names={names} scale={scale} />
      </Card>
    </>
  );
}

const CLASS_WORDS = {
  'good enough': 'good enough (up to 10 %)',
  doubtful: 'doubtful (10 to 30 %)',
  'not good enough': 'not good enough (over 30 %)',
} as const;

function Headline({ figures, names }: Omit<FiguresProps, 'scale'>) {
  const { variance, notes, plan } = figures;
  return (
    <Card title="Result">
      {variance.ok ? (
        <dl className={classes.headline}>
          <dt>Share of the study’s variation that comes from measuring</dt>
          <dd>
            <b>{showNumber(variance.value.percent.gauge, 1)} %</b>{' '}
            {CLASS_WORDS[gaugeClass(variance.value.percent.gauge)]}
          </dd>
          {plan.tolerance === null ? null : (
            <Tolerance
              percent={
                studyComponents(variance.value, plan.tolerance.valueMm).find((one) => one.name === 'gauge')
                  ?.ofTolerance ?? 0
              }
            />
          )}
          <dt>Classes of parts that can be told apart</dt>
          <dd>
            <b>{variance.value.distinct ?? 'no limit'}</b>{' '}
            {variance.value.distinct === null || variance.value.distinct >= DISTINCT_MIN
              ? `enough (${DISTINCT_MIN} or more)`
              : `too few (fewer than ${DISTINCT_MIN})`}
          </dd>
        </dl>
      ) : (
        <Empty>
          {variance.error.message}. {variance.error.wayOut}
        </Empty>
      )}
      <ul className={classes.notes}>
        {notes.map((note) => (
          <li key={`${note.code} ${note.person}`}>
            {note.person === '' ? '' : `${names[plan.people.indexOf(note.person)] ?? note.person} `}
            {note.text}
          </li>
        ))}
        <li>
          Shares of the study’s variation compare with these parts only: parts that are too much alike make
          any gauge look poor.
        </li>
      </ul>
      <p className={classes.source}>
        Analysis of variance and classes: Measurement Systems Analysis, 4th edition, chapter III; figures
        above by analysis of variance.
      </p>
    </Card>
  );
}

function Tolerance({ percent }: { percent: number }) {
  return (
    <>
      <dt>Share of the tolerance that six standard deviations of measuring take up</dt>
      <dd>
        <b>{showNumber(percent, 1)} %</b> {CLASS_WORDS[gaugeClass(percent)]}
      </dd>
    </>
  );
}

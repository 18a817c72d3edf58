'use client';
import { useMemo, useState } from 'react';
import { counted } from '../../../lib/base/index.ts';
import {
  FindKind,
  type PlacedVisit,
  visitsWithin,
  type WhereFilter,
  zoneCounts,
} from '../../../lib/history/index.ts';
import { ConstructionId, constructionOf } from '../../../lib/wheel/index.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { useVisits } from '../../_client/wearing.ts';
import { HeatKey } from '../../_drawings/HeatKey.tsx';
import { RimCounts } from '../../_drawings/RimCounts.tsx';
import { SectionCounts } from '../../_drawings/SectionCounts.tsx';
import { DataTable } from '../../_plots/DataTable.tsx';
import { Frame } from '../../_ui/Frame.tsx';
import figures from '../../_ui/figures.module.css';
import { Button, Card, Empty, Field, ProblemNote } from '../../_ui/kit.tsx';
import classes from '../wear/wear.module.css';
import { countsTable } from './figures.ts';
import { Rates } from './Rates.tsx';

/** Where on the rim things happen, over all concluded inspections of the fleet. */
export function WhereScreen() {
  return (
    <Frame title="Where" back={{ href: '/', label: 'start' }} wide>
      <Body />
    </Frame>
  );
}

type Chosen = Omit<WhereFilter, 'construction'> & { readonly construction: ConstructionId | null };
const ALL: Chosen = { construction: null, kind: null, from: null, to: null };

function Body() {
  const { site } = useWorkplace();
  const answer = useVisits();
  const [chosen, setChosen] = useState(ALL);
  if (answer === null) return <p role="status">Fetching what was found …</p>;
  if (answer.problem !== null) return <ProblemNote problem={answer.problem} />;
  if (!answer.reached) return <Empty>This page needs a connection.</Empty>;
  const construction = chosen.construction ?? mostOften(answer.visits);
  if (construction === null) {
    return (
      <Card title="Where it happens">
        <Empty>No inspection of this site has been reviewed yet. Only what is settled is counted here.</Empty>
      </Card>
    );
  }
  return (
    <div className={figures.page}>
      <div className={figures.head}>
        <p>
          {site.name}: what concluded inspections found, by zone and clock position. A defect that was
          recorded again at a later inspection counts again, as its zone was looked at again.
        </p>
        <Button className={classes.noPrint} onClick={() => window.print()}>
          Print
        </Button>
      </div>
      <Filters visits={answer.visits} chosen={{ ...chosen, construction }} onChoose={setChosen} />
      <Counts visits={answer.visits} filter={{ ...chosen, construction }} />
    </div>
  );
}

/** The construction with the most visits; null without any. */
function mostOften(visits: readonly PlacedVisit[]): ConstructionId | null {
  const count = (id: ConstructionId) => visits.filter(({ construction }) => construction === id).length;
  const [most] = [...ConstructionId.options].sort((a, b) => count(b) - count(a));
  return most === undefined || count(most) === 0 ? null : most;
}

function Filters({
  visits,
  chosen,
  onChoose,
}: {
  visits: readonly PlacedVisit[];
  chosen: WhereFilter;
  onChoose(chosen: Chosen): void;
}) {
  const set = (change: Partial<Chosen>) => onChoose({ ...chosen, ...change });
  const constructions = [...new Set(visits.map(({ construction }) => construction))];
  const day = (label: string, key: 'from' | 'to') => (
    <Field label={label}>
      <input
        type="date"
        value={chosen[key] ?? ''}
        onChange={(event) => set({ [key]: event.target.value === '' ? null : event.target.value })}
      />
    </Field>
  );
  return (
    <Card title="What is counted">
      <div className={figures.filters}>
        <Field label="Construction">
          <select
            value={chosen.construction}
            onChange={(event) => set({ construction: ConstructionId.parse(event.target.value) })}
          >
            {constructions.map((id) => (
              <option key={id} value={id}>
                {constructionOf(id).title}
              </option>
            ))}
          </select>
        </Field>
        <Field label="Found">
          <select
            value={chosen.kind ?? ''}
            onChange={(event) =>
              set({ kind: event.target.value === '' ? null : FindKind.parse(event.target.value) })
            }
          >
            <option value="">Everything</option>
            {FindKind.options.map((kind) => (
              <option key={kind} value={kind}>
                {kind === 'beyond a limit' ? 'size beyond keep' : kind}
              </option>
            ))}
          </select>
        </Field>
        {day('Inspected from', 'from')}
        {day('Inspected up to', 'to')}
      </div>
    </Card>
  );
}

function Counts({ visits, filter }: { visits: readonly PlacedVisit[]; filter: WhereFilter }) {
  const { register } = useWorkplace();
  const construction = constructionOf(filter.construction);
  const within = useMemo(() => visitsWithin(visits, filter), [visits, filter]);
  const counts = useMemo(
    () =>
      zoneCounts(
        within,
        construction.slots
          .filter((slot) => slot.inspected)
          .flatMap(({ slot, zones }) => zones.map(({ zone }) => ({ slot, zone }))),
      ),
    [within, construction],
  );
  const finds = counts.reduce((sum, { count }) => sum + count, 0);
  const onClock = Math.max(0, ...counts.flatMap(({ byHour, noClock }) => [...byHour, noClock]));
  const inZone = Math.max(0, ...counts.map(({ count }) => count));
  const byZone = useMemo(
    () => new Map(counts.map(({ slot, zone, count }) => [`${slot}|${zone}`, count])),
    [counts],
  );
  const designation =
    [...register.wheels.values()].find((wheel) => wheel.construction === filter.construction)?.designation ??
    '';
  return (
    <>
      <Card title={`${counted(finds, 'find')} in ${counted(within.length, 'inspection')}`}>
        <h3>By zone, on the section</h3>
        <HeatKey largest={inZone} />
        <SectionCounts
          construction={construction}
          designation={designation}
          counts={byZone}
          largest={inZone}
        />
        <h3>By zone and clock position, the rim laid flat</h3>
        <p>
          The valve is at 12, seen from the gutter side; “?”: nobody said where. Hatched: never seen, so that
          no find says nothing.
        </p>
        <HeatKey largest={onClock} />
        <RimCounts counts={counts} largest={onClock} />
        <DataTable data={countsTable(counts)} />
      </Card>
      <Rates visits={within} />
    </>
  );
}

'use client';
import { useMemo, useRef, useState } from 'react';
import { counted, errorText, type Problem, problem } from '../../../lib/base/index.ts';
import { inspectionReport, wheelReport } from '../../../lib/report/index.ts';
import type { Verdict as VerdictData } from '../../../lib/rules/index.ts';
import { now } from '../../_client/device.ts';
import { type InspectionView, namesOf, useBook, useInspection } from '../../_client/inspection.ts';
import { usePeople } from '../../_client/people.ts';
import { usePlace } from '../../_client/place.ts';
import { drawingAsPicture } from '../../_client/report/pictures.ts';
import { reportPdf, wheelPdf } from '../../_client/report/reportPdf.ts';
import { partsToTag, tagsPdf } from '../../_client/report/tagsPdf.ts';
import { saveFile } from '../../_client/saveFile.ts';
import { useUnits } from '../../_client/units.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { SectionDrawing } from '../../_drawings/SectionDrawing.tsx';
import { UnrolledRim } from '../../_drawings/UnrolledRim.tsx';
import { Frame } from '../../_ui/Frame.tsx';
import { Button, Card, DemonstrationLimits, Empty, ProblemNote, Verdict } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import { zoneStates } from '../inspect/zoneStates.ts';
import { KeptFromYou } from '../KeptFromYou.tsx';
import { type Making, pagesOf } from './making.ts';

/** The report of one inspection, and the tags of parts that must not be used, as PDF. */
export function Report() {
  return (
    <Frame title="Report" back={{ href: '/', label: 'start' }}>
      <Body />
    </Frame>
  );
}

function Body() {
  const place = usePlace();
  const loaded = useInspection(place.get('id'));
  if (loaded.state === 'loading') return <p>Looking it up …</p>;
  if (loaded.state === 'missing')
    return <Empty>This inspection is not here and cannot be fetched now.</Empty>;
  const { withheld } = loaded.value;
  if (withheld?.why === 'measure first')
    return <KeptFromYou inspection={loaded.value.state.id} withheld={withheld} />;
  return <Page view={loaded.value} />;
}

function Page({ view }: { view: InspectionView }) {
  const workplace = useWorkplace();
  const { register } = workplace;
  const people = usePeople();
  const [units] = useUnits();
  const drawings = useRef<HTMLDivElement>(null);
  const [busy, setBusy] = useState('');
  const [wrong, setWrong] = useState<Problem | null>(null);
  const { state, wheel } = view;
  // biome-ignore lint/correctness/useExhaustiveDependencies: names are looked up in the register and the people.
  const report = useMemo(
    () =>
      inspectionReport({ state, wheel, register, names: namesOf(workplace, people), sizeWords: () => '' }),
    [state, wheel, register, people],
  );
  const { inspections, withheld } = useBook(wheel.id);
  // What has to be measured first is in no report.
  const book = inspections.filter(({ id }) => withheld.get(id)?.why !== 'measure first');
  const making: Making = { view, workplace, names: namesOf(workplace, people), units };
  const verdict = (state.submission?.value.verdict ?? null) as unknown as VerdictData | null;

  const save = async (make: () => Promise<[string, ArrayBuffer]>) => {
    setWrong(null);
    setBusy('Making the PDF');
    try {
      const [name, bytes] = await make();
      saveFile(name, 'application/pdf', bytes);
    } catch (error) {
      setWrong(
        problem(
          'report-failed',
          'report',
          '',
          `The PDF could not be made: ${errorText(error)}`,
          'Try again with a connection.',
        ),
      );
    }
    setBusy('');
  };
  const saveReport = () =>
    save(async () => {
      const svgs = [...(drawings.current?.querySelectorAll('svg') ?? [])].filter(
        (svg) => svg.getBoundingClientRect().width > 200,
      );
      const pictures = await Promise.all(
        svgs.map(async (svg, i) => ({
          title: i === 0 ? 'Section of the rim' : 'The rim unrolled',
          picture: await drawingAsPicture(svg),
        })),
      );
      const pages = await pagesOf(making, state, pictures, (n, of) => setBusy(`Photo ${n} of ${of}`));
      const bytes = await reportPdf(pages, now());
      return [`report-${wheel.tag}-${(state.opened?.at ?? now()).slice(0, 10)}.pdf`, bytes];
    });
  const saveBook = () =>
    save(async () => {
      const states = [...book].reverse();
      const names = namesOf(workplace, people);
      const bytes = await wheelPdf(
        wheelReport(wheel, register, states, names),
        states.length,
        (n) =>
          pagesOf(making, states[n] ?? state, [], (photo, of) =>
            setBusy(`Inspection ${n + 1} of ${states.length}, photo ${photo} of ${of}`),
          ),
        now(),
      );
      return [`book-${wheel.tag}.pdf`, bytes];
    });
  const saveTags = () =>
    save(async () => [
      `tags-${wheel.tag}.pdf`,
      await tagsPdf(
        report,
        wheel.tag,
        `${window.location.origin}/wheel?id=${wheel.id}&inspection=${state.id}`,
      ),
    ]);
  const tags = partsToTag(report);
  return (
    <>
      {report.demonstration ? <DemonstrationLimits /> : null}
      <Card title={report.title}>
        <p>
          <b>{report.standing}</b>
        </p>
        <p>
          {counted(report.parts.length, 'part')}, {counted(report.photos.length, 'photo')},{' '}
          {counted(report.signatures.length, 'signature')}. The PDF holds identity, photos with marks and
          scale bars, readings, limits and whose they are, verdicts, signatures, cautions and hashes.
        </p>
        {wrong === null ? null : <ProblemNote problem={wrong} />}
        <Button tone="act" block disabled={busy !== ''} onClick={() => void saveReport()}>
          {busy === '' ? 'Save the report (PDF)' : busy}
        </Button>
        <p>
          {tags.length === 0
            ? 'No part of it needs a tag.'
            : `Tags for ${tags.map(({ slot, word }) => `${slot}: ${word}`).join(', ')}.`}
        </p>
        {tags.length === 0 ? null : (
          <Button block disabled={busy !== ''} onClick={() => void saveTags()}>
            Save {counted(tags.length, 'tag')} (PDF)
          </Button>
        )}
      </Card>
      <Card title={`The whole book of ${wheel.tag}`}>
        <p>
          {counted(book.length, 'inspection')}, each in full, after the history of the wheel and its parts.
          With many photos this takes a while.
        </p>
        <Button block disabled={busy !== ''} onClick={() => void saveBook()}>
          Save the book (PDF)
        </Button>
      </Card>
      <Card title="Parts">
        <ul className={list.list}>
          {report.parts.map(({ slot, identity, settled, submitted }) => {
            const result = settled ?? submitted;
            return (
              <li key={slot} className={list.row}>
                <span className={list.main}>
                  <b>{slot}</b>
                  <small>{identity}</small>
                </span>
                {result === null ? null : <Verdict result={result} />}
              </li>
            );
          })}
        </ul>
      </Card>
      <div ref={drawings}>
        <SectionDrawing
          construction={view.construction}
          designation={wheel.designation}
          zones={zoneStates(view)}
          selected={null}
          onZone={() => undefined}
        />
        <UnrolledRim
          construction={view.construction}
          state={state}
          parts={view.parts}
          {...(verdict === null ? {} : { verdict })}
          onPhoto={() => undefined}
        />
      </div>
    </>
  );
}

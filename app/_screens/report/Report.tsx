'use client';
import { useMemo, useRef, useState } from 'react';
import { counted, errorText, type Problem, problem } from '../../../lib/base/index.ts';
import type { Mark } from '../../../lib/marks/index.ts';
import { sceneOfPhoto, sectionOfWheel } from '../../../lib/photo/index.ts';
import { brokenLinks, linkOf } from '../../../lib/record/index.ts';
import { type InspectionReport, inspectionReport, type ReportPhoto } from '../../../lib/report/index.ts';
import type { Verdict as VerdictData } from '../../../lib/rules/index.ts';
import { now } from '../../_client/device.ts';
import { type InspectionView, namesOf, useInspection } from '../../_client/inspection.ts';
import { measureFar, sizeKnown } from '../../_client/measuring.ts';
import { usePeople } from '../../_client/people.ts';
import { usePlace } from '../../_client/place.ts';
import { call } from '../../_client/remote.ts';
import {
  drawingAsPicture,
  type PagePicture,
  photoWithMarks,
  type ScaleBar,
} from '../../_client/report/pictures.ts';
import { type ReportChain, reportPdf } from '../../_client/report/reportPdf.ts';
import { partsToTag, tagsPdf } from '../../_client/report/tagsPdf.ts';
import { saveFile } from '../../_client/saveFile.ts';
import { useUnits } from '../../_client/units.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { SectionDrawing } from '../../_drawings/SectionDrawing.tsx';
import { UnrolledRim } from '../../_drawings/UnrolledRim.tsx';
import { Frame } from '../../_ui/Frame.tsx';
import { Button, Card, Caution, Empty, ProblemNote, Verdict } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import type { ChainAnswer } from '../audit/useChain.ts';
import { measureText } from '../inspect/sizes.ts';
import { zoneStates } from '../inspect/zoneStates.ts';
import { KeptFromYou } from '../KeptFromYou.tsx';

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

/** The size of a mark as it is measured here; taken in the worker. */
async function sizeOf(view: InspectionView, mark: Mark) {
  const scene = sceneOfPhoto(view.state, mark.photo, sectionOfWheel(view.wheel));
  if (scene === null || mark.shape.form === 'spot') return null;
  const slot = [...view.parts].find(([, { id }]) => id === mark.component)?.[0] ?? null;
  const near = view.state.looksAtMarks.get(mark.mark)?.value ?? null;
  const placed = { shape: mark.shape, zone: mark.zone, slot, near };
  await measureFar(scene, placed);
  const size = sizeKnown(scene, placed);
  return size.ok ? size.value : null;
}

const BARS_MM = [5, 10, 20, 50, 100, 200, 500];
/** Length of the line that is measured to find the scale, px. */
const TRIED_PX = 200;

/** A scale bar that holds round the first mark of a photo; null where nothing gives a scale there. */
async function scaleBarOf(view: InspectionView, mark: Mark | undefined): Promise<ScaleBar | null> {
  if (mark === undefined) return null;
  const [x, y] = mark.shape.form === 'trace' ? (mark.shape.branches[0]?.[0] ?? [0, 0]) : firstPoint(mark);
  const size = await sizeOf(view, {
    ...mark,
    mark: `${mark.mark} scale`,
    shape: {
      form: 'span',
      ends: [
        [x, y],
        [x + TRIED_PX, y],
      ],
    },
  });
  if (size === null || size.value <= 0) return null;
  const pxPerMm = TRIED_PX / size.value;
  const lengthMm = BARS_MM.filter((one) => one * pxPerMm < 1200).at(-1) ?? 5;
  return { lengthPx: lengthMm * pxPerMm, words: `${lengthMm} mm at mark 1` };
}

function firstPoint({ shape }: Mark): readonly [number, number] {
  switch (shape.form) {
    case 'trace':
      return shape.branches[0]?.[0] ?? [0, 0];
    case 'patch':
      return shape.outline[0] ?? [0, 0];
    case 'band':
      return shape.centreLine[0] ?? [0, 0];
    case 'span':
      return shape.ends[0];
    case 'angle':
      return shape.vertex;
    case 'spot':
      return shape.at;
  }
}

function Page({ view }: { view: InspectionView }) {
  const workplace = useWorkplace();
  const { site, register } = workplace;
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
  const verdict = (state.submission?.value.verdict ?? null) as unknown as VerdictData | null;

  const sized = async (): Promise<InspectionReport> => {
    const words = new Map<Mark, string>();
    for (const { value } of state.marks.values()) {
      const size = await sizeOf(view, value);
      if (size !== null) words.set(value, measureText(size.quantity, size.value, size.u, units));
    }
    return inspectionReport({
      state,
      wheel,
      register,
      names: namesOf(workplace, people),
      sizeWords: (mark) => words.get(mark) ?? '',
    });
  };
  const photo = async (one: ReportPhoto): Promise<PagePicture | null> => {
    setBusy(
      `Photo ${report.photos.findIndex(({ photo: sha }) => sha === one.photo) + 1} of ${report.photos.length}`,
    );
    const kept = await workplace.store.photo(one.photo);
    const blob = kept?.view ?? (kept?.widthPx == null ? null : kept.blob);
    const attached = state.photos.get(one.photo)?.value;
    const url = blob == null ? `/api/v1/photos/${one.photo}/2048?site=${site.id}` : URL.createObjectURL(blob);
    try {
      const marks = one.marks.map(({ mark }) => mark);
      const bar = await scaleBarOf(view, marks[0]);
      return await photoWithMarks(url, attached?.widthPx ?? kept?.widthPx ?? 1, marks, bar);
    } catch {
      // Said in the report itself, at its place.
      return null;
    } finally {
      if (blob != null) URL.revokeObjectURL(url);
    }
  };
  const chain = async (): Promise<ReportChain | null> => {
    try {
      const { entries, head } = await call<ChainAnswer>(
        'GET',
        `/api/v1/subjects/inspection/${state.id}/entries?site=${site.id}`,
      );
      return {
        entries: head.entries,
        hash: head.hash,
        whole: brokenLinks(entries.map(linkOf), head).length === 0,
      };
    } catch {
      // Without a connection the report says that the record was not checked.
      return null;
    }
  };
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
      const bytes = await reportPdf(await sized(), { drawings: pictures, photo }, await chain(), now());
      return [`report-${wheel.tag}-${(state.opened?.at ?? now()).slice(0, 10)}.pdf`, bytes];
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
      {report.demonstration ? (
        <Caution kind="note">The verdict rests on demonstration limits. It is not for real rims.</Caution>
      ) : null}
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

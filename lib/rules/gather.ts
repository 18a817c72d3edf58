import { fail, type Problem, problem, type Result } from '../base/index.ts';
import type { Mark } from '../marks/index.ts';
import {
  type PhotoMeasure,
  type PhotoScene,
  type Placed,
  photoRuler,
  sceneOfPhoto,
  sectionOfWheel,
} from '../photo/index.ts';
import { type Reading, typedStepMm } from '../readings/index.ts';
import {
  type ComponentState,
  componentBehind,
  componentsIn,
  gateState,
  type InspectionState,
  type Made,
  type RegisterState,
  type WheelState,
  type Written,
} from '../record/index.ts';
import { constructionOf, type Slot } from '../wheel/index.ts';
import type { DefectEvidence, Evidence, PartEvidence, ReadingEvidence, Sized } from './evidence.ts';
import { instrumentFacts } from './gauge.ts';
import { dutyHoursAt } from './hours.ts';

function readingEvidence({ value, at }: Written<Reading>, register: RegisterState): ReadingEvidence {
  const instrument = value.instrument === null ? undefined : register.instruments.get(value.instrument);
  const step = typedStepMm(value.typed, value.defaultUnit);
  const { fromPhoto } = value;
  const taken =
    fromPhoto === undefined
      ? { ...instrumentFacts(instrument, at, step), method: 'gauge' as const }
      : { uMm: Math.hypot(fromPhoto.uMm, step / Math.sqrt(12)), instrument: null, method: 'photo' as const };
  return {
    id: value.reading,
    characteristic: value.characteristic,
    zone: value.zone,
    clock: value.clock,
    state: value.state,
    valueMm: value.valueMm,
    ...taken,
    typed: value.typed,
  };
}

/** Gives the size of a shape on a photo. */
export type SizeSource = (scene: PhotoScene, placed: Placed) => Result<PhotoMeasure, Problem>;

/** Takes sizes here and now. */
const sizesHere: SizeSource = (scene, placed) => {
  const ruler = photoRuler(scene);
  return ruler.ok ? ruler.value.measure(placed) : ruler;
};

/** Measures marks of one inspection. */
interface Gauging {
  sizeOf(mark: Mark, quantity: 'length' | 'area'): Sized | null;
}

function gauging(
  inspection: InspectionState,
  wheel: WheelState,
  slots: ReadonlyMap<string, string>,
  sizes: SizeSource,
): Gauging {
  const section = sectionOfWheel(wheel);
  return {
    sizeOf(mark, quantity) {
      const scene = sceneOfPhoto(inspection, mark.photo, section);
      if (scene === null) return null;
      const near = inspection.looksAtMarks.get(mark.mark)?.value ?? null;
      const { shape, zone } = mark;
      const measured = sizes(scene, { shape, zone, slot: slots.get(mark.component) ?? null, near });
      return measured.ok && measured.value.quantity === quantity
        ? { value: measured.value.value, u: measured.value.u }
        : null;
    },
  };
}

function markedDefect(mark: Mark, { sizeOf }: Gauging): DefectEvidence | null {
  if (mark.defect === null) return null;
  return {
    id: mark.mark,
    defect: mark.defect,
    zone: mark.zone,
    clock: mark.clock,
    method: mark.method,
    note: mark.note,
    lengthMm: mark.defect === 'crack' ? sizeOf(mark, 'length') : null,
    areaMm2: mark.defect === 'crack' ? null : sizeOf(mark, 'area'),
  };
}

const byId = (a: { readonly id: string }, b: { readonly id: string }) =>
  a.id < b.id ? -1 : a.id > b.id ? 1 : 0;

function defectsOf(
  component: string,
  inspection: InspectionState,
  register: RegisterState,
  gauge: Gauging,
): DefectEvidence[] {
  const isOf = ({ value }: Written<{ readonly component: string }>) =>
    componentBehind(register, value.component) === component;
  const marked = [...inspection.marks.values()]
    .filter(isOf)
    .map(({ value }) => markedDefect(value, gauge))
    .filter((defect) => defect !== null);
  const noted = [...inspection.defects.values()].filter(isOf).map(({ value }) => ({
    id: value.defectId,
    defect: value.defect,
    zone: value.zone,
    clock: value.clock,
    method: value.method,
    note: value.note,
    lengthMm: null,
    areaMm2: null,
  }));
  return [...marked, ...noted].sort(byId);
}

/** First and last day that a year, month or day of making leaves open. */
export function madeBetween(madeOn: string | null): { from: string; to: string } | null {
  if (madeOn === null) return null;
  const [year = '', month, day] = madeOn.split('-');
  if (day !== undefined) return { from: madeOn, to: madeOn };
  if (month === undefined) return { from: `${year}-01-01`, to: `${year}-12-31` };
  const last = new Date(Date.UTC(Number(year), Number(month), 0)).getUTCDate();
  return { from: `${madeOn}-01`, to: `${madeOn}-${last}` };
}

/** First and last day on which a part may have been made, as far as anybody knows. */
function madeIn(made: Made): { from: string; to: string } | null {
  if (made.how === 'unknown') return null;
  if (made.how === 'known') return madeBetween(made.on);
  const [first, last] = [madeBetween(made.notBefore), madeBetween(made.notAfter)];
  return first === null || last === null ? null : { from: first.from, to: last.to };
}

function partEvidence(
  slot: Slot,
  component: ComponentState | undefined,
  inspection: InspectionState,
  register: RegisterState,
  claims: number,
  gauge: Gauging,
): PartEvidence {
  const id = component?.id ?? null;
  const ofPart = <T extends { readonly component: string }>(written: Iterable<Written<T>>): Written<T>[] =>
    [...written].filter(({ value }) => componentBehind(register, value.component) === id);
  return {
    slot: slot.slot,
    component: id,
    maker: component?.maker ?? '',
    series: component?.series ?? '',
    stamp: component?.stamp ?? '',
    made: component === undefined ? null : madeIn(component.made),
    claims,
    absent: inspection.absent.has(slot.slot),
    looks: ofPart(inspection.looks.values())
      .map(({ value }) => ({ zone: value.zone, result: value.result }))
      .sort((a, b) => (a.zone < b.zone ? -1 : 1)),
    photos: ofPart(inspection.photos.values())
      .map(({ value }) => ({ id: value.photo, zone: value.zone }))
      .sort(byId),
    readings: ofPart(inspection.readings.values())
      .map((written) => readingEvidence(written, register))
      .sort(byId),
    defects: id === null ? [] : defectsOf(id, inspection, register, gauge),
    tests: (component?.tests ?? [])
      .map(({ entry, method, zones, result, on, standard, dutyHours }) => ({
        id: entry,
        method,
        zones,
        result,
        on,
        standard,
        ...(dutyHours === null ? {} : { dutyHours }),
      }))
      .sort(byId),
  };
}

/** Components whose stay in this slot is not ended. */
function claimsOn(wheel: string, slot: string, register: RegisterState): number {
  return [...register.components.values()].filter(
    (component) =>
      component.mergedInto === null &&
      component.fitments.some((stay) => stay.until === null && stay.wheel === wheel && stay.slot === slot),
  ).length;
}

/** What was recorded of components that are in no slot now: changing a part must not make its findings vanish. */
function elsewhere(inspection: InspectionState, fitted: ReadonlySet<string>): Evidence['elsewhere'] {
  const sources: [string, Iterable<Written<{ readonly component: string }>>][] = [
    ['mark', inspection.marks.values()],
    ['defect', inspection.defects.values()],
    ['reading', inspection.readings.values()],
    ['look', inspection.looks.values()],
    ['photo', inspection.photos.values()],
  ];
  const found = sources.flatMap(([what, written]) =>
    [...written]
      .filter(({ value }) => !fitted.has(value.component))
      .map(({ value }) => ({ component: value.component, what })),
  );
  const keys = new Map(found.map((one) => [`${one.component}|${one.what}`, one]));
  return [...keys].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, one]) => one);
}

/** Slot of every record that stands for a part in the wheel. */
function slotsOf(fitted: ReadonlyMap<string, ComponentState>): ReadonlyMap<string, string> {
  return new Map(
    [...fitted].flatMap(([slot, { id, merged }]) => [id, ...merged].map((one) => [one, slot] as const)),
  );
}

/** The sizes that the evidence of an inspection asks for, so that they can be taken beforehand. */
export function sizesNeeded(
  inspection: InspectionState,
  wheel: WheelState,
  register: RegisterState,
): { readonly scene: PhotoScene; readonly placed: Placed }[] {
  const needed: { scene: PhotoScene; placed: Placed }[] = [];
  const fitted = componentsIn(wheel.id, register);
  const slots = slotsOf(fitted);
  const { sizeOf } = gauging(inspection, wheel, slots, (scene, placed) => {
    needed.push({ scene, placed });
    return fail(problem('measure-later', 'shape', placed.shape.form, 'Not measured yet', 'Wait a moment.'));
  });
  for (const { value } of inspection.marks.values()) {
    if (value.defect !== null) sizeOf(value, 'length');
  }
  return needed;
}

/**
 * Puts the evidence of one inspection together: what the engine reads, and nothing else. `decidedAt` is the moment of
 * the verdict (ISO 8601 UTC). The order of the entries behind the states does not matter. `sizes` may give sizes that were
 * taken elsewhere by the same code.
 */
export function gatherEvidence(
  inspection: InspectionState,
  wheel: WheelState,
  register: RegisterState,
  decidedAt: string,
  sizes: SizeSource = sizesHere,
): Evidence {
  const answers = new Map([...inspection.gate].map(([question, { value }]) => [question, value.answer]));
  const fitted = componentsIn(wheel.id, register);
  const slots = slotsOf(fitted);
  const gauge = gauging(inspection, wheel, slots, sizes);
  return {
    decidedAt,
    wheel: {
      tag: wheel.tag,
      designation: wheel.designation,
      construction: wheel.construction,
      maker: wheel.maker,
      series: wheel.series,
      dual: wheel.dual,
    },
    gateOpen: [...gateState(answers, wheel.dual).open],
    parts: constructionOf(wheel.construction).slots.map((slot) => ({
      ...partEvidence(
        slot,
        fitted.get(slot.slot),
        inspection,
        register,
        claimsOn(wheel.id, slot.slot, register),
        gauge,
      ),
      ...dutyHoursAt(fitted.get(slot.slot)?.hoursNoted ?? [], decidedAt),
    })),
    assembly: [...inspection.assembly.values()]
      .map(({ value }) => ({ point: value.point, answer: value.answer }))
      .sort((a, b) => (a.point < b.point ? -1 : 1)),
    elsewhere: elsewhere(
      inspection,
      new Set([...fitted.values()].flatMap(({ id, merged }) => [id, ...merged])),
    ),
    unreadable: inspection.unreadable.length,
  };
}

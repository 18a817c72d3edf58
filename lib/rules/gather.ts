import type { Mark } from '../marks/index.ts';
import { measureShape } from '../photo/index.ts';
import type { Reading } from '../readings/index.ts';
import {
  type ComponentState,
  componentsIn,
  gateState,
  type InspectionState,
  type RegisterState,
  type WheelState,
  type Written,
} from '../record/index.ts';
import { constructionOf, type Slot } from '../wheel/index.ts';
import type { DefectEvidence, Evidence, PartEvidence, ReadingEvidence, Sized } from './evidence.ts';
import { instrumentFacts } from './gauge.ts';

function readingEvidence({ value, at }: Written<Reading>, register: RegisterState): ReadingEvidence {
  const instrument = value.instrument === null ? undefined : register.instruments.get(value.instrument);
  return {
    id: value.reading,
    characteristic: value.characteristic,
    zone: value.zone,
    clock: value.clock,
    state: value.state,
    valueMm: value.valueMm,
    ...instrumentFacts(instrument, at),
    method: 'gauge',
    typed: value.typed,
  };
}

function sized(mark: Mark, inspection: InspectionState, quantity: 'length' | 'area'): Sized | null {
  const scale = inspection.scales.get(mark.photo);
  if (scale === undefined) return null;
  const measured = measureShape(mark.shape, scale.value);
  return measured.ok && measured.value.quantity === quantity
    ? { value: measured.value.value, u: measured.value.u }
    : null;
}

function markedDefect(mark: Mark, inspection: InspectionState): DefectEvidence | null {
  if (mark.defect === null) return null;
  return {
    id: mark.mark,
    defect: mark.defect,
    // The zone was chosen from the zones of the part when the mark was made.
    zone: mark.zone as DefectEvidence['zone'],
    clock: mark.clock,
    method: mark.method,
    note: mark.note,
    lengthMm: mark.defect === 'crack' ? sized(mark, inspection, 'length') : null,
    areaMm2: mark.defect === 'crack' ? null : sized(mark, inspection, 'area'),
  };
}

const byId = (a: { readonly id: string }, b: { readonly id: string }) =>
  a.id < b.id ? -1 : a.id > b.id ? 1 : 0;

function defectsOf(component: string, inspection: InspectionState): DefectEvidence[] {
  const marked = [...inspection.marks.values()]
    .filter(({ value }) => value.component === component)
    .map(({ value }) => markedDefect(value, inspection))
    .filter((defect) => defect !== null);
  const noted = [...inspection.defects.values()]
    .filter(({ value }) => value.component === component)
    .map(({ value }) => ({
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

function partEvidence(
  slot: Slot,
  component: ComponentState | undefined,
  inspection: InspectionState,
  register: RegisterState,
): PartEvidence {
  const id = component?.id ?? null;
  const ofPart = <T extends { readonly component: string }>(written: Iterable<Written<T>>): Written<T>[] =>
    [...written].filter(({ value }) => value.component === id);
  return {
    slot: slot.slot,
    component: id,
    maker: component?.maker ?? '',
    series: component?.series ?? '',
    stamp: component?.stamp ?? '',
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
    defects: id === null ? [] : defectsOf(id, inspection),
    tests: (component?.tests ?? [])
      .map(({ entry, method, zones, result, on, standard }) => ({
        id: entry,
        method,
        zones,
        result,
        on,
        standard,
      }))
      .sort(byId),
  };
}

/**
 * Puts the evidence of one inspection together: what the engine reads, and nothing else. `decidedAt` is the moment of
 * the verdict (ISO 8601 UTC). The order of the entries behind the states does not matter.
 */
export function gatherEvidence(
  inspection: InspectionState,
  wheel: WheelState,
  register: RegisterState,
  decidedAt: string,
): Evidence {
  const answers = new Map([...inspection.gate].map(([question, { value }]) => [question, value.answer]));
  const fitted = componentsIn(wheel.id, register);
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
    parts: constructionOf(wheel.construction).slots.map((slot) =>
      partEvidence(slot, fitted.get(slot.slot), inspection, register),
    ),
    assembly: [...inspection.assembly.values()]
      .map(({ value }) => ({ point: value.point, answer: value.answer }))
      .sort((a, b) => (a.point < b.point ? -1 : 1)),
    unreadable: inspection.unreadable.length,
  };
}

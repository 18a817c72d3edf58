import { lookKey } from '../../../lib/record/index.ts';
import { type Class, worstClass } from '../../../lib/rules/index.ts';
import type { ZoneId } from '../../../lib/wheel/index.ts';
import type { InspectionView } from '../../_client/inspection.ts';

/** How a zone stands in this inspection: the worst finding in it, or what is still to do there. */
export type ZoneStanding = Class | 'to do' | 'seen' | 'none';

export interface ZoneState {
  readonly slot: string;
  readonly zone: ZoneId;
  readonly standing: ZoneStanding;
  /** In words, for lists and for people who do not see the drawing. */
  readonly words: string;
}

/** What the standing of zones is read from. */
export type Standing = Pick<InspectionView, 'construction' | 'parts'> & {
  readonly state: Pick<InspectionView['state'], 'looks'>;
  readonly verdict: Pick<InspectionView['verdict'], 'parts'>;
};

/** The standing of every zone of every inspected part. */
export function zoneStates(view: Standing): ZoneState[] {
  return view.construction.slots
    .filter((slot) => slot.inspected)
    .flatMap((slot) => {
      const verdict = view.verdict.parts.find((part) => part.slot === slot.slot);
      const component = view.parts.get(slot.slot)?.id;
      return slot.zones.map(({ zone }) => {
        const worst = worstClass(
          (verdict?.findings ?? []).filter((finding) => finding.about !== 'age' && finding.zone === zone),
        );
        const open = (verdict?.missing ?? []).filter((missing) => missing.zone === zone);
        const look =
          component === undefined ? undefined : view.state.looks.get(lookKey(component, zone))?.value.result;
        const bad = worst === 'scrap' || worst === 'repair';
        const standing: ZoneStanding = bad
          ? worst
          : open.length > 0
            ? 'to do'
            : (worst ?? (look === undefined ? 'none' : 'seen'));
        const words = [
          ...(bad ? [`finding: ${worst}`] : []),
          ...(open.length > 0 ? [`${open.length} to do`] : []),
          ...(look === undefined ? [] : [look]),
        ].join(', ');
        return { slot: slot.slot, zone, standing, words: words === '' ? 'not begun' : words };
      });
    });
}

/** Whether a defect is marked or noted in a zone; then nobody can have seen nothing there. */
export function hasDefect(view: InspectionView, component: string, zone: string): boolean {
  const here = ({ value }: { value: { component: string; zone: string } }) =>
    value.component === component && value.zone === zone;
  return (
    [...view.state.marks.values()].some((mark) => mark.value.defect !== null && here(mark)) ||
    [...view.state.defects.values()].some(here)
  );
}

'use client';
import { useMemo } from 'react';
import { type ComponentState, type InspectionState, NO_SLOT, slotAt } from '../../lib/record/index.ts';
import type { Verdict } from '../../lib/rules/index.ts';
import type { Construction, ZoneId } from '../../lib/wheel/index.ts';
import { useWorkplace } from '../_client/Workplace.tsx';
import { PhotoThumb } from '../_ui/PhotoThumb.tsx';
import { UnrolledSheet } from './UnrolledSheet.tsx';
import { unroll } from './unrolled.ts';

/**
 * The rim laid flat: clock positions across, parts and zones down, and in it everything that an inspection found.
 * `parts` are the components by slot; without them the register says what was in the wheel when it was opened.
 * With a `verdict` the readings and defects that decide carry its sign.
 */
export function UnrolledRim({
  construction,
  state,
  parts,
  verdict,
  onPhoto,
  onZone,
}: {
  construction: Construction;
  state: InspectionState;
  parts?: ReadonlyMap<string, ComponentState>;
  verdict?: Verdict;
  onPhoto(photo: string): void;
  onZone?(slot: string, zone: ZoneId): void;
}) {
  const { register } = useWorkplace();
  const groups = useMemo(() => {
    const slots = new Map([...(parts ?? [])].map(([slot, { id }]) => [id, slot]));
    const slotName = (component: string) =>
      slots.get(component) ??
      slotAt(register, component, state.wheel, state.submission?.at ?? state.opened?.at ?? '') ??
      NO_SLOT;
    return unroll(construction, state, slotName, verdict);
  }, [construction, state, parts, register, verdict]);
  return (
    <UnrolledSheet
      groups={groups}
      onPhoto={onPhoto}
      {...(onZone === undefined ? {} : { onZone })}
      thumb={(photo, name) => <PhotoThumb sha256={photo} name={name} />}
    />
  );
}

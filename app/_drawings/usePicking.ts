'use client';
import { type MouseEvent, type PointerEvent, useRef, useState } from 'react';
import type { Point, Section, ZoneId } from '../../lib/wheel/index.ts';
import { MOUSE_DOUBT_PX, meant, type Near, TOUCH_DOUBT_PX, type ZoneKey, zonesAt } from './picking.ts';
import type { PlacedMark } from './placing.ts';
import type { Sheet } from './views.ts';

/** What a finger or a mouse on the sheet points at: zones lit up, zones offered to choose from, or one opened. */
export function usePicking({
  section,
  sheet,
  marks,
  known,
  onZone,
}: {
  section: Section;
  sheet: Sheet;
  marks: readonly PlacedMark[];
  known(zone: ZoneKey): boolean;
  onZone(slot: string, zone: ZoneId): void;
}) {
  const [hovered, setHovered] = useState<ZoneKey | null>(null);
  const [offered, setOffered] = useState<readonly Near[]>([]);
  const pointer = useRef('mouse');
  const near = (event: MouseEvent<SVGSVGElement>) => {
    const box = event.currentTarget.getBoundingClientRect();
    const place: Point = [event.clientX - box.left, event.clientY - box.top];
    return zonesAt(section, sheet, marks, place).filter(known);
  };
  return {
    offered,
    lit: offered.length > 0 ? offered : hovered === null ? [] : [hovered],
    hands: {
      onPointerDown: (event: PointerEvent<SVGSVGElement>) => {
        pointer.current = event.pointerType;
      },
      onPointerMove: (event: PointerEvent<SVGSVGElement>) => {
        if (event.pointerType === 'mouse') setHovered(near(event)[0] ?? null);
      },
      onPointerLeave: () => setHovered(null),
      onClick: (event: MouseEvent<SVGSVGElement>) => {
        const choice = meant(near(event), pointer.current === 'mouse' ? MOUSE_DOUBT_PX : TOUCH_DOUBT_PX);
        const [only] = choice;
        setOffered(choice.length > 1 ? choice : []);
        if (only !== undefined && choice.length === 1) onZone(only.slot, only.zone);
      },
    },
  };
}

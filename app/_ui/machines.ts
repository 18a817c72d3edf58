import type { WheelState } from '../../lib/record/index.ts';

/** The wheels of one machine, under the machine's name. */
export interface MachineWheels<W> {
  readonly machine: string;
  readonly wheels: readonly W[];
}

/** Wheels by machine, both in the order of their names; wheels on no machine come last. */
export function byMachine<W extends Pick<WheelState, 'machine' | 'position' | 'tag'>>(
  wheels: Iterable<W>,
): MachineWheels<W>[] {
  const groups = new Map<string, W[]>();
  for (const wheel of wheels) groups.set(wheel.machine, [...(groups.get(wheel.machine) ?? []), wheel]);
  return [...groups]
    .map(([machine, list]) => ({
      machine,
      wheels: list.sort((a, b) => (a.position + a.tag).localeCompare(b.position + b.tag)),
    }))
    .sort((a, b) =>
      (a.machine === '') === (b.machine === '')
        ? a.machine.localeCompare(b.machine)
        : Number(a.machine === '') - Number(b.machine === ''),
    );
}

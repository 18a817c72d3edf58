import { formatTag, must } from '../../lib/base/index.ts';
import { kinds } from '../../lib/record/index.ts';
import { type Construction, constructionOf, type Slot } from '../../lib/wheel/index.ts';
import {
  type DemoInstrument,
  type DemoWheel,
  demoInstruments,
  demoWheels,
  MAKER,
  OTHER_MAKER,
} from './fleet.ts';
import { type DemoLog, dayBefore } from './log.ts';
import { SITE_NAME } from './people.ts';

/**
 * In force, most entitled first. The rule set stands beside the maker's limits because no site works by a maker's
 * limits alone. Its paragraph (f)(9) takes rework off the table, so "repair" is left for what needs upkeep only.
 */
export const TABLES_IN_FORCE: readonly string[] = ['29 CFR 1910.177', 'demonstration-quillmoor'];

/** Days before today on which the quarry's books begin; far enough back for two yearly tests. */
export const BOOKS_BEGIN_DAYS = 560;

/** What the register entries made: ids by the keys of the fleet. */
export interface Register {
  wheel(key: string): string;
  construction(key: string): Construction;
  /** Component in a slot of a wheel; undefined for the slot nobody identified and for O-rings. */
  component(key: string, slot: string): string | undefined;
  instrument(key: DemoInstrument['key']): string;
}

/** Describes the site, its instruments, wheels, components and past tests. */
export function writeRegister(log: DemoLog): Register {
  const wheels = new Map<string, string>();
  const components = new Map<string, string>();
  const instruments = new Map<string, string>();
  log.goTo(BOOKS_BEGIN_DAYS, '08:00');
  log.write(
    kinds.siteDescribed,
    log.setting.site,
    { name: SITE_NAME, tables: [...TABLES_IN_FORCE], keepLocation: false, demonstration: true },
    'lead',
  );
  for (const wheel of demoWheels) {
    const id = log.id();
    wheels.set(wheel.key, id);
    log.write(
      kinds.wheelDescribed,
      id,
      {
        tag: formatTag(wheel.serial),
        designation: wheel.designation,
        construction: wheel.construction,
        maker: MAKER,
        series: wheel.series,
        machine: wheel.machine,
        position: wheel.position,
        dual: wheel.dual,
      },
      'lead',
    );
    for (const slot of constructionOf(wheel.construction).slots.filter((one) => one.inspected)) {
      if (wheel.odd[slot.slot] === 'unidentified') continue;
      components.set(`${wheel.key}|${slot.slot}`, writeComponent(log, wheel, slot, id, components.size));
    }
  }
  for (const days of [540, ...new Set(demoWheels.flatMap((wheel) => wheel.testedDays ?? []))].sort(
    (a, b) => b - a,
  )) {
    log.goTo(days, '13:30');
    for (const wheel of demoWheels) {
      const base = components.get(`${wheel.key}|rim base`);
      const due = wheel.testedDays === days || (days === 540 && wheel.testedDays !== null);
      if (base !== undefined && due) writeTest(log, base, wheel, days);
    }
  }
  log.goTo(149, '09:00');
  for (const instrument of demoInstruments) {
    const id = log.id();
    instruments.set(instrument.key, id);
    const { key: _, calibratedDays, dueDays, ...rest } = instrument;
    const { today } = log.setting;
    log.write(
      kinds.instrumentDescribed,
      id,
      { ...rest, calibratedOn: dayBefore(today, calibratedDays), calibrationDue: dayBefore(today, dueDays) },
      'lead',
    );
  }
  return {
    wheel: (key) => must(wheels.get(key), `wheel ${key}`),
    construction: (key) =>
      constructionOf(
        must(
          demoWheels.find((wheel) => wheel.key === key),
          `wheel ${key}`,
        ).construction,
      ),
    component: (key, slot) => components.get(`${key}|${slot}`),
    instrument: (key) => must(instruments.get(key), `instrument ${key}`),
  };
}

function writeComponent(log: DemoLog, wheel: DemoWheel, slot: Slot, wheelId: string, count: number): string {
  const id = log.id();
  const odd = wheel.odd[slot.slot];
  const other = odd === 'other maker';
  const letters = slot.kind.split(/[ -]/).map((word) => word.charAt(0).toUpperCase());
  log.write(
    kinds.componentDescribed,
    id,
    {
      componentKind: slot.kind,
      maker: other ? OTHER_MAKER : MAKER,
      series: other ? 'TD-57' : wheel.series,
      stamp: `${other ? 'TD-57' : wheel.series} ${letters.join('')} DEMO ${String(1001 + count * 7)}`,
      madeOn: odd === 'unknown age' ? null : wheel.madeOn,
    },
    'lead',
  );
  log.write(kinds.componentFitted, id, { wheel: wheelId, slot: slot.slot }, 'lead');
  return id;
}

function writeTest(log: DemoLog, base: string, wheel: DemoWheel, days: number): void {
  const zones = must(
    constructionOf(wheel.construction).slots.find((slot) => slot.kind === 'rim base'),
    'rim base slot',
  ).zones.map(({ zone }) => zone);
  const tested = ['gutter groove', 'gutter weld', 'back weld', 'butt weld', 'back flange radius'] as const;
  log.write(
    kinds.testRecorded,
    base,
    {
      method: 'magnetic particle',
      zones: tested.filter((zone) => zones.includes(zone)),
      result: 'no indication',
      standard: 'Demonstration procedure 4, after ASTM E709',
      testedBy: 'Demo test house, level 2',
      on: dayBefore(log.setting.today, days),
      surface: 'Brushed to bare metal',
      inspection: null,
    },
    'lead',
  );
}

import { formatTag, must, TAGS } from '../../lib/base/index.ts';
import { kinds } from '../../lib/record/index.ts';
import { mustSlot, type ZoneId } from '../../lib/wheel/index.ts';
import type { Agenda } from './agenda.ts';
import {
  constructionOfWheel,
  demoWheels,
  foundOut,
  isIdentified,
  MAKER,
  oddParts,
  seals,
  wheelOf,
} from './fleet.ts';
import { planHours } from './hours.ts';
import { CALIBRATION_HOLDS_DAYS, demoInstruments, type InstrumentKey } from './instruments.ts';
import { type DemoLog, dayBefore } from './log.ts';
import { BOOKS_BEGIN_DAYS, type Part, type Parts } from './parts.ts';
import { SITE_NAME } from './people.ts';
import { chanceFrom, seedOf } from './random.ts';
import { plannedInspections } from './rounds.ts';

/**
 * In force, most entitled first. The rule set stands beside the maker's limits because no site works by a maker's
 * limits alone. Its paragraph (f)(9) takes rework off the table, so "repair" is left for what needs upkeep only.
 */
const TABLES_IN_FORCE: readonly string[] = ['29 CFR 1910.177', 'demonstration-quillmoor'];

/** Rim bases that were not tested in a yearly round: forgotten, or the machine was away. */
const TESTS_MISSED: readonly string[] = [
  'HT-02 front left, year 2',
  'HT-02 front left, year 3',
  'WL-04 rear right, year 3',
  'WC-05 front right, year 3',
  'GR-06 rear right, year 1',
  'GR-06 rear right, year 2',
  'GR-06 rear right, year 3',
];
/** How long before a yearly round the test house comes. */
const TEST_BEFORE_DAYS = 6;

/** What is tested with magnetic particles, where the rim base has it. */
const TESTED: readonly ZoneId[] = [
  'gutter groove',
  'gutter weld',
  'back weld',
  'butt weld',
  'back flange radius',
];

/** The gauges by their keys. */
export type Gauges = (key: InstrumentKey) => string;

/** Plans what goes into the registers: site, wheels, parts as the books begin, gauges and the yearly tests. */
export function planRegister(agenda: Agenda, log: DemoLog, parts: Parts): Gauges {
  const gauges = new Map<string, string>();
  agenda.plan(BOOKS_BEGIN_DAYS, '05:00', () => {
    describeSite(log);
    describeWheels(log, parts);
  });
  planCalibrations(agenda, log, gauges);
  planTests(agenda, log, parts);
  planHours(agenda, log, parts);
  for (const [key, days] of Object.entries(foundOut)) {
    const [wheel = '', slot = ''] = key.split('|');
    agenda.plan(days, '18:00', () => describeInSlot(parts, wheel, slot, undefined));
  }
  for (const { wheel, fittedDays } of seals) {
    const { machine } = wheelOf(wheel);
    agenda.plan(fittedDays, '18:20', () => {
      const key = `${wheel}|O-ring`;
      parts.describe(key, 'O-ring', machine, { madeDays: fittedDays + 60 });
      parts.fit(key, wheel, 'O-ring');
    });
  }
  return (key) => must(gauges.get(key), `instrument ${key}`);
}

function describeSite(log: DemoLog): void {
  log.write(
    kinds.siteDescribed,
    log.setting.site,
    { name: SITE_NAME, tables: [...TABLES_IN_FORCE], keepLocation: false, demonstration: true },
    'lead',
  );
  log.write(kinds.inspectionPolicySet, log.setting.site, { everyMonths: 12, everyHours: null }, 'lead');
}

function describeWheels(log: DemoLog, parts: Parts): void {
  for (const wheel of demoWheels) {
    const { designation, construction, series, name } = wheel.machine;
    const id = log.id();
    parts.addWheel(wheel.key, id);
    log.write(
      kinds.wheelDescribed,
      id,
      {
        tag: formatTag(wheel.serial % TAGS),
        designation,
        construction,
        maker: MAKER,
        series,
        machine: name,
        position: wheel.position,
        dual: wheel.dual,
      },
      'lead',
    );
    for (const { slot, inspected } of constructionOfWheel(wheel.key).slots) {
      if (!inspected || !isIdentified(wheel.key, slot, BOOKS_BEGIN_DAYS)) continue;
      describeInSlot(parts, wheel.key, slot, oddParts[`${wheel.key}|${slot}`]);
    }
  }
}

function describeInSlot(
  parts: Parts,
  wheel: string,
  slot: string,
  odd: (typeof oddParts)[string] | undefined,
): void {
  const { machine } = wheelOf(wheel);
  const { kind } = mustSlot(constructionOfWheel(wheel), slot);
  const key = `${wheel}|${slot}`;
  const months = chanceFrom(seedOf(`${key} made`)).below(5);
  parts.describe(key, kind, machine, { madeDays: machine.madeDays - 30 * months, odd });
  parts.fit(key, wheel, slot);
}

function planCalibrations(agenda: Agenda, log: DemoLog, gauges: Map<string, string>): void {
  const { today } = log.setting;
  for (const { key, calibratedDays, ...rest } of demoInstruments) {
    for (const days of calibratedDays) {
      agenda.plan(days, '19:00', () => {
        const id = gauges.get(key) ?? log.id();
        gauges.set(key, id);
        const [calibratedOn, calibrationDue] = [
          dayBefore(today, days + 3),
          dayBefore(today, days + 3 - CALIBRATION_HOLDS_DAYS),
        ];
        log.write(kinds.instrumentDescribed, id, { ...rest, calibratedOn, calibrationDue }, 'lead');
      });
    }
  }
}

function planTests(agenda: Agenda, log: DemoLog, parts: Parts): void {
  for (const { wheel, round, days } of plannedInspections) {
    if (!round.startsWith('year') || TESTS_MISSED.includes(`${wheel}, ${round}`)) continue;
    agenda.plan(days + TEST_BEFORE_DAYS, '13:30', () => {
      const base = parts.inSlot(wheel, 'rim base');
      if (base !== undefined) writeTest(log, base, wheel, 'no indication');
    });
  }
}

/** Records a magnetic particle test of a rim base, made the same day, of the zones it has or of those named. */
export function writeTest(
  log: DemoLog,
  base: Part,
  wheel: string,
  result: 'no indication' | 'indication',
  only: readonly ZoneId[] = TESTED,
): void {
  const has = must(
    constructionOfWheel(wheel).slots.find((slot) => slot.kind === 'rim base'),
    'rim base slot',
  ).zones.map(({ zone }) => zone);
  log.write(
    kinds.testRecorded,
    base.id,
    {
      method: 'magnetic particle',
      zones: only.filter((zone) => has.includes(zone)),
      result,
      standard: 'Demonstration procedure 4, after ASTM E709',
      testedBy: 'Demo test house, level 2',
      on: log.now.slice(0, 10),
      surface: 'Brushed to bare metal',
      inspection: null,
      dutyHours: null,
    },
    'lead',
  );
}

import { expect, test } from 'vitest';
import { foldInspection, foldRegister, kinds } from '../../lib/record/index.ts';
import { wheelReport } from '../../lib/report/index.ts';
import { at, BASE, entry, FITTING, INSPECTION, REMOVAL, STAMPS, WHEEL } from '../support/entries.ts';

const DAY_MS = 86_400_000;
const names = {
  person: () => 'somebody',
  component: () => 'a part',
  wheel: () => 'a wheel',
  instrument: () => 'an instrument',
};

test('the book of a wheel tells stays, repairs and inspections, the unfinished one as such', () => {
  const register = foldRegister([
    entry(
      kinds.wheelDescribed,
      WHEEL,
      {
        tag: '4K7-P3F',
        machine: 'HT-01',
        position: 'front left',
        construction: 'five-piece',
        designation: '25.00-49/3.5',
        maker: '',
        series: '',
        dual: false,
      },
      { ms: 0 },
    ),
    entry(
      kinds.componentDescribed,
      BASE,
      { componentKind: 'rim base', maker: '', series: '', stamp: 'B', ...STAMPS },
      { ms: 1 },
    ),
    entry(kinds.componentFitted, BASE, { ...FITTING, wheel: WHEEL, slot: 'rim base' }, { ms: DAY_MS }),
    entry(
      kinds.repairRecorded,
      BASE,
      {
        zones: ['gutter groove'],
        what: 'machined',
        procedure: '',
        by: 'a shop',
        on: at(5 * DAY_MS).slice(0, 10),
      },
      { ms: 6 * DAY_MS },
    ),
    entry(kinds.componentRemoved, BASE, { ...REMOVAL, wheel: WHEEL, reason: 'cracked' }, { ms: 20 * DAY_MS }),
  ]);
  const wheel = register.wheels.get(WHEEL);
  if (wheel === undefined) throw new Error('no wheel');
  const state = foldInspection([
    entry(kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'Yearly' }, { ms: 10 * DAY_MS }),
  ]);
  const report = wheelReport(wheel, register, [state], names);
  expect(report.stays).toHaveLength(1);
  expect(report.stays[0]).toMatchObject({ slot: 'rim base' });
  expect(report.stays[0]?.until).not.toBe('there now');
  expect(report.stays[0]?.hours).toContain('not counted: ');
  expect(report.works).toEqual([
    { on: at(5 * DAY_MS).slice(0, 10), what: 'repaired', words: 'rim base: machined, by a shop' },
  ]);
  expect(report.history).toMatchObject([{ results: 'not submitted', review: 'not reviewed' }]);
  expect(report.identity.find(({ label }) => label === 'Maker and series')?.value).toBe('not said');
});

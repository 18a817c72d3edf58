import { describe, expect, it } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { readTyped } from '../../lib/readings/index.ts';
import { checkEntry, type Entry, foldStudy, kinds, nextTurn } from '../../lib/record/index.ts';
import { studyResult } from '../../lib/review/agreement/index.ts';
import { Agenda } from '../../tools/demo/agenda.ts';
import { DemoLog } from '../../tools/demo/log.ts';
import { demoStudies, planStudies } from '../../tools/demo/studies.ts';
import { thing } from '../support/entries.ts';

const people = {
  administrator: 'person-0',
  lead: 'person-1',
  'inspector 1': 'person-2',
  'inspector 2': 'person-3',
  'inspector 3': 'person-4',
  'reviewer 1': 'person-5',
  'reviewer 2': 'person-6',
};

function told(): readonly Entry[] {
  const log = new DemoLog({ site: thing(1), people, today: '2026-11-20' }, 3);
  const agenda = new Agenda(log);
  planStudies(agenda, log, () => thing(2));
  agenda.tell();
  return log.entries;
}

const entries = told();
const studies = [...new Set(entries.map((one) => one.subject.id))].map((id) =>
  foldStudy(entries.filter((one) => one.subject.id === id)),
);
const study = (i: number) => must(studies[i], 'a study');

describe('the gauge studies of the demonstration', () => {
  it('are readable entries whose values are what was typed', () => {
    for (const entry of entries) expect(checkEntry(entry)).toEqual({ ok: true, value: entry });
    for (const { plan, readings, surplus } of studies) {
      expect(surplus).toEqual([]);
      for (const { value } of readings.values()) {
        const characteristic = must(plan, 'a plan').value.characteristic;
        expect(readTyped(characteristic, value.typed, value.defaultUnit, value.overlap)).toEqual({
          ok: true,
          value: { valueMm: value.valueMm, question: null },
        });
      }
    }
  });

  it('are one that is closed and complete, with figures of its own', () => {
    expect(study(0).closed).not.toBeNull();
    const result = studyResult(study(0));
    if (!result.ok || !result.value.variance.ok) throw new Error('no figures');
    const { percent, distinct } = result.value.variance.value;
    expect(percent.gauge).toBeGreaterThan(2);
    expect(percent.gauge).toBeLessThan(30);
    expect(distinct).toBeGreaterThan(5);
  });

  it('and one that waits for two of its three people', () => {
    expect(study(1).closed).toBeNull();
    expect(studyResult(study(1)).ok).toBe(false);
    const waits = (part: keyof typeof people) => nextTurn(study(1), people[part]) !== null;
    expect([waits('inspector 1'), waits('inspector 2'), waits('inspector 3')]).toEqual([true, false, true]);
  });

  it('are opened by the lead, and the same bytes each time', () => {
    const opened = entries.filter((one) => one.kind === kinds.studyOpened.kind);
    expect(opened).toHaveLength(demoStudies.length);
    expect(new Set(opened.map((one) => one.author))).toEqual(new Set(['person-1']));
    expect(told()).toEqual(entries);
  });
});

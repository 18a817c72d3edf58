import { kinds } from '../../lib/record/index.ts';
import type { Table } from '../../lib/tolerances/index.ts';
import type { DemoLog } from './log.ts';
import { SITE_NAME } from './people.ts';

const source = {
  title: 'Draft limits of the demonstration quarry, invented',
  section: '',
  page: '',
  edition: 'draft A',
  kind: 'demonstration' as const,
};

/** The quarry's own limits, stricter than the invented maker's, from the first day of the next year on. */
const ownLimits = (today: string): Table => ({
  table: 'quarry-own-limits',
  title: 'Own limits of the demonstration quarry',
  edition: 'demonstration A',
  issuedBy: `${SITE_NAME} (invented)`,
  scope: { makers: [], series: [], constructions: [] },
  effectiveFrom: `${Number(today.slice(0, 4)) + 1}-01-01`,
  decision: { rule: 'guarded', risk: 0.05 },
  rows: [
    {
      row: 'gutter depth, large rims',
      type: 'limit',
      components: ['rim base'],
      diameterCodes: { min: 49, max: 63 },
      characteristic: 'gutter depth',
      keep: { min: 11 },
      repair: { min: 9.5 },
      repairNeeds: 'rework',
      methods: ['gauge'],
      source,
      note: 'A millimetre more is left on rims that are changed less often.',
    },
    {
      row: 'flange wear',
      type: 'limit',
      components: ['side flange'],
      characteristic: 'flange wear',
      keep: { max: 1.5 },
      repair: { max: 3 },
      repairNeeds: 'rework',
      methods: ['gauge'],
      source,
      note: '',
    },
    {
      row: 'age of lock rings',
      type: 'age',
      components: ['lock ring'],
      upToYears: 8,
      beyond: 'scrap',
      repairNeeds: 'rework',
      unknown: 'hold',
      says: 'Lock rings serve eight years at most.',
      source,
      note: '',
    },
  ],
});

/** Drafts the quarry's own limits, after everything else that is told; they wait for a second person. */
export function draftOwnLimits(log: DemoLog): void {
  log.write(
    kinds.tableDrafted,
    log.id(),
    {
      content: { ...ownLimits(log.setting.today) },
      base: null,
      note: 'Proposed for next year; look at the consequences before approving.',
    },
    'lead',
  );
}

import { describe, expect, test } from 'vitest';
import { type Evidence, evaluate } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { part, soundEvidence, tableOf } from '../support/evidence.ts';

const demonstration = tablesNamed(['demonstration-quillmoor']).tables;
const FEDERAL = '29 CFR 1910.177(e)(1), federal wording from memory';

function assembly(change: (evidence: Evidence) => void = () => {}) {
  const evidence = soundEvidence();
  change(evidence);
  return evaluate(evidence, demonstration).assembly;
}
const made = (slot: string, over: object) => (e: Evidence) => Object.assign(part(e, slot), over);

describe('whether the set may go together', () => {
  test('only when every part is keep, every pair matches and every point is answered yes', () => {
    expect(assembly()).toMatchObject({ fit: true, pointsOpen: [], reasons: [] });
  });

  test('every reason against is said', () => {
    const { fit, pointsOpen, reasons } = assembly((e) => {
      made('lock ring', { series: 'QY' })(e);
      part(e, 'bead seat band').looks.pop();
      e.parts = e.parts.filter((one) => one.slot !== 'gutter side flange');
      e.assembly = [
        { point: 'grooves clean', answer: 'yes' },
        { point: 'new O-ring', answer: 'no' },
      ];
    });
    expect(fit).toBe(false);
    expect(pointsOpen).toEqual(['new O-ring', 'stamps compared', 'lock ring seated']);
    expect(reasons).toEqual([
      'The gutter side flange is hold, not keep.',
      'The bead seat band is hold, not keep.',
      `gutter side flange and bead seat band: maker or series of gutter side flange or bead seat band is not known, so they are not shown to match (${FEDERAL}).`,
      `lock ring and rim base: lock ring is Quillmoor Rimworks QY, rim base is Quillmoor Rimworks QX: not interchanged unless the maker's chart says so (${FEDERAL}).`,
      'Assembly point "new O-ring" is not answered yes.',
      'Assembly point "stamps compared" is not answered yes.',
      'Assembly point "lock ring seated" is not answered yes.',
    ]);
  });

  test('a demonstration row that made a pair match makes the whole answer one of demonstration', () => {
    // Without any table nothing else of the answer rests on a row.
    const pairs = [
      [
        { maker: 'Quillmoor Rimworks', series: '' },
        { maker: 'Quillmoor Rimworks', series: '' },
      ],
    ];
    const match = {
      row: 'r',
      type: 'match',
      between: ['lock ring', 'rim base'],
      pairs,
      together: 'may',
      says: 'x',
    };
    const under = (kind: string) => tableOf([{ ...match, source: { title: 'T', kind } }]);
    expect(evaluate(soundEvidence(), [under('demonstration')]).demonstration).toBe(true);
    expect(evaluate(soundEvidence(), [under('published')]).demonstration).toBe(false);
    expect(evaluate(soundEvidence(), []).demonstration).toBe(false);
  });
});

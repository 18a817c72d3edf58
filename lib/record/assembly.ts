import { z } from 'zod';

/** Points that are checked when the set goes together, each recorded by the person who did it. */
export const AssemblyPointId = z.enum(['new O-ring', 'grooves clean', 'stamps compared', 'lock ring seated']);
export type AssemblyPointId = z.infer<typeof AssemblyPointId>;

export interface AssemblyPoint {
  readonly id: AssemblyPointId;
  readonly ask: string;
  readonly caution: string;
  readonly source: string;
}

export const assemblyPoints: readonly AssemblyPoint[] = [
  {
    id: 'new O-ring',
    ask: 'Is a new O-ring of the right size fitted?',
    caution: 'Discard the old ring; never use it again.',
    source: 'Common practice of machine makers’ manuals',
  },
  {
    id: 'grooves clean',
    ask: 'Are gutter, O-ring groove and seats free of dirt, rust scale and rubber?',
    caution: 'Dirt under the lock ring keeps it from seating.',
    source: '29 CFR 1910.177(e)(3), seen in state mirror',
  },
  {
    id: 'stamps compared',
    ask: 'Have the stamps of all parts been compared with the maker’s chart?',
    caution: 'Parts that arrive together are not thereby matched.',
    source: '29 CFR 1910.177(e)(1), (e)(4), federal wording from memory',
  },
  {
    id: 'lock ring seated',
    ask: 'Is the lock ring the right way round and seated all round, before any air?',
    caution:
      'Never hammer, strike or force a ring while there is air behind it. Deflate, take the core out, then correct it.',
    source: '29 CFR 1910.177(f)(7)–(8)',
  },
];

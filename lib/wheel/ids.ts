import { z } from 'zod';

/** Kinds of component, in the trade's words. A wheel may hold several of a kind, told apart by their slot. */
export const ComponentKind = z.enum(['rim base', 'lock ring', 'side flange', 'bead seat band', 'O-ring']);
export type ComponentKind = z.infer<typeof ComponentKind>;

/** Places of a component where it can fail; the names a mechanic uses. */
export const ZoneId = z.enum([
  'gutter groove',
  'gutter lip',
  'O-ring groove',
  'gutter weld',
  'butt weld',
  'centre band',
  'back weld',
  'back bead seat',
  'back flange',
  'back flange radius',
  'mounting taper',
  'valve slot',
  'stud holes',
  'ring ends',
  'ring body',
  'ring seat face',
  'flange lip',
  'flange face',
  'flange contact face',
  'bead seat',
  'band contact face',
  'seal body',
]);
export type ZoneId = z.infer<typeof ZoneId>;

/** What is measured with a gauge or tape; defined with ranges and ways of measuring in lib/readings. */
export const CharacteristicId = z.enum([
  'gutter depth',
  'flange wear',
  'lock-ring gap',
  'bead seat wear',
  'pitting depth',
  'corrosion area',
  'crack length',
]);
export type CharacteristicId = z.infer<typeof CharacteristicId>;

export const ConstructionId = z.enum([
  'three-piece',
  'three-piece with disc',
  'five-piece',
  'double-gutter seven-piece',
]);
export type ConstructionId = z.infer<typeof ConstructionId>;

/** State of the lock ring while its gap is taken; three different quantities, never mixed. */
export const RingState = z.enum(['free', 'fitted', 'inflated']);
export type RingState = z.infer<typeof RingState>;

export const Side = z.enum(['gutter side', 'back side']);
export type Side = z.infer<typeof Side>;

/** Clock position 1 … 12 in steps of a half, seen from the gutter side with the valve at 12. */
export const ClockPosition = z.number().min(0.5).max(12).multipleOf(0.5);

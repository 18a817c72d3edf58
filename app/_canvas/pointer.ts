/** A kind of pointer, by how exactly it points. */
export type Pointer = 'mouse' | 'pen' | 'touch';

/** How far each kind of pointer reaches, CSS px: 48 px across for a gloved finger. */
export const REACH_CSS: Readonly<Record<Pointer, number>> = { mouse: 10, pen: 14, touch: 24 };

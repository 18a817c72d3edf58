'use client';
import { useCallback } from 'react';
import type { z } from 'zod';
import { type Kind, kinds } from '../../lib/record/index.ts';
import type { InspectionView } from './inspection.ts';
import { useWorkplace } from './Workplace.tsx';

/** Writes a value down for whoever is measuring: the inspector as it is, the reviewer as part of a second measurement. */
export type Writing = <B extends z.ZodType>(
  kind: Kind<B>,
  body: z.input<B>,
  seenIn?: string | null,
) => Promise<void>;

/** The way in which this hand writes to this inspection. */
export function useWriting({ hand, state }: Pick<InspectionView, 'hand' | 'state'>): Writing {
  const { write } = useWorkplace();
  return useCallback(
    async (kind, body, seenIn = null) => {
      if (hand === 'first') {
        await write(kind, state.id, body);
        return;
      }
      const own = kind.body.parse(body) as Record<string, unknown>;
      await write(kinds.secondMeasured, state.id, { of: kind.kind, v: kind.v, body: own, seenIn });
    },
    [write, hand, state.id],
  );
}

import type { z } from 'zod';
import { type Entry, type Kind, makeEntry } from '../../lib/record/index.ts';

/** A fixed id from a number. */
export const id = (n: number): string => `00000000-0000-4000-8000-${n.toString(16).padStart(12, '0')}`;

/** Writes entries of site `id(1)`, each at the moment that `at` gives then. */
export function entriesAt(at: (serial: number) => number) {
  let serial = 0;
  return <B extends z.ZodType>(kind: Kind<B>, subject: string, body: z.input<B>): Entry => {
    serial += 1;
    return makeEntry(kind, subject, body, {
      id: `01900000-0000-7000-8000-${serial.toString(16).padStart(12, '0')}`,
      site: id(1),
      at: new Date(at(serial)).toISOString(),
      author: 'person',
      device: 'bench',
    });
  };
}

export const MAKER = { maker: 'Quillmoor Rimworks', series: 'QX' };

export const SITE_BODY = { name: 'Bench', keepLocation: false, demonstration: true };

export const WHEEL_BODY = {
  tag: '4K7-P3F',
  designation: '25-22.00/3.0',
  construction: 'five-piece' as const,
  machine: '',
  position: '',
  dual: false,
  ...MAKER,
};

export const GAUGE_BODY = {
  name: 'Gauge',
  kind: 'depth gauge' as const,
  serial: '',
  resolutionMm: 0.05,
  certificateUMm: 0.03,
  calibratedOn: null,
  calibrationDue: '2099-01-01',
};

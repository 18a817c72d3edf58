import { z } from 'zod';

export const InstrumentKind = z.enum([
  'depth gauge',
  'calliper',
  'feeler gauge',
  'steel tape',
  'profile gauge',
  'ultrasonic thickness gauge',
]);
export type InstrumentKind = z.infer<typeof InstrumentKind>;

/** A gauge or tape with what its uncertainty and its fitness rest on. Lengths in mm. */
export const Instrument = z.strictObject({
  name: z.string().trim().min(1).max(60),
  kind: InstrumentKind,
  serial: z.string().trim().max(60),
  /** Smallest step it shows, mm. */
  resolutionMm: z.number().positive().max(10),
  /** Standard uncertainty from its certificate, mm; null when there is none. */
  certificateUMm: z.number().nonnegative().max(10).nullable(),
  calibratedOn: z.iso.date().nullable(),
  /** Last day on which its readings can support keep; null when no date is known, which counts as expired. */
  calibrationDue: z.iso.date().nullable(),
});
export type Instrument = z.infer<typeof Instrument>;

/**
 * Standard uncertainty of one reading with an instrument, mm: resolution/√12 (a rectangular law over one step,
 * GUM 4.3.7 and F.2.2.1) combined in quadrature with the certificate's. A reading typed to a coarser step than the
 * instrument shows counts with that step.
 */
export function instrumentUMm(
  instrument: Pick<Instrument, 'resolutionMm' | 'certificateUMm'>,
  typedStepMm = 0,
): number {
  const stepMm = Math.max(instrument.resolutionMm, typedStepMm);
  return Math.hypot(stepMm / Math.sqrt(12), instrument.certificateUMm ?? 0);
}

/**
 * Whether the calibration does not cover the moment `at`, ISO 8601: it is over, was never dated, or was done later. The
 * day it was done and the due day themselves still count; where it is not known when it was done, any day up to the due day.
 */
export function isExpired(
  { calibratedOn, calibrationDue }: Pick<Instrument, 'calibratedOn' | 'calibrationDue'>,
  at: string,
): boolean {
  const day = at.slice(0, 10);
  return calibrationDue === null || day > calibrationDue || (calibratedOn !== null && day < calibratedOn);
}

/** An instrument as described last, with its earlier descriptions, the newest first. */
export interface WithEarlier extends Instrument {
  readonly earlier?: readonly Instrument[];
}

/**
 * The description that covers the moment `at` (ISO 8601), the newest of them: a calibration done afterwards does not make
 * an earlier reading count. Undefined when none does.
 */
export function describedAt(instrument: WithEarlier, at: string): Instrument | undefined {
  return [instrument, ...(instrument.earlier ?? [])].find((one) => !isExpired(one, at));
}

/** The day on which the calibration in force before the moment `at` ran out, the latest; null when none had. */
export function ranOutBefore(instrument: WithEarlier, at: string): string | null {
  const over = [instrument, ...(instrument.earlier ?? [])]
    .map((one) => one.calibrationDue)
    .filter((due) => due !== null && due < at.slice(0, 10));
  return over.reduce<string | null>(
    (latest, due) => (latest === null || (due ?? '') > latest ? due : latest),
    null,
  );
}

import { z } from 'zod';
import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import { type LengthUnit, parseTypedLength, showLength, toMm } from '../units/index.ts';
import { CharacteristicId, ClockPosition, RingState, ZoneId } from '../wheel/index.ts';
import { characteristicOf } from './lookup.ts';

/** A gauge or tape reading as entered. `typed` is kept for ever; `valueMm` was read from it. */
export const Reading = z.strictObject({
  reading: z.uuid(),
  component: z.uuid(),
  characteristic: CharacteristicId,
  zone: ZoneId,
  clock: ClockPosition.nullable(),
  state: RingState.nullable(),
  typed: z.string().min(1).max(60),
  defaultUnit: z.enum(['mm', 'cm', 'm', 'in']),
  valueMm: z.number(),
  instrument: z.uuid().nullable(),
  /** Counts repeats at one place, from 1. */
  repeat: z.int().min(1).max(99),
  /** True when the person was asked about an implausible value and kept it. */
  confirmed: z.boolean(),
  /** Overlapping ring ends: the typed number is the overlap, the value its negative. */
  overlap: z.boolean(),
  /** Taken from a mark on a photo instead of with an instrument: the mark, and the standard uncertainty it had, mm. */
  fromPhoto: z
    .strictObject({
      photo: z.string().regex(/^[0-9a-f]{64}$/),
      mark: z.uuid(),
      uMm: z.number().positive().max(1_000),
    })
    .optional(),
});
export type Reading = z.infer<typeof Reading>;

/**
 * The step a number was typed to, mm: one unit in its last decimal, or one part of its fraction. "10.6" was read to a
 * tenth, "7/16 in" to a sixteenth of an inch, whatever the gauge could have shown.
 */
export function typedStepMm(typed: string, defaultUnit: LengthUnit): number {
  const read = parseTypedLength(typed, defaultUnit);
  if (!read.ok) return 0;
  const fraction = /\/\s*(\d+)/.exec(typed);
  const decimals = /[.,](\d+)/.exec(typed)?.[1]?.length ?? 0;
  return toMm(fraction === null ? 10 ** -decimals : 1 / Number(fraction[1]), read.value.unit);
}

/** The number a typed text stands for, with its question when it is implausible. */
export interface ReadText {
  readonly valueMm: number;
  /** Set when the value is outside the plausible range: a sentence that asks for a second look. */
  readonly question: string | null;
}

/**
 * Reads the typed text of a reading. `overlap` turns a typed overlap of ring ends into a negative gap.
 * Fails with a problem on `typed` when it is no length; an implausible value succeeds with a question.
 */
export function readTyped(
  characteristic: CharacteristicId,
  typed: string,
  defaultUnit: LengthUnit,
  overlap: boolean,
): Result<ReadText, Problem> {
  const definition = characteristicOf(characteristic);
  const length = parseTypedLength(typed, defaultUnit, 'typed');
  if (!length.ok) return length;
  const signed = overlap ? -Math.abs(length.value.valueMm) : length.value.valueMm;
  const valueMm = signed === 0 ? 0 : signed;
  if (valueMm < 0 && definition.plausible.min >= 0) {
    return fail(
      problem(
        'reading-negative',
        'typed',
        typed,
        `${definition.label} cannot be below zero`,
        'Leave the minus out, or check which way the gauge was set.',
      ),
    );
  }
  const { min, max } = definition.plausible;
  const question =
    valueMm < min || valueMm > max
      ? `${definition.label} is usually between ${showLength(min)} and ${showLength(max)}. Is ${showLength(valueMm)} right?`
      : null;
  return ok({ valueMm, question });
}

/** Earlier versions turned inches into millimetres with another last digit. */
const SAME_MM = 1e-9;

/** Checks that a stored reading's value is what its typed text says. Fails with a problem on `valueMm`. */
export function checkReading(reading: Reading): Result<true, Problem> {
  const read = readTyped(reading.characteristic, reading.typed, reading.defaultUnit, reading.overlap);
  if (!read.ok) return read;
  if (Math.abs(read.value.valueMm - reading.valueMm) > SAME_MM) {
    return fail(
      problem(
        'reading-value',
        'valueMm',
        reading.valueMm,
        `The typed text "${reading.typed}" says ${read.value.valueMm} mm`,
        'Enter the reading again.',
      ),
    );
  }
  if (read.value.question !== null && !reading.confirmed) {
    return fail(
      problem(
        'reading-unconfirmed',
        'confirmed',
        false,
        read.value.question,
        'Confirm the value or enter it again.',
      ),
    );
  }
  const definition = characteristicOf(reading.characteristic);
  const states = definition.states;
  if (states.length > 0 ? reading.state === null : reading.state !== null) {
    return fail(
      problem(
        'reading-state',
        'state',
        reading.state,
        states.length > 0
          ? `${definition.label} needs the state it was taken in`
          : `${definition.label} has no state`,
        states.length > 0 ? `Choose one of: ${states.join(', ')}.` : 'Leave the state out.',
      ),
    );
  }
  return ok(true);
}

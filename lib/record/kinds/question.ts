import { z } from 'zod';
import { PointPx } from '../../marks/index.ts';
import { CharacteristicId, ClockPosition, RingState, ZoneId } from '../../wheel/index.ts';
import { defineKind, type Names } from '../kind.ts';
import { PhotoHash } from './photo.ts';

/** A place at which something is read. */
export const ReadingPlace = z.strictObject({
  component: z.uuid(),
  characteristic: CharacteristicId,
  zone: ZoneId,
  clock: ClockPosition.nullable(),
  state: RingState.nullable(),
});
export type ReadingPlace = z.infer<typeof ReadingPlace>;

/** What a question points at. */
export const QuestionPin = z.discriminatedUnion('on', [
  z.strictObject({ on: z.literal('photo'), photo: PhotoHash, at: PointPx }),
  z.strictObject({ on: z.literal('reading'), place: ReadingPlace }),
  z.strictObject({ on: z.literal('part'), component: z.uuid() }),
  z.strictObject({ on: z.literal('inspection') }),
]);
export type QuestionPin = z.infer<typeof QuestionPin>;

/** The place of a reading in words: characteristic, state and clock position. */
export function placeWords({
  characteristic,
  state,
  clock,
}: Pick<ReadingPlace, 'characteristic' | 'state' | 'clock'>): string {
  return `${characteristic}${state === null ? '' : ` (${state})`}${clock === null ? '' : ` at ${clock} o'clock`}`;
}

function pinWords(pin: QuestionPin, names: Names): string {
  switch (pin.on) {
    case 'photo':
      return `at ${Math.round(pin.at[0])}, ${Math.round(pin.at[1])} on photo ${pin.photo.slice(0, 8)}`;
    case 'reading':
      return `on ${names.component(pin.place.component)}, ${placeWords(pin.place)}`;
    case 'part':
      return `on ${names.component(pin.component)}`;
    case 'inspection':
      return 'on the inspection';
  }
}

/** A reviewer asks the person at the wheel: for words, or for another reading at a place. */
export const questionAsked = defineKind({
  kind: 'question asked',
  v: 1,
  subject: 'inspection',
  role: 'review',
  body: z
    .strictObject({
      question: z.uuid(),
      pin: QuestionPin,
      wants: z.enum(['an answer', 'another reading']),
      text: z.string().trim().min(1).max(1000),
    })
    .refine(({ wants, pin }) => wants !== 'another reading' || pin.on === 'reading', {
      path: ['pin'],
      error: 'Another reading is asked for at the place of a reading',
    }),
  line: ({ pin, wants, text }, names) => `Asked for ${wants} ${pinWords(pin, names)}: ${text}`,
  upgrades: [],
});

/** The inspector's words. Where another reading was asked for, that reading closes the question; words say why there is none. */
export const questionAnswered = defineKind({
  kind: 'question answered',
  v: 1,
  subject: 'inspection',
  role: 'answer',
  body: z.strictObject({ question: z.uuid(), text: z.string().trim().min(1).max(2000) }),
  line: ({ text }) => `Answered: ${text}`,
  upgrades: [],
});

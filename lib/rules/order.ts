import { canonicalJson } from '../base/index.ts';
import { gateQuestions } from '../record/index.ts';
import { ZoneId } from '../wheel/index.ts';
import type { Evidence, PartEvidence } from './evidence.ts';

/** Shorter texts first, then by code unit: "reading 2" stands before "reading 10", and ids of one length sort plainly. */
function compareNaturally(a: string, b: string): number {
  return a.length - b.length || (a < b ? -1 : a > b ? 1 : 0);
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** A copy in the order of the ids; entries with the same id by their content. */
export function naturally<T extends { readonly id: string }>(list: readonly T[]): T[] {
  return [...list].sort(
    (a, b) => compareNaturally(a.id, b.id) || compare(canonicalJson(a), canonicalJson(b)),
  );
}

function byZone(a: ZoneId, b: ZoneId): number {
  return ZoneId.options.indexOf(a) - ZoneId.options.indexOf(b);
}

function partInOrder(part: PartEvidence): PartEvidence {
  return {
    ...part,
    // Of two looks at a zone "could not be seen" stands first, and the first one counts.
    looks: [...part.looks].sort((a, b) => compare(a.zone, b.zone) || compare(a.result, b.result)),
    photos: naturally(part.photos),
    readings: naturally(part.readings),
    defects: naturally(part.defects),
    tests: naturally(part.tests.map((test) => ({ ...test, zones: [...test.zones].sort(byZone) }))),
  };
}

/**
 * The same evidence with every list in an order of its own, so that the order in which things were written down cannot
 * change an answer. Where two answers to one assembly point stand, "no" comes last and counts.
 */
export function inOrder(evidence: Evidence): Evidence {
  const asked = gateQuestions.map((question) => question.id);
  return {
    ...evidence,
    gateOpen: [...evidence.gateOpen].sort((a, b) => asked.indexOf(a) - asked.indexOf(b)),
    parts: evidence.parts
      .map(partInOrder)
      .sort((a, b) => compare(a.slot, b.slot) || compare(canonicalJson(a), canonicalJson(b))),
    elsewhere: [...evidence.elsewhere].sort((a, b) =>
      compare(`${a.component}|${a.what}`, `${b.component}|${b.what}`),
    ),
    assembly: [...evidence.assembly].sort((a, b) => compare(a.point, b.point) || compare(b.answer, a.answer)),
  };
}

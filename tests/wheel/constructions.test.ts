import { describe, expect, test } from 'vitest';
import { characteristicOf, gaugeCharacteristicsAt } from '../../lib/readings/index.ts';
import { constructionOf, constructions, zoneInfo } from '../../lib/wheel/index.ts';

describe('rim constructions', () => {
  // Source: three-piece = base, side flange, lock ring; five-piece = base, two flanges, bead seat band, lock ring (trade vocabulary).
  test('each has as many steel pieces as its name says', () => {
    const pieces = constructions.map((one) => [
      one.id,
      one.slots.filter((slot) => slot.kind !== 'O-ring').length,
    ]);
    expect(pieces).toEqual([
      ['three-piece', 3],
      ['three-piece with disc', 3],
      ['five-piece', 5],
      ['double-gutter seven-piece', 7],
    ]);
  });

  test('with a disc is the three-piece rim and one more zone, which every look-up of the rim base knows', () => {
    const [plain, withDisc] = (['three-piece', 'three-piece with disc'] as const).map(constructionOf);
    const zones = (one: typeof plain) => one?.slots.map((slot) => slot.zones.map(({ zone }) => zone)) ?? [];
    expect(zones(withDisc)[0]).toEqual([...(zones(plain)[0] ?? []), 'stud holes']);
    expect(zones(withDisc).slice(1)).toEqual(zones(plain).slice(1));
    expect(gaugeCharacteristicsAt('rim base', 'stud holes').map(({ id }) => id)).toEqual(['pitting depth']);
  });

  test('slots and zones are named once', () => {
    for (const construction of constructions) {
      const slots = construction.slots.map((slot) => slot.slot);
      expect(new Set(slots).size).toBe(slots.length);
      for (const slot of construction.slots) {
        const zones = slot.zones.map((zone) => zone.zone);
        expect(new Set(zones).size).toBe(zones.length);
        for (const zone of zones) expect(zoneInfo(zone).lookFor.length).toBeGreaterThan(10);
      }
    }
  });

  test('every reading asked for can be taken in a zone of its slot', () => {
    for (const slot of constructions.flatMap((construction) => construction.slots)) {
      for (const reading of slot.readings) {
        const zones = characteristicOf(reading.characteristic).zones[slot.kind] ?? [];
        expect(zones.some((zone) => slot.zones.some((one) => one.zone === zone))).toBe(true);
        for (const state of reading.states)
          expect(characteristicOf(reading.characteristic).states).toContain(state);
      }
    }
  });
});

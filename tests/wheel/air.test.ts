import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { KPA_PER_UNIT } from '../../lib/units/index.ts';
import {
  AIR_VOLUME_OFF,
  airVolumeOfM3,
  ENERGY_CLASS_FROM_J,
  energyClassOf,
  PRESSURE_FALLBACK_KPA,
  storedEnergy,
  tntKg,
  wheelEnergy,
} from '../../lib/wheel/index.ts';
import { caseOf } from '../support/cases.ts';

/** Sources: named in the case file beside each case; the others beside each test. */
function energyOf(gaugeKpa: number, volumeM3: number, atmospherePa?: number) {
  const energy = storedEnergy(gaugeKpa, volumeM3, atmospherePa);
  if (!energy.ok) throw new Error(energy.error.message);
  return energy.value;
}

const M3_PER_FT3 = 0.3048 ** 3;
const J_PER_FT_LB = 1.3558179483;

describe('the energy of compressed air', () => {
  test('published case F-01: isentropic with the exact exponent, and the product beside it', () => {
    const { inputs, expected, recomputed } = caseOf('F-01');
    const found = energyOf(inputs.gauge_Pa / 1000, inputs.volume_m3, inputs.atmosphere_Pa);
    expect(found.energyJ).toBeCloseTo(recomputed.E_isentropic_exact_J, 3);
    expect(found.productJ).toBeCloseTo(expected.E_gauge_pV_J, 6);
    // Equation II-2 rounds the exponent to 0.286.
    expect(Math.abs(found.energyJ / expected.E_pcc2_J - 1)).toBeLessThan(0.001);
    expect(energyOf(inputs.gauge_Pa / 1000, inputs.volume_m3)).toEqual(found);
  });

  test('published case F-03: the right one of its two values', () => {
    const { inputs, expected } = caseOf('F-03');
    const found = energyOf((inputs.P_abs_Pa - inputs.Pa_Pa) / 1000, inputs.V_m3, inputs.Pa_Pa);
    expect(Math.abs(found.energyJ - expected.E_adiabatic_J)).toBeLessThan(1);
  });

  test('published cases F-04 and F-05: TNT of the edition of 2008', () => {
    expect(tntKg(caseOf('F-04').expected.tnt_J_per_kg)).toBe(1);
    const { inputs, expected } = caseOf('F-05');
    expect(Math.abs(tntKg(inputs.E_J) - expected.tnt_kg)).toBeLessThan(1e-5);
    expect(energyOf(700, 2).tntModel).toContain('2008');
  });

  test('published case F-06: the same state in US units', () => {
    const { inputs, expected } = caseOf('F-06');
    const kpa = KPA_PER_UNIT.psi;
    const found = energyOf(
      (inputs.P_psia - inputs.Pa_psia) * kpa,
      inputs.V_ft3 * M3_PER_FT3,
      inputs.Pa_psia * kpa * 1000,
    );
    // The case rounds the exponent to 0.286.
    expect(Math.abs(found.energyJ / expected.E_J - 1)).toBeLessThan(0.001);
  });

  test('published case F-07: nothing at zero gauge pressure, refused below', () => {
    const { inputs, expected } = caseOf('F-07');
    const [zeroPa, belowPa] = inputs.gauge_Pa;
    expect(energyOf(zeroPa / 1000, inputs.volume_m3)).toMatchObject({ energyJ: 0, productJ: 0, tntKg: 0 });
    expect(expected.E_J[1]).toBeNull();
    expect(storedEnergy(belowPa / 1000, inputs.volume_m3)).toMatchObject({
      ok: false,
      error: { code: 'stored-energy', field: 'gaugeKpa', value: '-10' },
    });
    expect(storedEnergy(Number.NaN, 1).ok).toBe(false);
    expect(storedEnergy(700, -1)).toMatchObject({ error: { field: 'volumeM3' } });
  });

  test('4.8 m³ at 100 psi are 4.2 MJ, at 5 psi 130 kJ (seen on an engineering site: a haul-truck tyre, size unstated)', () => {
    expect(energyOf(100 * KPA_PER_UNIT.psi, 4.8).energyJ / 1e6).toBeCloseTo(4.22, 2);
    expect(energyOf(100 * KPA_PER_UNIT.psi, 4.8).tntKg).toBeCloseTo(0.989, 2);
    expect(energyOf(5 * KPA_PER_UNIT.psi, 4.8).energyJ / 1e3).toBeCloseTo(131, 0);
  });

  test.each([
    ['26.5-25', 90, 373_650, 28.83],
    ['27.00-49', 102, 1_309_800, 89.17],
    ['36.00-51', 102, 2_805_500, 191.0],
  ])(
    'figures in circulation are the product, not the expansion: %s (common practice, no source)',
    (_tyre, psi, ftLb, ft3) => {
      const found = energyOf(psi * KPA_PER_UNIT.psi, ft3 * M3_PER_FT3);
      expect(found.productJ / J_PER_FT_LB / ftLb).toBeCloseTo(1, 3);
      expect(found.energyJ / J_PER_FT_LB / ftLb).toBeGreaterThan(1.1);
    },
  );
});

describe('the air behind a rim, a rough estimate', () => {
  test.each([
    // Derived from tyre makers' outer sizes (seen), unverified.
    ['17.5R25', '25-14.00/1.5', 0.26],
    ['23.5R25', '25-19.50/2.5', 0.59],
    ['26.5R25', '25-22.00/3.0', 0.79],
    ['29.5R25', '25-25.00/3.5', 1.1],
    ['35/65R33', '33-28.00/3.5', 1.4],
    // Derived from figures in circulation (common practice, no source); rims of these tyres from memory.
    ['26.5-25', '25-22.00/3.0', 0.816],
    ['27.00-49', '49-19.50/4.0', 2.525],
    ['36.00-51', '51-26.00/5.0', 5.409],
    ['40.00-57', '57-29.00/6.0', 7.13],
    ['45/65-45', '45-36.00/4.5', 3.57],
  ])('%s on %s is within ± 25 % of %d m³', (_tyre, rim, volumeM3) => {
    expect(Math.abs(must(airVolumeOfM3(rim), rim) / volumeM3 - 1)).toBeLessThan(AIR_VOLUME_OFF);
  });

  test('takes the larger tyre where the flange height is not stated, and none without a diameter', () => {
    const without = must(airVolumeOfM3('25-22.00'), 'a volume');
    expect(without).toBeGreaterThan(must(airVolumeOfM3('25-22.00/3.0'), 'a volume'));
    expect(without).toBe(airVolumeOfM3('25-22.00/5.0'));
    expect(airVolumeOfM3('44.00/5.0 [6.0]')).toBeNull();
    expect(airVolumeOfM3('twenty-five')).toBeNull();
  });
});

describe('the energy class of a wheel', () => {
  test.each(ENERGY_CLASS_FROM_J.map((from, i) => [from, i + 1] as const))(
    'changes at %d J: below, at and above',
    (from, below) => {
      expect([from - 1, from, from + 1].map(energyClassOf)).toEqual([below, below + 1, below + 1]);
    },
  );

  test('is the largest where nothing is known, never the mildest', () => {
    expect(energyClassOf(Number.NaN)).toBe(4);
    const unknown = wheelEnergy('as stamped, not legible', 650);
    expect(unknown).toMatchObject({ energyClass: 4, energyJ: null, volumeM3: null });
    expect(unknown.sentence).toContain('not understood');
    expect(wheelEnergy('44.00/5.0 [6.0]', 650).energyClass).toBe(4);
  });

  test('takes the recorded pressure, else the stated one and says so', () => {
    expect(wheelEnergy('25-14.00/1.5', 650)).toMatchObject({ energyClass: 1, pressureAssumed: false });
    const assumed = wheelEnergy('25-14.00/1.5', null);
    expect(assumed).toMatchObject({ gaugeKpa: PRESSURE_FALLBACK_KPA, pressureAssumed: true });
    expect(assumed.sentence).toContain('assumed');
    expect(wheelEnergy('25-22.00/3.0', 650).energyClass).toBe(2);
    expect(wheelEnergy('49-19.50/4.0', 700).energyClass).toBe(3);
    expect(wheelEnergy('57-29.00/6.0', 700).energyClass).toBe(4);
  });

  test('grows with pressure and size', () => {
    const energies = [400, 650, 800].map((kpa) => must(wheelEnergy('33-28.00/3.5', kpa).energyJ, 'energy'));
    expect(energies).toEqual([...energies].sort((a, b) => a - b));
    expect(new Set(energies).size).toBe(3);
  });
});

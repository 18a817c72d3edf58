import { storedEnergy } from './energy.ts';
import { airVolumeOfM3 } from './volume.ts';

/** How much the air behind a rim holds, from 1, small, to 4, very large. */
export type EnergyClass = 1 | 2 | 3 | 4;

/** Lowest energy of the classes above the first, J; our own choice: loaders, large loaders, haul trucks, the largest. */
export const ENERGY_CLASS_FROM_J = [300_000, 1_000_000, 3_000_000] as const;
/** Gauge pressure where none was written down, kPa; our own choice, in the middle of what tyre lists recommend (650 to 800). */
export const PRESSURE_FALLBACK_KPA = 700;

export const ENERGY_WORDS: Readonly<Record<EnergyClass, string>> = {
  1: 'small',
  2: 'medium',
  3: 'large',
  4: 'very large',
};

/** The class of an energy, J; a bound belongs to the class above it. What is no number is very large. */
export function energyClassOf(energyJ: number): EnergyClass {
  if (Number.isNaN(energyJ)) return 4;
  return (1 + ENERGY_CLASS_FROM_J.filter((from) => energyJ >= from).length) as EnergyClass;
}

/** The energy of a wheel with what it rests on. */
export interface WheelEnergy {
  readonly energyClass: EnergyClass;
  /** Null where the size designation is not understood: the wheel then counts as very large. */
  readonly energyJ: number | null;
  readonly volumeM3: number | null;
  readonly gaugeKpa: number;
  /** Whether nobody wrote a pressure down, so that `PRESSURE_FALLBACK_KPA` was taken. */
  readonly pressureAssumed: boolean;
  readonly sentence: string;
}

/**
 * How much energy the tyre on a rim holds at its recommended gauge pressure, kPa: that of the record, else the fallback.
 * Never mild by default: without a size that is understood it is the largest class, and the sentence says so.
 */
export function wheelEnergy(designation: string, recommendedKpa: number | null): WheelEnergy {
  const known = recommendedKpa !== null && recommendedKpa > 0 && Number.isFinite(recommendedKpa);
  const gaugeKpa = known ? recommendedKpa : PRESSURE_FALLBACK_KPA;
  const volumeM3 = airVolumeOfM3(designation);
  const energy = volumeM3 === null ? null : storedEnergy(gaugeKpa, volumeM3);
  const energyJ = energy?.ok === true ? energy.value.energyJ : null;
  const energyClass = energyJ === null ? 4 : energyClassOf(energyJ);
  const at = `${Math.round(gaugeKpa)} kPa${known ? '' : ' (assumed, none was recorded)'}`;
  const sentence =
    energyJ === null || volumeM3 === null
      ? `Stored energy counted as ${ENERGY_WORDS[4]}: the size designation is not understood or names no diameter`
      : `Stored energy ${ENERGY_WORDS[energyClass]}: ${megajoules(energyJ)} by isentropic expansion of about ${volumeM3.toPrecision(2)} m³ at ${at}; own rough estimate, ± 25 %`;
  return { energyClass, energyJ, volumeM3, gaugeKpa, pressureAssumed: !known, sentence };
}

function megajoules(energyJ: number): string {
  return `${(energyJ / 1e6).toPrecision(2)} MJ`;
}

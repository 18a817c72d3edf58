import { fail, ok, type Problem, problem, type Result } from '../../base/index.ts';

/**
 * Stored energy of compressed air after ASME PCC-2, article 501 (5.1 in the edition of 2008), mandatory appendix II:
 * E = 1/(k − 1) · Pat · V · [1 − (Pa/Pat)^((k − 1)/k)] with Pat and Pa absolute. It is written for pressure tests of
 * vessels and piping, not for tyres: it serves to compare wheels, and no distance is worked out from it.
 */
export const ENERGY_MODEL = 'isentropic expansion, ASME PCC-2 art. 501';
/** The plain product, in circulation in the trade; no expansion formula (common practice, no source). */
export const PRODUCT_MODEL = 'gauge pressure × volume';
/** The article's atmosphere, Pa, and ratio of specific heats of air. */
const ATMOSPHERE_PA = 101_000;
const K_AIR = 1.4;
/** J a kilogram of TNT, edition of 2008, equation II-3. */
const TNT_J_PER_KG = 4_266_920;

/** What air holds, by two models that must not be mixed. */
export interface StoredEnergy {
  readonly energyJ: number;
  readonly energyModel: string;
  readonly productJ: number;
  readonly productModel: string;
  readonly tntKg: number;
  readonly tntModel: string;
}

/** Energy of `volumeM3` of air at a gauge pressure of `gaugeKpa`, J. Fails below zero and on what is no number. */
export function storedEnergy(
  gaugeKpa: number,
  volumeM3: number,
  atmospherePa = ATMOSPHERE_PA,
): Result<StoredEnergy, Problem> {
  if (!(gaugeKpa >= 0) || !Number.isFinite(gaugeKpa))
    return refused('gaugeKpa', gaugeKpa, 'A gauge pressure is a number of kPa, zero or above');
  if (!(volumeM3 >= 0) || !Number.isFinite(volumeM3))
    return refused('volumeM3', volumeM3, 'An air volume is a number of m³, zero or above');
  const gaugePa = gaugeKpa * 1000;
  const absolutePa = gaugePa + atmospherePa;
  const left = (atmospherePa / absolutePa) ** ((K_AIR - 1) / K_AIR);
  const energyJ = (absolutePa * volumeM3 * (1 - left)) / (K_AIR - 1);
  return ok({
    energyJ,
    energyModel: ENERGY_MODEL,
    productJ: gaugePa * volumeM3,
    productModel: PRODUCT_MODEL,
    tntKg: tntKg(energyJ),
    tntModel: 'ASME PCC-2, edition of 2008, 4 266 920 J/kg',
  });
}

/** TNT of the same energy, kg (ASME PCC-2, edition of 2008, equation II-3). `energyJ` zero or above. */
export function tntKg(energyJ: number): number {
  return energyJ / TNT_J_PER_KG;
}

function refused(field: string, value: number, message: string): Result<never, Problem> {
  return fail(problem('stored-energy', field, value, message, 'Read the pressure and the size again.'));
}

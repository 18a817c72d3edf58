export { ENERGY_MODEL, PRODUCT_MODEL, type StoredEnergy, storedEnergy, tntKg } from './energy.ts';
export {
  ENERGY_CLASS_FROM_J,
  ENERGY_WORDS,
  type EnergyClass,
  energyClassOf,
  PRESSURE_FALLBACK_KPA,
  type WheelEnergy,
  wheelEnergy,
} from './energyClass.ts';
export { AIR_VOLUME_OFF, airVolumeM3, airVolumeOfM3 } from './volume.ts';

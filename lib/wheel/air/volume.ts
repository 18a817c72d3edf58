import { parseDesignation, type SizeDesignation } from '../designation.ts';

/*
 * Own choices, a rough estimate. Tyre makers publish no air volumes, so a tyre is taken as a ring of elliptic section on
 * its rim. Rims with high flanges for their width carry tyres of full height, the others wide-base ones. The shares were
 * fitted to the volumes derived from tyre sizes (17.5R25 to 35/65R33) and to those implied by figures in circulation
 * (27.00-49 to 45/65-45; common practice, no source); tests name them all.
 */

/** From this share of the width on, a flange height belongs to a rim of full-height tyres. */
const HIGH_FLANGE = 0.17;
interface TyreShape {
  /** Section width over rim width. */
  readonly widthOver: number;
  /** Section height over section width. */
  readonly heightOver: number;
  /** Air in the section of the tyre. */
  readonly air: number;
}
const FULL_HEIGHT: TyreShape = { widthOver: 1.48, heightOver: 0.98, air: 1 };
const WIDE_BASE: TyreShape = { widthOver: 1.22, heightOver: 0.8, air: 0.67 };

/** What the estimate may be off by, share of it; own rough figure. */
export const AIR_VOLUME_OFF = 0.25;

function ringM3({ widthMm, diameterMm }: { widthMm: number; diameterMm: number }, shape: TyreShape): number {
  const width = (widthMm * shape.widthOver) / 1000;
  const height = width * shape.heightOver;
  return 2 * Math.PI * ((diameterMm / 1000 + height) / 2) * (Math.PI / 4) * width * height * shape.air;
}

/**
 * Air behind a rim of this size, m³, our own rough estimate (± `AIR_VOLUME_OFF`); the larger of two where the flange height
 * is not stated, null where the diameter is not.
 */
export function airVolumeM3(size: SizeDesignation): number | null {
  if (size.diameterCode === undefined) return null;
  // Rims of code 24 have other diameters; to this roughness the code will do.
  const rim = { widthMm: size.widthMm, diameterMm: size.diameterCode * 25.4 };
  const full = ringM3(rim, FULL_HEIGHT);
  if (size.flangeHeightIn === undefined) return full;
  return size.flangeHeightIn / size.widthIn >= HIGH_FLANGE ? full : ringM3(rim, WIDE_BASE);
}

/** The same from the designation as written; null where it is not understood. */
export function airVolumeOfM3(designation: string): number | null {
  const size = parseDesignation(designation);
  return size.ok ? airVolumeM3(size.value) : null;
}

import { v7 } from 'uuid';
import { must } from '../../lib/base/index.ts';
import type { CardName, CheckedRuler } from '../../lib/photo/index.ts';
import { CameraProfile } from '../../lib/record/index.ts';
import type { Me } from './remote.ts';

const DEVICE = 'rimbook.device';
const ME = 'rimbook.me';
const SITE = 'rimbook.site';
const UNITS = 'rimbook.units';

/** Id of this browser, made once. */
export function deviceId(): string {
  const known = localStorage.getItem(DEVICE);
  if (known !== null) return known;
  const made = v7();
  localStorage.setItem(DEVICE, made);
  return made;
}

/** The person last signed in here, for work without a network; null when nobody was or they signed out. */
export function rememberedMe(): Me | null {
  const text = localStorage.getItem(ME);
  return text === null ? null : (JSON.parse(text) as Me);
}

export function rememberMe(me: Me | null): void {
  if (me === null) localStorage.removeItem(ME);
  else localStorage.setItem(ME, JSON.stringify(me));
}

export function rememberedSite(): string | null {
  return localStorage.getItem(SITE);
}

export function rememberSite(site: string): void {
  localStorage.setItem(SITE, site);
}

/** Unit a number without a unit is taken in on this device. */
export function rememberedUnit(): 'mm' | 'in' {
  return localStorage.getItem(UNITS) === 'in' ? 'in' : 'mm';
}

export function rememberUnit(unit: 'mm' | 'in'): void {
  localStorage.setItem(UNITS, unit);
}

const RULERS = 'rimbook.rulers';

/** What the rulers of this device’s printed cards measure, by card; nothing for a card that was never checked. */
function rulers(): Partial<Record<CardName, CheckedRuler>> {
  return JSON.parse(localStorage.getItem(RULERS) ?? '{}') as Partial<Record<CardName, CheckedRuler>>;
}

/** What the check ruler of a printed card truly measures, as entered on this device; null: never entered. */
export function checkedRuler(card: CardName): CheckedRuler | null {
  return rulers()[card] ?? null;
}

export function keepRuler(card: CardName, ruler: CheckedRuler): void {
  localStorage.setItem(RULERS, JSON.stringify({ ...rulers(), [card]: ruler }));
}

/** Forgets what was measured: for a new print of the card. */
export function forgetRuler(card: CardName): void {
  const { [card]: _, ...others } = rulers();
  localStorage.setItem(RULERS, JSON.stringify(others));
}

const PROFILE = 'rimbook.camera';

/** The camera of this device as fitted here; null: never fitted. */
export function storedProfile(): CameraProfile | null {
  const text = localStorage.getItem(PROFILE);
  const read = text === null ? null : CameraProfile.safeParse(JSON.parse(text));
  return read?.success === true ? read.data : null;
}

export function keepProfile(profile: CameraProfile | null): void {
  if (profile === null) localStorage.removeItem(PROFILE);
  else localStorage.setItem(PROFILE, JSON.stringify(profile));
}

let lastMs = 0;

/** The device clock as ISO 8601 UTC, never the same twice and never going back within a page. */
export function now(): string {
  lastMs = Math.max(Date.now(), lastMs + 1);
  return new Date(lastMs).toISOString();
}

export { v7 as newId } from 'uuid';

/** A whole number from 0 to 2³² − 1, from which an order is drawn. */
export function randomSeed(): number {
  return must(crypto.getRandomValues(new Uint32Array(1))[0], 'a random number');
}

const OWED = 'rimbook.sign-out-owed';

/** A sign-out that could not reach the server; it is made good before anybody works here again. */
export function signOutOwed(): boolean {
  return localStorage.getItem(OWED) !== null;
}

export function oweSignOut(owed: boolean): void {
  if (owed) localStorage.setItem(OWED, '1');
  else localStorage.removeItem(OWED);
}

import type { BandSettings } from '../http/shapes.ts';
import { decimals, number, shown, shownDifference, unshown, unshownDifference } from '../words/units.ts';

export type BandField = keyof BandSettings;

export const LIMITS: { field: BandField; label: string }[] = [
  { field: 'dangerHigh', label: 'Danger above' },
  { field: 'warningHigh', label: 'Warning above' },
  { field: 'warningLow', label: 'Warning below' },
  { field: 'dangerLow', label: 'Danger below' },
];

export const DELAYS: { field: BandField; label: string; hint: string }[] = [
  { field: 'warningOnDelaySeconds', label: 'Warn after', hint: 'Out of band this long without a break.' },
  { field: 'dangerOnDelaySeconds', label: 'Danger after', hint: 'Shorter, because eggs may be lost.' },
  { field: 'offDelaySeconds', label: 'Over after', hint: 'Back in the band this long.' },
  {
    field: 'silentAfterSeconds',
    label: 'A probe is silent after',
    hint: 'Without a good reading this long.',
  },
];

const isLimit = (field: BandField): boolean => LIMITS.some((l) => l.field === field);

export type BandTexts = Record<BandField, string>;

const EMPTY: BandSettings = {
  dangerLow: null,
  warningLow: null,
  warningHigh: null,
  dangerHigh: null,
  deadband: 0.2,
  warningOnDelaySeconds: 300,
  dangerOnDelaySeconds: 60,
  offDelaySeconds: 120,
  silentAfterSeconds: 600,
};

/** The band as texts to type in: limits in the degrees of this phone, delays in minutes. */
export function textsOf(band: BandSettings | null, quantity: string): BandTexts {
  const texts = {} as BandTexts;
  const from = band ?? EMPTY;
  for (const field of Object.keys(EMPTY) as BandField[]) {
    const value = from[field];
    if (value === null || value === undefined) texts[field] = '';
    else if (isLimit(field)) texts[field] = plain(shown(value, quantity), Math.max(1, decimals(quantity)));
    else if (field === 'deadband') texts[field] = plain(shownDifference(value, quantity), 2);
    else texts[field] = plain(value / 60, 2);
  }
  return texts;
}

/** A figure without needless zeros: "32.5", "80", "0.36". */
function plain(value: number, places: number): string {
  return String(Number(number(value, places).replace('\u2212', '-')));
}

export type BandParsed = { band: BandSettings } | { errors: Record<string, string[]> };

/** Reads the texts back. Only what is no number is refused here; whether the numbers fit is the service's to say. */
export function parseBand(texts: BandTexts, quantity: string): BandParsed {
  const errors: Record<string, string[]> = {};
  const band = { ...EMPTY };
  for (const field of Object.keys(EMPTY) as BandField[]) {
    const text = texts[field].trim().replace(',', '.').replace('\u2212', '-');
    if (text === '' && isLimit(field)) {
      (band[field] as number | null) = null;
      continue;
    }
    const value = Number(text);
    if (text === '' || !Number.isFinite(value)) {
      errors[field] = ['A number is needed here, such as 31.5.'];
    } else if (isLimit(field)) (band[field] as number) = unshown(value, quantity);
    else if (field === 'deadband') band.deadband = unshownDifference(value, quantity);
    else (band[field] as number) = Math.round(value * 60);
  }
  return Object.keys(errors).length > 0 ? { errors } : { band };
}

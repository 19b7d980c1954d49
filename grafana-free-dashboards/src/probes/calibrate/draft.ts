import type { CalibrationPoints, SaltPoint } from '../../http/probeShapes.ts';

export type Method = 'ice bath' | 'reference thermometer' | 'reference hygrometer' | 'saturated salt';

export interface MethodChoice {
  value: Method;
  word: string;
  hint: string;
}

const ICE: MethodChoice = {
  value: 'ice bath',
  word: 'Ice bath',
  hint: 'Crushed ice and water: exactly 0 °C, for a kitchen’s effort.',
};
const THERMOMETER: MethodChoice = {
  value: 'reference thermometer',
  word: 'Reference thermometer',
  hint: 'One that you trust more, side by side, at the warmth that matters.',
};
const HYGROMETER: MethodChoice = {
  value: 'reference hygrometer',
  word: 'Reference hygrometer',
  hint: 'One that you trust more, side by side.',
};
const SALT: MethodChoice = {
  value: 'saturated salt',
  word: 'Saturated salt',
  hint: 'A wet salt in a closed jar holds a known humidity.',
};

export const methodsFor = (quantity: string): MethodChoice[] =>
  quantity === 'humidity' ? [SALT, HYGROMETER] : [ICE, THERMOMETER];

export interface Draft {
  quantity: string;
  method: Method | '';
  salt: string;
  celsius: string;
  truth: string;
  measured: string;
  second: boolean;
  truth2: string;
  measured2: string;
}

export const newDraft = (quantity: string): Draft => ({
  quantity,
  method: '',
  salt: '',
  celsius: '25',
  truth: '',
  measured: '',
  second: false,
  truth2: '',
  measured2: '',
});

/** "31,4", "−0.2" and "31.4" are numbers; anything else is none. */
export function readNumber(text: string): number | null {
  const plain = text.trim().replace(',', '.').replace('−', '-');
  return /^-?\d+(\.\d+)?$/.test(plain) ? Number(plain) : null;
}

/** What a salt holds at a temperature, between two points of its table in proportion; null outside the table. */
export function saltAt(points: readonly SaltPoint[], celsius: number): SaltPoint | null {
  const sorted = [...points].sort((a, b) => a.celsius - b.celsius);
  const above = sorted.findIndex((p) => p.celsius >= celsius);
  const high = sorted[above];
  if (high === undefined) return null;
  if (high.celsius === celsius) return high;
  const low = sorted[above - 1];
  if (low === undefined) return null;
  const share = (celsius - low.celsius) / (high.celsius - low.celsius);
  return {
    celsius,
    humidity: low.humidity + share * (high.humidity - low.humidity),
    uncertainty: Math.max(low.uncertainty, high.uncertainty),
  };
}

/** What is true there, in the quantity's own unit; null while it is not known. `toOwn` turns what was typed. */
export function truthOf(
  draft: Draft,
  known: CalibrationPoints,
  toOwn: (typed: number) => number,
): number | null {
  if (draft.method === 'ice bath') return known.icePoint.truth;
  if (draft.method === 'saturated salt') {
    const salt = known.salts.find((s) => s.key === draft.salt);
    const celsius = readNumber(draft.celsius);
    return salt === undefined || celsius === null ? null : (saltAt(salt.points, celsius)?.humidity ?? null);
  }
  const typed = readNumber(draft.truth);
  return typed === null ? null : toOwn(typed);
}

export interface Line {
  gain: number;
  offset: number;
}

/** The correction that these points give: one point shifts, two points also stretch. Null when they can't. */
export function lineOf(points: readonly { measured: number; truth: number }[]): Line | null {
  const [a, b] = points;
  if (a === undefined) return null;
  if (b === undefined) return { gain: 1, offset: a.truth - a.measured };
  if (Math.abs(b.measured - a.measured) < 1e-9) return null;
  const gain = (b.truth - a.truth) / (b.measured - a.measured);
  return gain > 0 ? { gain, offset: a.truth - gain * a.measured } : null;
}

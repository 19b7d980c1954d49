import { signal } from '@preact/signals';
import { keep, kept } from './kept.ts';

/** Which degree this phone shows. The service always speaks °C; only what is drawn and written here is turned. */
export type Degree = 'Cel' | 'degF';

const KEY = 'incubation.degree';

export const degree = signal<Degree>(kept(KEY) === 'degF' ? 'degF' : 'Cel');

export function chooseDegree(choice: Degree): void {
  degree.value = choice;
  keep(KEY, choice);
}

const isTemperature = (quantity: string): boolean =>
  quantity === 'temperature' || quantity === 'room-temperature';

export function shown(value: number, quantity: string, choice: Degree = degree.value): number {
  return isTemperature(quantity) && choice === 'degF' ? (value * 9) / 5 + 32 : value;
}

export function shownDifference(value: number, quantity: string, choice: Degree = degree.value): number {
  return isTemperature(quantity) && choice === 'degF' ? (value * 9) / 5 : value;
}

/** The way back, to a hundredth, so that 88.7 °F is sent as 31.5 °C and not as 31.500000000000004. */
export function unshown(value: number, quantity: string, choice: Degree = degree.value): number {
  const back = isTemperature(quantity) && choice === 'degF' ? ((value - 32) * 5) / 9 : value;
  return Math.round(back * 100) / 100;
}

export function unshownDifference(value: number, quantity: string, choice: Degree = degree.value): number {
  const back = isTemperature(quantity) && choice === 'degF' ? (value * 5) / 9 : value;
  return Math.round(back * 100) / 100;
}

export function unitWord(quantity: string, unit: string, choice: Degree = degree.value): string {
  if (isTemperature(quantity)) return choice === 'degF' ? '°F' : '°C';
  return unit === 'Cel' ? '°C' : unit;
}

export function decimals(quantity: string): number {
  return quantity === 'humidity' || quantity === 'signal' || quantity === 'battery' ? 0 : 1;
}

/** A number as it is written everywhere: a point, a true minus sign, and no minus before a zero. */
export function number(value: number, places: number): string {
  const text = value.toFixed(places);
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '\u2212');
}

export function amount(
  value: number | null,
  quantity: string,
  unit: string,
  places = unit === 'V' ? 2 : decimals(quantity),
): string {
  if (value === null) return '–';
  // A door says 1 when it is open.
  if (quantity === 'door') return value >= 0.5 ? 'open' : 'shut';
  return `${number(shown(value, quantity), places)}\u00a0${unitWord(quantity, unit)}`.trimEnd();
}

export function difference(
  value: number,
  quantity: string,
  unit: string,
  places = decimals(quantity),
): string {
  return `${number(shownDifference(value, quantity), places)}\u00a0${unitWord(quantity, unit)}`;
}

/** Sentences of the service, with figures kept together with their units: a line never begins with "°C". */
export function bound(sentence: string): string {
  return sentence.replaceAll(/(\d) (°C|°F|%RH|%|h|min|days?)(?=[\s.,;:)]|$)/gu, '$1\u00a0$2');
}

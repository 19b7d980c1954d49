// Local dates of the facility ("2026-03-29"): a day of the calendar, not twenty-four hours, so that a lay date and
// "day 30" hold across zones and the change of the clocks.
import { wallClock } from './times.ts';

const DAY_MS = 86_400_000;

/** The date on the calendar of the facility. */
export function dateAt(at: number, zone: string): string {
  return isoOf(wallClock(at, zone).day);
}

/** The date as written, or null when there is no such day: "2026-02-30" is none. */
export function parseDate(text: string): string | null {
  const found = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text.trim());
  if (found === null) return null;
  const date = isoOf(numberOf(text.trim()));
  return date === text.trim() ? date : null;
}

export function daysBetween(from: string, to: string): number {
  return numberOf(to) - numberOf(from);
}

export function addDays(date: string, days: number): string {
  return isoOf(numberOf(date) + days);
}

/** Day of incubation: the lay date is day 0. */
export function dayOfIncubation(layDate: string, at: number, zone: string): number {
  return daysBetween(layDate, dateAt(at, zone));
}

/** "Sun 29 March 2026". A date has no zone, so none is applied. */
export function dateWords(date: string): string {
  return new Intl.DateTimeFormat('en-GB', {
    weekday: 'short',
    day: 'numeric',
    month: 'long',
    year: 'numeric',
    timeZone: 'UTC',
  })
    .format(numberOf(date) * DAY_MS)
    .replace(',', '');
}

/** "03:05" on the clock of the facility. */
export function timeAt(at: number, zone: string): string {
  const { minuteOfDay } = wallClock(at, zone);
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${two(Math.floor(minuteOfDay / 60))}:${two(minuteOfDay % 60)}`;
}

/**
 * The instant at which the clock of the facility showed this. An hour that comes twice means its first pass; an hour
 * that is left out means as long after the change as it says. Null when it is no date or no time.
 */
export function instantOf(date: string, time: string, zone: string): number | null {
  const day = parseDate(date);
  const clock = /^([01]\d|2[0-3]):([0-5]\d)$/.exec(time.trim());
  if (day === null || clock === null) return null;
  const wall = numberOf(day) * DAY_MS + (Number(clock[1]) * 60 + Number(clock[2])) * 60_000;
  const offset = (at: number): number => {
    const shown = wallClock(at, zone);
    return shown.day * DAY_MS + shown.minuteOfDay * 60_000 - at;
  };
  const before = offset(wall - DAY_MS);
  const after = offset(wall + DAY_MS);
  // With the offset of the day before: true if it reads back, and then it is the first pass; else that of the day after.
  const first = wall - before;
  if (offset(first) === before) return first;
  const second = wall - after;
  return offset(second) === after ? second : first;
}

function numberOf(date: string): number {
  const [year, month, day] = date.split('-').map(Number);
  return Math.round(Date.UTC(year ?? 0, (month ?? 1) - 1, day ?? 1) / DAY_MS);
}

function isoOf(day: number): string {
  return new Date(day * DAY_MS).toISOString().slice(0, 10);
}

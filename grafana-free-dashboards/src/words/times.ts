// Times are said in the zone of the facility, never in that of the phone.
import { offsetAt } from './offsets.ts';

const DAY_MS = 86_400_000;

const formats = new Map<string, Intl.DateTimeFormat>();

function format(zone: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const key = `${zone}|${JSON.stringify(options)}`;
  let made = formats.get(key);
  if (made === undefined) {
    made = make(zone, options);
    formats.set(key, made);
  }
  return made;
}

function make(zone: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  try {
    return new Intl.DateTimeFormat('en-GB', { ...options, timeZone: zone });
  } catch {
    // A zone newer than this phone: UTC is at least true, and zoneWord says so.
    return new Intl.DateTimeFormat('en-GB', { ...options, timeZone: 'UTC' });
  }
}

export function clock(at: number, zone: string): string {
  return format(zone, { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' }).format(at);
}

export function weekday(at: number, zone: string): string {
  return format(zone, { weekday: 'short' }).format(at);
}

export function day(at: number, zone: string): string {
  return format(zone, { day: 'numeric', month: 'short' }).format(at);
}

export function dayAndClock(at: number, zone: string): string {
  return `${weekday(at, zone)} ${day(at, zone)}, ${clock(at, zone)}`;
}

/** "03:12" today, "Tue 24 Nov, 03:12" otherwise, "24 Nov 2024" when the day alone could be of two years. */
export function moment(at: number, now: number, zone: string): string {
  if (Math.abs(now - at) > 300 * DAY_MS) {
    return format(zone, { day: 'numeric', month: 'short', year: 'numeric' }).format(at);
  }
  return day(at, zone) === day(now, zone) && Math.abs(now - at) < 36 * 3_600_000
    ? clock(at, zone)
    : dayAndClock(at, zone);
}

export function zoneWord(at: number, zone: string): string {
  const parts = format(zone, { timeZoneName: 'short' }).formatToParts(at);
  const name = parts.find((p) => p.type === 'timeZoneName')?.value ?? 'UTC';
  return `${zone.replaceAll('_', ' ')} (${name})`;
}

export interface WallClock {
  /** Days since 1970 on the calendar of the zone. */
  day: number;
  minuteOfDay: number;
}

export function wallClock(at: number, zone: string): WallClock {
  const wall = at + offsetAt(at, zone);
  const day = Math.floor(wall / DAY_MS);
  return { day, minuteOfDay: Math.floor((wall - day * DAY_MS) / 60_000) };
}

/** How long in words: "less than a minute", "14 min", "3 h 20 min", "5 days". */
export function span(milliseconds: number): string {
  const minutes = Math.floor(Math.max(0, milliseconds) / 60_000);
  if (minutes < 1) return 'less than a minute';
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.floor(minutes / 60);
  if (hours < 48) return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
  return `${Math.floor(hours / 24)} days`;
}

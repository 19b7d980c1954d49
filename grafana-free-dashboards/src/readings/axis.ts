import { clock, day, wallClock, weekday } from '../words/times.ts';

// The axis is our own: it stands on the wall clock of the facility, whatever the zone of the phone, and on the two days
// of a year that are 23 or 25 hours long as well.

const QUARTER_MS = 900_000;
const STEPS_MINUTES = [15, 30, 60, 120, 180, 360, 720, 1440, 2880, 10_080];
const DAY_MINUTES = 1440;

/** The smallest step that leaves each label the room it needs. */
export function stepFor(spanMs: number, widthPixels: number, labelPixels: number): number {
  const most = Math.max(1, Math.floor(widthPixels / labelPixels));
  return STEPS_MINUTES.find((minutes) => spanMs / (minutes * 60_000) <= most) ?? 10_080;
}

/**
 * Instants at which the wall clock of the zone shows a multiple of the step, or has just jumped past one.
 * A repeated hour is marked twice, because it was lived twice.
 */
export function splits(fromMs: number, toMs: number, stepMinutes: number, zone: string): number[] {
  const out: number[] = [];
  // All offsets in use are multiples of a quarter of an hour.
  const first = Math.floor(fromMs / QUARTER_MS) * QUARTER_MS;
  let before = slot(first - QUARTER_MS, stepMinutes, zone);
  for (let ms = first; ms <= toMs; ms += QUARTER_MS) {
    const here = slot(ms, stepMinutes, zone);
    if ((here.exact || here.slot !== before.slot) && ms >= fromMs) out.push(ms);
    before = here;
  }
  return out;
}

function slot(ms: number, stepMinutes: number, zone: string): { slot: number; exact: boolean } {
  const wall = wallClock(ms, zone);
  if (stepMinutes >= DAY_MINUTES) {
    const days = stepMinutes / DAY_MINUTES;
    return { slot: Math.floor(wall.day / days), exact: false };
  }
  return {
    slot: wall.day * (DAY_MINUTES / stepMinutes) + Math.floor(wall.minuteOfDay / stepMinutes),
    exact: wall.minuteOfDay % stepMinutes === 0,
  };
}

/** "06:00" within a day; the day's name where a day begins. */
export function label(ms: number, stepMinutes: number, zone: string): string {
  if (stepMinutes >= DAY_MINUTES) return `${weekday(ms, zone)} ${day(ms, zone).split(' ')[0] ?? ''}`;
  const startsDay = wallClock(ms, zone).day !== wallClock(ms - QUARTER_MS, zone).day;
  return startsDay ? weekday(ms, zone) : clock(ms, zone);
}

import { instantOf } from '../words/localdate.ts';
import { segments } from '../words/offsets.ts';
import { clock, day, wallClock, weekday } from '../words/times.ts';

// The axis is our own: it stands on the wall clock of the facility, whatever the zone of the phone, and on the two days
// of a year that are 23 or 25 hours long as well.

const MINUTE_MS = 60_000;
const DAY_MINUTES = 1440;
const WEEK_MINUTES = 10_080;
/** A step of a month is one of the calendar; its minutes only say how wide it is about. */
const MONTH_MINUTES = 43_800;
const STEPS_MINUTES = [
  ...[1, 2, 5, 15, 30, 60, 120, 180, 360, 720, DAY_MINUTES, 2 * DAY_MINUTES, WEEK_MINUTES, 2 * WEEK_MINUTES],
  ...[1, 2, 3, 6, 12].map((months) => months * MONTH_MINUTES),
];
/** 1970 began on a Thursday; weeks begin on Mondays. */
const FIRST_MONDAY_MS = 4 * DAY_MINUTES * MINUTE_MS;

/** The smallest step that leaves each label the room it needs. */
export function stepFor(spanMs: number, widthPixels: number, labelPixels: number): number {
  const most = Math.max(1, Math.floor(widthPixels / labelPixels));
  return (
    STEPS_MINUTES.find((minutes) => spanMs / (minutes * MINUTE_MS) <= most) ??
    (STEPS_MINUTES.at(-1) as number)
  );
}

/**
 * Instants at which the wall clock of the zone shows a multiple of the step, or has just jumped past one.
 * A repeated hour is marked twice, because it was lived twice; a day begins once.
 */
export function splits(fromMs: number, toMs: number, stepMinutes: number, zone: string): number[] {
  if (stepMinutes >= MONTH_MINUTES) return months(fromMs, toMs, stepMinutes, zone);
  const step = stepMinutes * MINUTE_MS;
  const origin = stepMinutes >= WEEK_MINUTES ? FIRST_MONDAY_MS : 0;
  const slotOf = (wall: number): number => Math.floor((wall - origin) / step);
  const out: number[] = [];
  let last = Number.NEGATIVE_INFINITY;
  let before: number | null = null;
  const mark = (ms: number, slot: number): void => {
    if (stepMinutes >= DAY_MINUTES && slot <= last) return;
    last = slot;
    if (ms >= fromMs && ms <= toMs) out.push(ms);
  };
  for (const segment of segments(fromMs - step, toMs, zone)) {
    const start = Math.max(segment.from, fromMs - step);
    const end = Math.min(segment.to, toMs + 1);
    const first = slotOf(start + segment.offset);
    const exact = first * step + origin === start + segment.offset;
    if (!exact && before !== null && first > slotOf(start - 1 + before)) mark(start, first);
    for (let slot = exact ? first : first + 1; ; slot++) {
      const ms = slot * step + origin - segment.offset;
      if (ms >= end) break;
      mark(ms, slot);
    }
    before = segment.offset;
  }
  return out;
}

function months(fromMs: number, toMs: number, stepMinutes: number, zone: string): number[] {
  const every = Math.round(stepMinutes / MONTH_MINUTES);
  const date = new Date(wallClock(fromMs, zone).day * DAY_MINUTES * MINUTE_MS);
  const out: number[] = [];
  for (let month = date.getUTCFullYear() * 12 + date.getUTCMonth(); ; month++) {
    if (month % every !== 0) continue;
    const first = `${String(Math.floor(month / 12)).padStart(4, '0')}-${String((month % 12) + 1).padStart(2, '0')}-01`;
    const at = instantOf(first, '00:00', zone);
    if (at === null || at > toMs) return out;
    if (at >= fromMs) out.push(at);
  }
}

/** "06:00" within a day; the day's name where a day begins; the date or the month where steps are longer. */
export function label(ms: number, stepMinutes: number, zone: string): string {
  if (stepMinutes >= MONTH_MINUTES) {
    const date = new Date(wallClock(ms, zone).day * DAY_MINUTES * MINUTE_MS);
    return date.getUTCMonth() === 0 ? String(date.getUTCFullYear()) : (day(ms, zone).split(' ')[1] ?? '');
  }
  if (stepMinutes > DAY_MINUTES) return day(ms, zone);
  if (stepMinutes === DAY_MINUTES) return `${weekday(ms, zone)} ${day(ms, zone).split(' ')[0] ?? ''}`;
  const startsDay = wallClock(ms, zone).day !== wallClock(ms - MINUTE_MS, zone).day;
  return startsDay ? weekday(ms, zone) : clock(ms, zone);
}

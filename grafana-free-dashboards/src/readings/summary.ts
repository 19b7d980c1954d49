import type { History } from '../http/shapes.ts';
import { clock, day, dayAndClock, span, weekday } from '../words/times.ts';
import { amount } from '../words/units.ts';
import { columnsOf } from './columns.ts';
import type { View } from './view.ts';

export interface TableRow {
  from: number;
  to: number;
  min: number;
  mean: number;
  max: number;
}

/** How long a quantity was seen beyond a limit: whole buckets whose extreme was, so at most this long. */
export function timeBeyond(history: History): { above: number; below: number } {
  const high = history.band?.warningHigh ?? null;
  const low = history.band?.warningLow ?? null;
  const above = new Set<number>();
  const below = new Set<number>();
  for (const series of history.series) {
    for (const [i, ms] of series.startMs.entries()) {
      if ((series.count[i] ?? 0) === 0) continue;
      const max = series.max[i];
      const min = series.min[i];
      if (high !== null && max !== undefined && max > high) above.add(ms);
      if (low !== null && min !== undefined && min < low) below.add(ms);
    }
  }
  return { above: above.size * history.bucketMs, below: below.size * history.bucketMs };
}

/** The chart in words, for who cannot see it and who does not want to look. */
export function summaryOf(history: History, zone: string): string {
  const values = history.series.flatMap((s) =>
    s.startMs.flatMap((_, i) => ((s.count[i] ?? 0) > 0 ? [s.min[i], s.max[i]] : [])),
  );
  const known = values.filter((v): v is number => v !== undefined && Number.isFinite(v));
  const whole = history.incomplete == null;
  const parts = whole ? [] : [`A part of this time is missing here. ${history.incomplete}`];
  if (known.length === 0) return whole ? 'Nothing was heard in this time.' : parts.join(' ');
  parts.push(
    `${amount(Math.min(...known), history.quantity, history.unit)} to ${amount(Math.max(...known), history.quantity, history.unit)}.`,
  );
  const { above, below } = timeBeyond(history);
  // A wide bucket with one spike counts whole: then it is said that this is the most it can have been.
  const howLong = (ms: number): string =>
    history.bucketMs > 900_000 ? `at times, ${span(ms)} at most` : `for about ${span(ms)}`;
  if (above > 0) parts.push(`Above the band ${howLong(above)}.`);
  if (below > 0) parts.push(`Below the band ${howLong(below)}.`);
  if (history.band !== null && above === 0 && below === 0 && whole) parts.push('Never out of its band.');
  const gaps = columnsOf(history).gaps;
  const longest = [...gaps].sort((a, b) => b.to - b.from - (a.to - a.from))[0];
  if (longest !== undefined) {
    const which = gaps.length === 1 ? 'One gap' : `${gaps.length} gaps, the longest`;
    parts.push(
      `${which} ${span(longest.to - longest.from)} from ${dayAndClock(longest.from, zone)} (${longest.probe}).`,
    );
  }
  return parts.join(' ');
}

/** At most about `rows` rows over all probes, newest first, each with its extremes: nothing is averaged away. */
export function tableOf(history: History, rows: number): TableRow[] {
  const from = Date.parse(history.from);
  const length = Math.max(history.bucketMs, (Date.parse(history.to) - from) / rows);
  const at = new Map<number, TableRow & { sum: number; weight: number }>();
  for (const series of history.series) {
    for (const [i, ms] of series.startMs.entries()) {
      const [min, mean, max, count] = [series.min[i], series.mean[i], series.max[i], series.count[i] ?? 0];
      if (min === undefined || mean === undefined || max === undefined || count === 0) continue;
      const slot = Math.floor((ms - from) / length);
      const row = at.get(slot);
      if (row === undefined) {
        const start = from + slot * length;
        at.set(slot, { from: start, to: start + length, min, mean, max, sum: mean * count, weight: count });
        continue;
      }
      row.min = Math.min(row.min, min);
      row.max = Math.max(row.max, max);
      row.sum += mean * count;
      row.weight += count;
      row.mean = row.sum / row.weight;
    }
  }
  return [...at.entries()]
    .sort((a, b) => b[0] - a[0])
    .map(([, r]) => ({ from: r.from, to: r.to, min: r.min, mean: r.mean, max: r.max }));
}

export function rowTime(row: TableRow, zone: string): string {
  if (row.to - row.from > 36 * 3_600_000) return `${day(row.from, zone)} to ${day(row.to, zone)}`;
  if (row.to - row.from > 6 * 3_600_000) return `${dayAndClock(row.from, zone)} to ${clock(row.to, zone)}`;
  return `${weekday(row.from, zone)} ${clock(row.from, zone)} to ${clock(row.to, zone)}`;
}

/** Only what lies in view, so that words and table speak of the same time as the picture. */
export function clipped(history: History, view: View): History {
  return {
    ...history,
    from: new Date(view.from).toISOString(),
    to: new Date(view.to).toISOString(),
    series: history.series.flatMap((s) => {
      const kept = s.startMs.flatMap((ms, i) =>
        ms + history.bucketMs > view.from && ms < view.to ? [i] : [],
      );
      const pick = (column: readonly number[]): number[] => kept.map((i) => column[i] ?? Number.NaN);
      const part = {
        probe: s.probe,
        where: s.where,
        startMs: pick(s.startMs),
        min: pick(s.min),
        mean: pick(s.mean),
        max: pick(s.max),
        count: pick(s.count),
      };
      if (s.gaps === undefined) return [part];
      const gaps = s.gaps
        .filter(([from, to]) => to > view.from && from < view.to)
        .map(([from, to]): [number, number] => [Math.max(from, view.from), Math.min(to, view.to)]);
      return [{ ...part, gaps }];
    }),
  };
}

/** "Tue 24 Nov, 03:10 to Wed 25 Nov, 03:10". */
export function viewWords(view: View, zone: string): string {
  const same = day(view.from, zone) === day(view.to, zone) && view.to - view.from < 86_400_000;
  if (view.to - view.from > 14 * 86_400_000) {
    return `${day(view.from, zone)} to ${day(view.to, zone)}, ${span(view.to - view.from)}`;
  }
  return `${dayAndClock(view.from, zone)} to ${same ? clock(view.to, zone) : dayAndClock(view.to, zone)}`;
}

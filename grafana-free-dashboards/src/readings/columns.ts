import type { History } from '../http/shapes.ts';

/** What a chart draws of one probe; all arrays are as long as the x of the chart. */
export interface ProbeColumns {
  probe: string;
  where: string | null;
  /** A number, null where the line breaks, undefined where this probe merely has no point of its own. */
  min: (number | null | undefined)[];
  mean: (number | null | undefined)[];
  max: (number | null | undefined)[];
  /** Gaps as the service tells them; also those that lie within one bucket. */
  gaps: [number, number][];
}

export interface Columns {
  /** Seconds since 1970, strictly ascending. */
  x: number[];
  probes: ProbeColumns[];
  gaps: { probe: string; from: number; to: number }[];
}

/** A stretch longer than this many times the usual distance, or the bucket where that is longer, is a gap. */
const GAP_FACTOR = 2.5;

interface Point {
  ms: number;
  min: number;
  mean: number;
  max: number;
}

/**
 * Turns what the service sent into what the chart needs: one common time column, sorted and without doubles, with the
 * line broken in the middle of every gap, so that a gap looks like a gap.
 */
export function columnsOf(history: History): Columns {
  const probes = history.series.map((series) => ({ series, points: pointsOf(series) }));
  const times = new Set<number>();
  const gaps: Columns['gaps'] = [];
  const breaks = probes.map(({ series, points }) => {
    const own = new Set<number>();
    const told = series.gaps;
    const gapMs = Math.max(history.bucketMs, usualDistance(points)) * GAP_FACTOR;
    let at = 0;
    for (const [i, point] of points.entries()) {
      times.add(point.ms);
      const next = points[i + 1];
      if (next === undefined) break;
      if (told === undefined ? next.ms - point.ms <= gapMs : next.ms - point.ms <= history.bucketMs) continue;
      // What the service calls a gap is one, whatever the distance; what it does not call one is a slow probe.
      while (told !== undefined && at < told.length && (told[at]?.[1] ?? 0) <= point.ms) at++;
      if (told !== undefined && (told[at]?.[0] ?? Number.POSITIVE_INFINITY) >= next.ms) continue;
      const middle = Math.round((point.ms + next.ms) / 2);
      own.add(middle);
      times.add(middle);
      if (told === undefined)
        gaps.push({ probe: series.probe, from: point.ms + history.bucketMs, to: next.ms });
    }
    for (const [from, to] of told ?? []) gaps.push({ probe: series.probe, from, to });
    return own;
  });
  const all = [...times].sort((a, b) => a - b);
  return {
    x: all.map((ms) => ms / 1000),
    probes: probes.map(({ series, points }, i) => {
      const at = new Map(points.map((p) => [p.ms, p]));
      const pick = (part: 'min' | 'mean' | 'max') =>
        all.map((ms) => at.get(ms)?.[part] ?? (breaks[i]?.has(ms) === true ? null : undefined));
      return {
        probe: series.probe,
        where: series.where,
        min: pick('min'),
        mean: pick('mean'),
        max: pick('max'),
        gaps: series.gaps ?? [],
      };
    }),
    gaps,
  };
}

/** The median distance: a probe that speaks every five minutes has no gap between two of its readings. */
function usualDistance(points: readonly Point[]): number {
  const distances = points.slice(1).map((p, i) => p.ms - (points[i]?.ms ?? p.ms));
  return distances.sort((a, b) => a - b)[Math.floor(distances.length / 2)] ?? 0;
}

function pointsOf(series: History['series'][number]): Point[] {
  const at = new Map<number, Point>();
  for (const [i, ms] of series.startMs.entries()) {
    const min = series.min[i];
    const mean = series.mean[i];
    const max = series.max[i];
    const numbers = [ms, min, mean, max];
    if ((series.count[i] ?? 0) === 0 || !numbers.every(Number.isFinite)) continue;
    // The later of two for the same time is the newer answer.
    at.set(ms, { ms, min: min as number, mean: mean as number, max: max as number });
  }
  return [...at.values()].sort((a, b) => a.ms - b.ms);
}

import type { BandLimits } from '../http/shapes.ts';

/** Where everything of one cabinet's thermometer lies, in pixels from the top of a scale of the given height. */
export interface Thermometer {
  /** The light stretch: the band. Null when there is no band. */
  band: { top: number; bottom: number } | null;
  /** The limits that are drawn with their figure. */
  limits: { y: number; value: number }[];
  pointer: { y: number; shape: 'level' | 'up' | 'down'; beyondScale: boolean } | null;
  /** Runs of points without a gap; x from 0 (an hour ago) to 1 (now). */
  trail: { x: number; y: number }[][];
}

export interface Range {
  low: number;
  high: number;
}

const HOUR_SECONDS = 3600;
/** A stretch without values longer than this share of the usual distance is a gap, not a line. */
const GAP_FACTOR = 2.5;
const SHORTEST_GAP_SECONDS = 150;

/**
 * The scale is fixed by the band and does not follow the values: a scale that moves with the temperature would make
 * every temperature look the same. What lies beyond it is held at its end and said in words.
 */
export function scaleOf(band: BandLimits | null, quantity: string, values: number[]): Range {
  const low = band?.warningLow ?? null;
  const high = band?.warningHigh ?? null;
  if (low !== null && high !== null) {
    const width = high - low;
    return {
      low: Math.min(band?.dangerLow ?? low, low) - width * 0.35,
      high: Math.max(band?.dangerHigh ?? high, high) + width * 0.35,
    };
  }
  const ceiling = quantity === 'humidity' ? 100 : null;
  if (low !== null) return { low: (band?.dangerLow ?? low) - 8, high: ceiling ?? low + 8 };
  if (high !== null) {
    return {
      low: quantity === 'humidity' ? Math.min(40, high - 8) : high - 8,
      high: (band?.dangerHigh ?? high) + 8,
    };
  }
  const known = values.filter(Number.isFinite);
  if (known.length === 0) return { low: 0, high: 1 };
  return { low: Math.min(...known) - 2, high: Math.max(...known) + 2 };
}

export function thermometer(
  band: BandLimits | null,
  quantity: string,
  value: number | null,
  lastHour: readonly (readonly [number, number])[],
  height: number,
): Thermometer {
  const values = lastHour.map(([, v]) => v);
  const scale = scaleOf(band, quantity, value === null ? values : [...values, value]);
  const y = (v: number): number => {
    const share = (v - scale.low) / (scale.high - scale.low);
    return round(height * (1 - Math.min(1, Math.max(0, share))));
  };
  const low = band?.warningLow ?? null;
  const high = band?.warningHigh ?? null;
  return {
    band: low === null && high === null ? null : { top: y(high ?? scale.high), bottom: y(low ?? scale.low) },
    limits: [high, low].filter((v) => v !== null).map((v) => ({ y: y(v), value: v })),
    pointer:
      value === null
        ? null
        : {
            y: y(value),
            shape: high !== null && value > high ? 'up' : low !== null && value < low ? 'down' : 'level',
            beyondScale: value > scale.high || value < scale.low,
          },
    trail: runs(lastHour).map((run) =>
      run.map(([ago, v]) => ({ x: round(1 - ago / HOUR_SECONDS, 4), y: y(v) })),
    ),
  };
}

/** The last hour, oldest first, split where values are missing. */
export function runs(lastHour: readonly (readonly [number, number])[]): [number, number][][] {
  const points = lastHour
    .filter(([ago, v]) => Number.isFinite(v) && ago >= 0 && ago <= HOUR_SECONDS)
    .map(([ago, v]): [number, number] => [ago, v])
    .sort((a, b) => b[0] - a[0]);
  const steps = points.slice(1).map((p, i) => (points[i]?.[0] ?? p[0]) - p[0]);
  const usual = [...steps].sort((a, b) => a - b)[Math.floor(steps.length / 2)] ?? 0;
  const gap = Math.max(SHORTEST_GAP_SECONDS, usual * GAP_FACTOR);
  const out: [number, number][][] = [];
  let previous: number | null = null;
  for (const point of points) {
    if (previous === null || previous - point[0] > gap) out.push([]);
    out.at(-1)?.push(point);
    previous = point[0];
  }
  return out;
}

export function pathOf(run: readonly { x: number; y: number }[], width: number): string {
  return run.map((p, i) => `${i === 0 ? 'M' : 'L'}${round(p.x * width)} ${p.y}`).join('');
}

function round(value: number, places = 1): number {
  const factor = 10 ** places;
  return Math.round(value * factor) / factor;
}

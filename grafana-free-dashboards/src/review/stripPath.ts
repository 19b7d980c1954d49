import type { BandLimits } from '../http/shapes.ts';
import type { Strip } from './shapes.ts';

export interface StripDrawing {
  width: number;
  height: number;
  /** One closed ribbon for every run of readings without a gap. */
  ribbons: string[];
  low: number | null;
  high: number | null;
  x: (ms: number) => number;
  y: (value: number) => number;
  from: number;
  to: number;
}

const MARGIN = 0.4;

/** Draws a piece of the strip: min to max as a ribbon, broken where nothing was measured, the band as two lines. */
export function drawStrip(
  strip: Strip,
  from: number,
  to: number,
  width: number,
  height: number,
): StripDrawing {
  const seen: { at: number; min: number; max: number }[] = [];
  strip.startMs.forEach((start, i) => {
    const min = strip.min[i] ?? null;
    const max = strip.max[i] ?? null;
    if (min === null || max === null || start + strip.bucketMs <= from || start >= to) return;
    seen.push({ at: start + strip.bucketMs / 2, min, max });
  });
  const limits = limitsOf(strip.band);
  const all = [...seen.flatMap((p) => [p.min, p.max]), ...limits];
  const least = all.length === 0 ? 0 : Math.min(...all) - MARGIN;
  const most = all.length === 0 ? 1 : Math.max(...all) + MARGIN;
  const x = (ms: number): number => round(((clamp(ms, from, to) - from) / Math.max(1, to - from)) * width);
  const y = (value: number): number => round(height - ((value - least) / (most - least)) * height);
  const runs: (typeof seen)[] = [];
  for (const point of seen) {
    const run = runs.at(-1);
    const before = run?.at(-1);
    if (run === undefined || before === undefined || point.at - before.at > strip.bucketMs * 1.5)
      runs.push([point]);
    else run.push(point);
  }
  return {
    width,
    height,
    ribbons: runs.map((run) => ribbon(run, strip.bucketMs, x, y)),
    low: strip.band?.warningLow ?? null,
    high: strip.band?.warningHigh ?? null,
    x,
    y,
    from,
    to,
  };
}

/** A ribbon is never thinner than a line, or a steady stretch would not be seen. */
function ribbon(
  run: readonly { at: number; min: number; max: number }[],
  bucketMs: number,
  x: (ms: number) => number,
  y: (value: number) => number,
): string {
  const [first] = run;
  const last = run.at(-1);
  if (first === undefined || last === undefined) return '';
  const points = [{ ...first, at: first.at - bucketMs / 2 }, ...run, { ...last, at: last.at + bucketMs / 2 }];
  const top = points.map((p) => `${x(p.at)} ${round(y(p.max) - 0.6)}`);
  const bottom = points.reverse().map((p) => `${x(p.at)} ${round(y(p.min) + 0.6)}`);
  return `M${top.join('L')}L${bottom.join('L')}Z`;
}

const limitsOf = (band: BandLimits | null): number[] =>
  [band?.warningLow, band?.warningHigh].filter((v): v is number => typeof v === 'number');

const clamp = (v: number, least: number, most: number): number => Math.min(most, Math.max(least, v));
const round = (v: number): number => Math.round(v * 100) / 100;

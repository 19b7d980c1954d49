// The geometry of the life strip: one clutch from lay date to pip on one line. Pure; lengths in CSS pixels.
import type { Excursion, Strip } from '../http/clutchShapes.ts';
import { type Label, placed } from './labels.ts';

export interface StripLayout {
  width: number;
  height: number;
  left: number;
  right: number;
  /** Rows, from the top: today's label, the ribbon between two heights, candlings, the bar, words under it. */
  ribbonTop: number;
  ribbonBottom: number;
  candlingY: number;
  hillTop: number;
  barY: number;
  wordsY: number;
}

export const BAR_HEIGHT = 7;
/** Width of a digit or letter of the strip's 12 px words, at its widest (measured with the fonts of the page). */
export const LETTER = 7.4;

export function layoutOf(width: number): StripLayout {
  const wide = width >= 640;
  const ribbonTop = 44;
  const ribbonBottom = ribbonTop + (wide ? 128 : 104);
  const candlingY = ribbonBottom + 38;
  const barY = candlingY + 40;
  return {
    width,
    left: wide ? 64 : 42,
    right: width - 6,
    ribbonTop,
    ribbonBottom,
    candlingY,
    hillTop: candlingY - 8,
    barY,
    wordsY: barY + BAR_HEIGHT + 16,
    height: barY + BAR_HEIGHT + 24,
  };
}

export interface Scales {
  x: (ms: number) => number;
  y: (celsius: number) => number;
  from: number;
  to: number;
}

export function scalesOf(strip: Strip, layout: StripLayout): Scales {
  const from = Date.parse(strip.from);
  const lastWeight = strip.pip?.density.at(-1)?.[0] ?? 0;
  const late = strip.pip?.p90 == null ? 0 : Date.parse(strip.pip.p90) + 2 * 86_400_000;
  // A finished clutch ends where it ended, however long ago that was.
  const here = strip.pip === null ? 0 : Date.parse(strip.now);
  const to = Math.max(Date.parse(strip.to), here, lastWeight, late, from + 86_400_000);
  const known = [
    ...strip.min,
    ...strip.max,
    strip.band?.warningLow ?? null,
    strip.band?.warningHigh ?? null,
    ...heldLimits(strip).map((h) => h.limit),
  ].filter((v): v is number => v !== null && Number.isFinite(v));
  const low = Math.min(...known, 31) - 0.4;
  const high = Math.max(...known, 32) + 0.4;
  const across = layout.right - layout.left;
  const down = layout.ribbonBottom - layout.ribbonTop;
  return {
    from,
    to,
    x: (ms) => layout.left + (Math.min(Math.max(ms, from), to) - from) * (across / (to - from)),
    y: (celsius) => layout.ribbonBottom - (celsius - low) * (down / (high - low)),
  };
}

/** The limits as they held, for a clutch that was moved or whose band was changed. */
export function heldLimits(strip: Strip): { key: string; from: number; to: number; limit: number }[] {
  return (strip.bands ?? []).flatMap((b) =>
    [b.low, b.high]
      .filter((limit) => limit !== null)
      .map((limit) => ({ key: `${b.from} ${limit}`, from: Date.parse(b.from), to: Date.parse(b.to), limit })),
  );
}

export interface RibbonPart {
  points: { x: number; top: number; bottom: number }[];
}

/** The ribbon in parts, broken where nothing was heard: a gap is never drawn over. Thinned to a column of 1 px. */
export function ribbonOf(strip: Strip, scales: Scales): RibbonPart[] {
  const gaps = strip.gaps.map((g) => [Date.parse(g.from), Date.parse(g.to)] as const);
  const parts: RibbonPart[] = [];
  let part: RibbonPart | null = null;
  let lastEnd = Number.NEGATIVE_INFINITY;
  strip.startMs.forEach((start, i) => {
    const [min, max] = [strip.min[i], strip.max[i]];
    const middle = start + strip.bucketMs / 2;
    const missing = typeof min !== 'number' || typeof max !== 'number';
    if (missing || gaps.some(([from, to]) => middle > from && middle < to)) {
      part = null;
      return;
    }
    if (part === null || start - lastEnd > strip.bucketMs * 1.5) {
      part = { points: [] };
      parts.push(part);
    }
    lastEnd = start + strip.bucketMs;
    const point = { x: scales.x(middle), top: scales.y(max), bottom: scales.y(min) };
    const before = part.points.at(-1);
    if (before !== undefined && point.x - before.x < 1) {
      before.top = Math.min(before.top, point.top);
      before.bottom = Math.max(before.bottom, point.bottom);
    } else part.points.push(point);
  });
  return parts;
}

const f = (n: number): string => String(Math.round(n * 10) / 10);

/** A ribbon is at least 2 px thick, so that a very even temperature is still seen, and a lone bucket 3 px wide. */
export function ribbonPath(part: RibbonPart): string {
  const thick = part.points.map(({ x, top, bottom }) => {
    const more = Math.max(0, 2 - (bottom - top)) / 2;
    return { x, top: top - more, bottom: bottom + more };
  });
  const only = thick[0];
  if (only === undefined) return '';
  if (thick.length === 1) {
    return `M${f(only.x - 1.5)} ${f(only.top)}h3V${f(only.bottom)}h-3Z`;
  }
  const up = thick.map((p) => `${f(p.x)} ${f(p.top)}`);
  const back = [...thick].reverse().map((p) => `${f(p.x)} ${f(p.bottom)}`);
  return `M${up.join('L')}L${back.join('L')}Z`;
}

export interface DrawnExcursion {
  excursion: Excursion;
  from: number;
  to: number;
  peakY: number;
}

export function excursionsOf(strip: Strip, scales: Scales): DrawnExcursion[] {
  return strip.excursions.map((excursion) => ({
    excursion,
    from: scales.x(Date.parse(excursion.from)) - 1,
    to: Math.max(scales.x(Date.parse(excursion.to)), scales.x(Date.parse(excursion.from)) + 2) + 1,
    peakY: scales.y(excursion.peak),
  }));
}

/** Labels of what left the band: the gravest first, none cut at an edge, none over another; the rest is in the words below. */
export function excursionLabels(
  drawn: readonly DrawnExcursion[],
  layout: StripLayout,
  words: (excursion: Excursion) => string,
): Label[] {
  const gravest = [...drawn].sort((a, b) => b.excursion.degreeHours - a.excursion.degreeHours);
  const wanted = gravest.map(({ excursion, from, to, peakY }) => {
    const above = excursion.side === 'above';
    const text = words(excursion);
    return {
      text,
      x: (from + to) / 2,
      y: above ? Math.max(layout.ribbonTop - 8, peakY - 8) : Math.min(layout.ribbonBottom + 14, peakY + 16),
      width: text.length * LETTER,
      kind: excursion.side,
    };
  });
  return placed(wanted, 0, layout.width);
}

export interface Hill {
  bars: { x: number; width: number; y: number; height: number }[];
  from: number;
  to: number;
}

/** The pip window as a small hill of bars that stands on the bar of the stage. */
export function hillOf(strip: Strip, scales: Scales, layout: StripLayout): Hill | null {
  const density = strip.pip?.density ?? [];
  const top = Math.max(...density.map(([, weight]) => weight), 0);
  const first = density[0];
  const last = density.at(-1);
  if (top <= 0 || first === undefined || last === undefined) return null;
  const columns = Math.min(
    density.length,
    Math.max(4, Math.floor((scales.x(last[0]) - scales.x(first[0])) / 4)),
  );
  const high = layout.barY - layout.hillTop;
  const bars: Hill['bars'] = [];
  const across = Math.max(8, scales.x(last[0]) - scales.x(first[0]));
  for (let i = 0; i < columns; i++) {
    const slice = density.slice(
      Math.floor((i * density.length) / columns),
      Math.max(
        Math.floor(((i + 1) * density.length) / columns),
        Math.floor((i * density.length) / columns) + 1,
      ),
    );
    const weight = Math.max(...slice.map(([, w]) => w)) / top;
    const height = Math.max(weight > 0 ? 1 : 0, weight * high);
    const step = across / columns;
    bars.push({
      x: Math.min(scales.x(first[0]), layout.right - across) + i * step,
      width: Math.max(1, step - 1.2),
      y: layout.barY - height,
      height,
    });
  }
  return { bars, from: bars[0]?.x ?? 0, to: (bars.at(-1)?.x ?? 0) + (bars.at(-1)?.width ?? 0) };
}

/** When a share of the way was or will be reached, between the known points; null beyond them. */
export function momentOfShare(stage: readonly [number, number][], share: number): number | null {
  for (let i = 1; i < stage.length; i++) {
    const [before, here] = [stage[i - 1], stage[i]];
    if (before === undefined || here === undefined || here[1] < share || before[1] > share) continue;
    if (here[1] === before[1]) return here[0];
    return before[0] + ((share - before[1]) / (here[1] - before[1])) * (here[0] - before[0]);
  }
  return null;
}

export interface DrawnCandling {
  x: number;
  /** Colours seen, the commonest first, at most three. */
  colours: (string | null)[];
  n: number;
}

/** Candlings as little eggs; looks closer together than an egg is wide become one. */
export function candlingsOf(strip: Strip, scales: Scales): DrawnCandling[] {
  const drawn: (DrawnCandling & { counts: Map<string | null, number> })[] = [];
  for (const look of strip.candlings) {
    const x = scales.x(Date.parse(look.at));
    const last = drawn.at(-1);
    const into = last !== undefined && x - last.x < 13 ? last : { x, colours: [], n: 0, counts: new Map() };
    if (into !== last) drawn.push(into);
    for (const { colour, n } of look.tints) {
      into.counts.set(colour, (into.counts.get(colour) ?? 0) + n);
      into.n += n;
    }
  }
  return drawn.map(({ x, n, counts }) => ({
    x,
    n,
    colours: [...counts]
      .sort((a, b) => b[1] - a[1])
      .slice(0, 3)
      .map(([colour]) => colour),
  }));
}

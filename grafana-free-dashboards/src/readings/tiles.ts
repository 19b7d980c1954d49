import type { History, HistorySeries } from '../http/shapes.ts';
import type { View } from './view.ts';

// The past is fetched in tiles, as maps are: each level has buckets of one width, and every tile of it begins at a
// multiple of its length. So a tile that is over never changes its address, and moving about asks only for what is new.

const SECOND = 1_000;
const MINUTE = 60_000;
const HOUR = 3_600_000;

export const LEVELS_MS = [
  ...[10, 20, 30].map((s) => s * SECOND),
  ...[1, 2, 5, 10, 15, 30].map((m) => m * MINUTE),
  ...[1, 2, 4, 8, 12, 24].map((h) => h * HOUR),
] as const;

export const TILE_BUCKETS = 480;

export interface Tile {
  bucketMs: number;
  from: number;
  to: number;
}

/** The widest buckets that are still about as many as the pixels. */
export function levelFor(spanMs: number, pixels: number): number {
  let level = 10 * SECOND;
  for (const bucketMs of LEVELS_MS) if (spanMs / bucketMs >= pixels * 0.8) level = bucketMs;
  return level;
}

export function tilesOf(view: View, bucketMs: number): Tile[] {
  const length = bucketMs * TILE_BUCKETS;
  const tiles: Tile[] = [];
  for (let from = Math.floor(view.from / length) * length; from < view.to; from += length) {
    tiles.push({ bucketMs, from, to: from + length });
  }
  return tiles;
}

/** What is wanted, first things first: what is in view, what lies beside it, and the same view from farther away. */
export function wanted(view: View, bucketMs: number, now: number): Tile[] {
  const inView = tilesOf(view, bucketMs);
  const length = bucketMs * TILE_BUCKETS;
  const first = inView[0];
  const last = inView.at(-1);
  const beside: Tile[] = [];
  if (first !== undefined) beside.push({ bucketMs, from: first.from - length, to: first.from });
  if (last !== undefined && last.to < now) beside.push({ bucketMs, from: last.to, to: last.to + length });
  const farther = LEVELS_MS[Math.min(LEVELS_MS.length - 1, LEVELS_MS.indexOf(bucketMs as 10_000) + 2)];
  const middle = { from: view.from - (view.to - view.from), to: Math.min(now, view.to) };
  const above = farther === undefined || farther === bucketMs ? [] : tilesOf(middle, farther);
  return [...inView, ...beside, ...above].filter((t) => t.from < now);
}

/** Tiles joined in time order: one series per probe and place, and gaps that go on over the edge of a tile as one. */
export function joined(tiles: readonly History[], view: View): History | null {
  const sorted = [...tiles].sort((a, b) => Date.parse(a.from) - Date.parse(b.from));
  const newest = sorted.at(-1);
  if (newest === undefined) return null;
  const series = new Map<string, HistorySeries>();
  for (const tile of sorted) {
    for (const part of tile.series) {
      const key = `${part.probe}\n${part.where ?? ''}`;
      let whole = series.get(key);
      if (whole === undefined) {
        whole = { ...part, startMs: [], min: [], mean: [], max: [], count: [], gaps: [] };
        series.set(key, whole);
      }
      append(whole, part);
    }
  }
  const short = sorted.find(
    (t) => t.incomplete != null && Date.parse(t.to) > view.from && Date.parse(t.from) < view.to,
  );
  return {
    ...newest,
    incomplete: short?.incomplete ?? null,
    from: new Date(view.from).toISOString(),
    to: new Date(view.to).toISOString(),
    series: [...series.values()],
  };
}

function append(whole: HistorySeries, part: HistorySeries): void {
  for (const column of ['startMs', 'min', 'mean', 'max', 'count'] as const) {
    const from = part[column];
    const to = whole[column];
    for (const value of from) to.push(value);
  }
  if (part.gaps === undefined) delete whole.gaps;
  for (const [from, to] of [...(part.gaps ?? [])].sort((a, b) => a[0] - b[0])) {
    const last = whole.gaps?.at(-1);
    if (last !== undefined && from <= last[1]) last[1] = Math.max(last[1], to);
    else whole.gaps?.push([from, to]);
  }
}

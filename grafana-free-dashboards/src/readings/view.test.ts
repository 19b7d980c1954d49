import { describe, expect, it } from 'vitest';
import type { History } from '../http/shapes.ts';
import { columnsOf } from './columns.ts';
import { joined, LEVELS_MS, levelFor, TILE_BUCKETS, tilesOf, wanted } from './tiles.ts';
import { type Held, keyed, LONGEST_MS, panned, SHORTEST_MS, viewOf, zoomed } from './view.ts';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const NOW = Date.parse('2026-11-25T02:12:00Z');
const day: Held = { span: DAY, end: null };

describe('the view of a chart', () => {
  it('goes along with the time until it is moved away, and again when it is moved back', () => {
    const back = panned(day, -0.5, NOW);
    expect(viewOf(back, NOW)).toEqual({ from: NOW - 1.5 * DAY, to: NOW - 0.5 * DAY });
    expect(viewOf(back, NOW + HOUR)).toEqual(viewOf(back, NOW));
    expect(panned(back, 0.7, NOW)).toEqual(day);
  });

  it('keeps what is under the fingers where it is while it comes closer', () => {
    const old = { span: DAY, end: NOW - 10 * DAY };
    for (const share of [0, 0.3, 0.5, 1]) {
      const before = viewOf(old, NOW).from + share * DAY;
      const closer = zoomed(old, 0.25, share, NOW);
      expect(viewOf(closer, NOW).from + share * closer.span).toBeCloseTo(before, -1);
    }
  });

  it('never becomes narrower or wider than there is something to see', () => {
    expect(zoomed(day, 1e-9, 0.5, NOW).span).toBe(SHORTEST_MS);
    expect(zoomed(day, 1e9, 0.5, NOW).span).toBe(LONGEST_MS);
  });

  it('walks, moves and zooms by keys', () => {
    expect(keyed('ArrowLeft', false, day, null, HOUR, NOW)).toEqual({ held: day, mark: NOW - HOUR });
    expect(keyed('ArrowRight', false, day, NOW, HOUR, NOW)).toEqual({ held: day, mark: NOW });
    expect(keyed('ArrowLeft', true, day, null, HOUR, NOW)?.held.end).toBe(NOW - DAY / 2);
    expect(keyed('+', false, day, null, HOUR, NOW)?.held).toEqual({ span: DAY / 2, end: null });
    expect(keyed('-', false, day, null, HOUR, NOW)?.held).toEqual({ span: 2 * DAY, end: null });
    const home = keyed('Home', false, day, null, HOUR, NOW);
    expect(home).toEqual({ held: day, mark: NOW - DAY });
    expect(keyed('Home', false, day, NOW - DAY, HOUR, NOW)?.held.end).toBe(NOW - DAY);
    expect(keyed('End', false, { span: HOUR, end: 1 }, 1, HOUR, NOW)).toEqual({
      held: { span: HOUR, end: null },
      mark: NOW,
    });
    expect(keyed('a', false, day, null, HOUR, NOW)).toBeNull();
  });

  it('takes the mark along when it walks over the edge', () => {
    const past = { span: DAY, end: NOW - 5 * DAY };
    const next = keyed('ArrowLeft', false, past, NOW - 6 * DAY, HOUR, NOW);
    const { from, to } = viewOf(next?.held ?? past, NOW);
    expect(next?.mark).toBe(NOW - 6 * DAY - HOUR);
    expect(from <= NOW - 6 * DAY - HOUR && to > NOW - 6 * DAY - HOUR).toBe(true);
  });
});

describe('tiles of the past', () => {
  it('have about as many buckets as there are pixels, over every span', () => {
    for (const pixels of [300, 700, 1300]) {
      for (const span of [6 * HOUR, DAY, 7 * DAY, 30 * DAY, 90 * DAY]) {
        const buckets = span / levelFor(span, pixels);
        expect(buckets).toBeGreaterThanOrEqual(pixels * 0.8);
        expect(buckets).toBeLessThanOrEqual(pixels * 2.5);
      }
    }
  });

  it('cover the view, stand on one grid, and keep their address while one moves', () => {
    for (const bucketMs of LEVELS_MS) {
      const view = { from: NOW - bucketMs * 700, to: NOW };
      const tiles = tilesOf(view, bucketMs);
      expect(tiles[0]?.from).toBeLessThanOrEqual(view.from);
      expect(tiles.at(-1)?.to).toBeGreaterThanOrEqual(view.to);
      for (const t of tiles) expect(t.from % (bucketMs * TILE_BUCKETS)).toBe(0);
    }
  });

  it('are asked for in view first, then beside it, and never for a time to come', () => {
    const view = { from: NOW - 4 * DAY, to: NOW - 3 * DAY };
    const level = levelFor(DAY, 330);
    const all = wanted(view, level, NOW);
    const inView = tilesOf(view, level).length;
    expect(all.slice(0, inView)).toEqual(tilesOf(view, level));
    expect(all.length).toBeGreaterThan(inView + 1);
    for (const t of all) expect(t.from).toBeLessThan(NOW);
  });

  it('are joined with a gap that goes over their edge as one', () => {
    const tile = (from: number, startMs: number[], gaps: [number, number][]): History => ({
      quantity: 'temperature',
      unit: 'Cel',
      from: new Date(from).toISOString(),
      to: new Date(from + 600_000).toISOString(),
      bucketMs: 60_000,
      band: null,
      series: [
        {
          probe: 'p',
          where: 'upper shelf',
          startMs,
          min: startMs.map(() => 31),
          mean: startMs.map(() => 31.2),
          max: startMs.map(() => 31.4),
          count: startMs.map(() => 6),
          gaps,
        },
      ],
    });
    const tiles = [
      tile(600_000, [900_000], [[600_000, 900_000]]),
      tile(0, [0, 60_000], [[120_000, 600_000]]),
    ];
    const whole = joined(tiles, { from: 0, to: 1_200_000 });
    expect(whole?.series[0]?.startMs).toEqual([0, 60_000, 900_000]);
    expect(whole?.series[0]?.gaps).toEqual([[120_000, 900_000]]);
    expect(whole?.incomplete).toBeNull();
    const early = { from: 0, to: 600_000 };
    const [late, soon] = tiles as [History, History];
    expect(joined([{ ...late, incomplete: 'away' }, soon], early)?.incomplete).toBeNull();
    expect(joined([late, { ...soon, incomplete: 'away' }], early)?.incomplete).toBe('away');
    const columns = columnsOf(whole as History);
    expect(columns.probes[0]?.mean).toEqual([31.2, 31.2, null, 31.2]);
    // Without a gap told, a slow probe's line goes on.
    const slow = {
      ...(whole as History),
      series: [{ ...(whole as History).series[0], gaps: [] }],
    } as History;
    expect(columnsOf(slow).probes[0]?.mean).toEqual([31.2, 31.2, 31.2]);
  });
});

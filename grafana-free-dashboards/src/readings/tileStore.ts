import { signal } from '@preact/signals';
import { getKept, wordsOf } from '../http/api.ts';
import type { History } from '../http/shapes.ts';
import { joined, LEVELS_MS, levelFor, type Tile, tilesOf, wanted } from './tiles.ts';
import type { View } from './view.ts';

/** As many requests at once as leave room for the rest of the page. */
const AT_ONCE = 2;
/** Tiles kept in memory; a tile is some tens of kilobytes. */
const KEPT = 80;
const RETRY_MS = 5_000;
/** How soon the tile that holds the present is asked for again when something new was heard. */
const FRESH_MS = 10_000;

interface Kept {
  history: History;
  askedAt: number;
  /** Whether it can't change any more: one that is not whole is asked for again. */
  over: boolean;
}

export interface Picture {
  history: History;
  /** Tiles in view that have not come yet: drawn as not yet fetched, never as a gap. */
  missing: Tile[];
}

/** Fetches the tiles of one incubator and one quantity, and keeps the last picture until the next is there. */
export class TileStore {
  /** Raised when something arrived or failed. */
  readonly changed = signal(0);
  readonly trouble = signal<string | null>(null);
  private readonly kept = new Map<string, Kept>();
  private readonly asked = new Set<string>();
  private failedAt = Number.NEGATIVE_INFINITY;
  private queue: Tile[] = [];
  private closed = false;

  constructor(
    private readonly incubator: string,
    private readonly quantity: string,
  ) {}

  /** Says what is looked at. Debouncing is the caller's; asking twice costs nothing. */
  want(view: View, pixels: number, now: number): void {
    const all = wanted(view, levelFor(view.to - view.from, pixels), now);
    this.queue = all.filter((tile) => this.isDue(tile, now));
    this.pump(now);
  }

  /** The best picture there is: of the right level if all of it came, else of the next one that covers the view. */
  picture(view: View, pixels: number): Picture | null {
    const level = levelFor(view.to - view.from, pixels);
    const near = LEVELS_MS.indexOf(level as 10_000);
    const order = [level, ...LEVELS_MS.slice(near + 1), ...LEVELS_MS.slice(0, near).reverse()];
    let partial: Picture | null = null;
    for (const bucketMs of order) {
      const tiles = tilesOf(view, bucketMs);
      if (tiles.length > 24) continue;
      const missing = tiles.filter((t) => !this.kept.has(key(t)));
      if (missing.length === tiles.length) continue;
      if (missing.length > 0 && partial !== null) continue;
      const beside = { from: view.from - bucketMs * 480, to: view.to + bucketMs * 480 };
      const have = tilesOf(beside, bucketMs).flatMap((t) => this.kept.get(key(t))?.history ?? []);
      const history = joined(have, view);
      if (history === null) continue;
      if (missing.length === 0) return { history, missing };
      partial = { history, missing };
    }
    return partial;
  }

  close(): void {
    this.closed = true;
    this.queue = [];
  }

  private isDue(tile: Tile, now: number): boolean {
    if (this.asked.has(key(tile))) return false;
    const kept = this.kept.get(key(tile));
    return kept === undefined || (!kept.over && now - kept.askedAt >= FRESH_MS);
  }

  private pump(now: number): void {
    if (this.closed || Date.now() - this.failedAt < RETRY_MS) return;
    while (this.asked.size < AT_ONCE) {
      const tile = this.queue.shift();
      if (tile === undefined) return;
      void this.fetch(tile, now);
    }
  }

  private async fetch(tile: Tile, now: number): Promise<void> {
    const name = key(tile);
    this.asked.add(name);
    const query = new URLSearchParams({
      quantity: this.quantity,
      from: new Date(tile.from).toISOString(),
      to: new Date(tile.to).toISOString(),
      buckets: String(Math.round((tile.to - tile.from) / tile.bucketMs)),
    });
    const path = `/api/incubators/${encodeURIComponent(this.incubator)}/history?${query}`;
    try {
      const history = await getKept<History>(path);
      this.kept.delete(name);
      this.kept.set(name, { history, askedAt: now, over: tile.to <= now && history.incomplete == null });
      for (const oldest of this.kept.keys()) {
        if (this.kept.size <= KEPT) break;
        this.kept.delete(oldest);
      }
      this.trouble.value = null;
    } catch (cause) {
      this.failedAt = Date.now();
      this.trouble.value = wordsOf(cause);
    } finally {
      this.asked.delete(name);
      if (!this.closed) {
        this.changed.value++;
        this.pump(now);
      }
    }
  }
}

const key = (tile: Tile): string => `${tile.bucketMs} ${tile.from}`;

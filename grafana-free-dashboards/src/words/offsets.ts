// How far the clock of a zone is ahead of UTC. The browser only tells it by formatting a date, which is far too slow to
// ask for every mark of an axis over a season: so it is asked once per week, and the changes between are found by halving.

const MINUTE = 60_000;
const DAY = 86_400_000;
/** Shorter than any time between two changes of a zone in use. */
const BLOCK = 8 * DAY;

export interface Segment {
  from: number;
  to: number;
  /** Milliseconds to add to an instant to get what the wall clock shows. */
  offset: number;
}

const known = new Map<string, Map<number, { at: number; offset: number }[]>>();
const formats = new Map<string, Intl.DateTimeFormat>();

/** Stretches of one offset that cover the time asked for. */
export function segments(from: number, to: number, zone: string): Segment[] {
  const out: Segment[] = [];
  for (let block = Math.floor(from / BLOCK); block * BLOCK <= to; block++) {
    for (const piece of piecesOf(block, zone)) {
      const last = out.at(-1);
      if (last !== undefined && last.offset === piece.offset) continue;
      if (last !== undefined) last.to = piece.at;
      out.push({ from: piece.at, to: Number.POSITIVE_INFINITY, offset: piece.offset });
    }
  }
  return out.filter((s) => s.to > from && s.from <= to);
}

export function offsetAt(ms: number, zone: string): number {
  let offset = 0;
  for (const piece of piecesOf(Math.floor(ms / BLOCK), zone)) if (piece.at <= ms) offset = piece.offset;
  return offset;
}

function piecesOf(block: number, zone: string): { at: number; offset: number }[] {
  let blocks = known.get(zone);
  if (blocks === undefined) {
    blocks = new Map();
    known.set(zone, blocks);
  }
  let pieces = blocks.get(block);
  if (pieces === undefined) {
    pieces = find(block * BLOCK, (block + 1) * BLOCK, zone);
    blocks.set(block, pieces);
  }
  return pieces;
}

function find(from: number, to: number, zone: string): { at: number; offset: number }[] {
  const pieces = [{ at: from, offset: asked(from, zone) }];
  const end = asked(to, zone);
  for (let last = pieces[0]; last !== undefined && last.offset !== end; last = pieces.at(-1)) {
    let before = last.at;
    let after = to;
    while (after - before > MINUTE) {
      const middle = before + Math.floor((after - before) / 2 / MINUTE) * MINUTE;
      if (asked(middle, zone) === last.offset) before = middle;
      else after = middle;
    }
    pieces.push({ at: after, offset: asked(after, zone) });
  }
  return pieces;
}

function asked(ms: number, zone: string): number {
  const parts = formatOf(zone).formatToParts(ms);
  const part = (type: string): number => Number(parts.find((p) => p.type === type)?.value ?? 0);
  const wall = Date.UTC(part('year'), part('month') - 1, part('day'), part('hour'), part('minute'));
  return wall - Math.floor(ms / MINUTE) * MINUTE;
}

function formatOf(zone: string): Intl.DateTimeFormat {
  let made = formats.get(zone);
  if (made === undefined) {
    made = make(zone) ?? make('UTC') ?? new Intl.DateTimeFormat('en-GB');
    formats.set(zone, made);
  }
  return made;
}

function make(zone: string): Intl.DateTimeFormat | null {
  try {
    return new Intl.DateTimeFormat('en-GB', {
      timeZone: zone,
      year: 'numeric',
      month: '2-digit',
      day: '2-digit',
      hour: '2-digit',
      minute: '2-digit',
      hourCycle: 'h23',
    });
  } catch {
    return null;
  }
}

// The geometry of the egg plan: places are shares of the tub (0 to 1), sizes are shares of its width.

export interface Placed {
  number: number;
  x: number;
  y: number;
}

export interface EggSize {
  /** Half the width of an egg as a share of the tub's width. */
  rx: number;
  /** Half its length, in the same measure. */
  ry: number;
}

/** An egg is drawn this much longer than wide. */
const LENGTH = 1.24;
const LARGEST = 0.062;
const SMALLEST = 0.014;

/**
 * One size for all eggs of a clutch: as large as lets most neighbours lie beside each other as they were put (a tenth of the
 * eggs may lie closer: they are in a clump and may overlap a little), and never so small that a number is lost.
 */
export function eggSize(eggs: readonly Placed[], aspect: number): EggSize {
  const near = eggs.map((egg) => nearest(eggs, egg, aspect)).sort((a, b) => a - b);
  const close = near[Math.floor(near.length * 0.1)] ?? Number.POSITIVE_INFINITY;
  const byRoom = 0.46 * Math.sqrt(1 / aspect / Math.max(1, eggs.length));
  const rx = Math.min(LARGEST, Math.max(SMALLEST, Math.min(byRoom, Math.max(close / 2.15, byRoom * 0.62))));
  return { rx, ry: rx * LENGTH };
}

/** Distance to the closest other egg as an egg's width counts: lengthwise distances weigh less, since eggs are longer than wide. */
function nearest(eggs: readonly Placed[], egg: Placed, aspect: number): number {
  let best = Number.POSITIVE_INFINITY;
  for (const other of eggs) {
    if (other.number !== egg.number) best = Math.min(best, apart(egg, other, aspect));
  }
  return best;
}

function apart(a: Placed, b: Placed, aspect: number): number {
  return Math.hypot(a.x - b.x, (a.y - b.y) / aspect / LENGTH);
}

/** The egg meant by a tap: the closest one, if the tap is on it or not further than `reach` times its half width away. */
export function eggAt<T extends Placed>(
  eggs: readonly T[],
  x: number,
  y: number,
  aspect: number,
  size: EggSize,
  reach = 1.7,
): T | null {
  let best: T | null = null;
  let least = size.rx * reach;
  for (const egg of eggs) {
    const distance = apart(egg, { number: 0, x, y }, aspect);
    if (distance <= least) {
      least = distance;
      best = egg;
    }
  }
  return best;
}

/** Keeps an egg wholly inside the tub. */
export function inside(x: number, y: number, aspect: number, size: EggSize): { x: number; y: number } {
  const high = size.ry * aspect;
  return { x: within(x, size.rx), y: within(y, high) };
}

function within(share: number, margin: number): number {
  const edge = Math.min(0.5, margin);
  return Math.round(Math.min(1 - edge, Math.max(edge, share)) * 10_000) / 10_000;
}

/** The eggs that lie against each other, from one on: what would move together if they are stuck. */
export function clumpOf(eggs: readonly Placed[], number: number, aspect: number, size: EggSize): Set<number> {
  const clump = new Set<number>([number]);
  const open = [number];
  while (open.length > 0) {
    const reached = open.pop();
    const from = eggs.find((egg) => egg.number === reached);
    if (from === undefined) continue;
    for (const egg of eggs) {
      if (!clump.has(egg.number) && apart(from, egg, aspect) <= size.rx * 2.2) {
        clump.add(egg.number);
        open.push(egg.number);
      }
    }
  }
  return clump;
}

/** Moves some eggs together; all stop where the first of them meets the tub's side, so that a clump keeps its form. */
export function moved<T extends Placed>(
  eggs: readonly T[],
  which: ReadonlySet<number>,
  dx: number,
  dy: number,
  aspect: number,
  size: EggSize,
): T[] {
  const high = size.ry * aspect;
  let [right, down] = [dx, dy];
  for (const egg of eggs) {
    if (!which.has(egg.number)) continue;
    right = Math.min(Math.max(right, size.rx - egg.x), 1 - size.rx - egg.x);
    down = Math.min(Math.max(down, high - egg.y), 1 - high - egg.y);
  }
  return eggs.map((egg) =>
    which.has(egg.number) ? { ...egg, ...inside(egg.x + right, egg.y + down, aspect, size) } : egg,
  );
}

/** The outline of an egg lying on its side of length: an oval, a little fuller at one end. */
export function eggPath(cx: number, cy: number, rx: number, ry: number): string {
  const f = (n: number): string => String(Math.round(n * 100) / 100);
  const k = 0.56;
  return (
    `M${f(cx)} ${f(cy - ry)}` +
    `C${f(cx + rx * (k - 0.04))} ${f(cy - ry)} ${f(cx + rx)} ${f(cy - ry * (k - 0.08))} ${f(cx + rx)} ${f(cy + ry * 0.06)}` +
    `C${f(cx + rx)} ${f(cy + ry * (k + 0.04))} ${f(cx + rx * k)} ${f(cy + ry)} ${f(cx)} ${f(cy + ry)}` +
    `C${f(cx - rx * k)} ${f(cy + ry)} ${f(cx - rx)} ${f(cy + ry * (k + 0.04))} ${f(cx - rx)} ${f(cy + ry * 0.06)}` +
    `C${f(cx - rx)} ${f(cy - ry * (k - 0.08))} ${f(cx - rx * (k - 0.04))} ${f(cy - ry)} ${f(cx)} ${f(cy - ry)}Z`
  );
}

/** Eggs in the order a hand goes through them: by number. */
export function byNumber<T extends Placed>(eggs: readonly T[]): T[] {
  return [...eggs].sort((a, b) => a.number - b.number);
}

export interface Stuck extends Placed {
  clump: number | null;
}

/** An egg and those it is stuck to. */
export function stuckTo(eggs: readonly Stuck[], number: number): Set<number> {
  const clump = eggs.find((egg) => egg.number === number)?.clump ?? null;
  return new Set([
    number,
    ...(clump == null ? [] : eggs.filter((egg) => egg.clump === clump).map((egg) => egg.number)),
  ]);
}

/** What joins the eggs of each clump when it is drawn: every egg with the closest one that is joined already. */
export function bridges<T extends Stuck>(eggs: readonly T[]): [T, T][] {
  const pairs: [T, T][] = [];
  const clumps = new Set(eggs.map((egg) => egg.clump).filter((clump) => clump != null));
  for (const clump of clumps) {
    const [first, ...others] = byNumber(eggs.filter((egg) => egg.clump === clump));
    if (first === undefined) continue;
    const joined = [first];
    while (others.length > 0) {
      let best: [T, T] | null = null;
      for (const from of joined) {
        for (const to of others) {
          if (best === null || apart(from, to, 1) < apart(best[0], best[1], 1)) best = [from, to];
        }
      }
      if (best === null) break;
      pairs.push(best);
      joined.push(best[1]);
      others.splice(others.indexOf(best[1]), 1);
    }
  }
  return pairs;
}

/** Says that an egg is stuck to those it touches: they get one clump number, together with whatever those were stuck to. */
export function stick<T extends Stuck>(
  eggs: readonly T[],
  number: number,
  touching: ReadonlySet<number>,
): T[] {
  const all = new Set([...touching, number].flatMap((n) => [...stuckTo(eggs, n)]));
  const taken = new Set(eggs.filter((egg) => !all.has(egg.number)).map((egg) => egg.clump));
  let clump = 1;
  while (taken.has(clump)) clump++;
  return eggs.map((egg) => (all.has(egg.number) ? { ...egg, clump } : egg));
}

/** Says that an egg lies free; a clump of one is no clump. */
export function loosen<T extends Stuck>(eggs: readonly T[], number: number): T[] {
  const rest = [...stuckTo(eggs, number)].filter((n) => n !== number);
  const free = new Set(rest.length < 2 ? [number, ...rest] : [number]);
  return eggs.map((egg) => (free.has(egg.number) ? { ...egg, clump: null } : egg));
}

// Labels on a line: never cut at an edge, never one over another.

export interface Wish {
  text: string;
  /** Where its middle would be best. */
  x: number;
  y: number;
  width: number;
  kind: string;
}

export interface Label extends Wish {
  /** Where its middle is. */
  x: number;
}

const LINE = 14;

/** Places labels in the order given; one that finds no room within its row is left out. */
export function placed(wishes: readonly Wish[], left: number, right: number): Label[] {
  const labels: Label[] = [];
  for (const wish of wishes) {
    const x = within(wish.x, wish.width, left, right);
    if (x === null) continue;
    const free = labels.every(
      (other) =>
        Math.abs(other.y - wish.y) >= LINE || Math.abs(other.x - x) >= (other.width + wish.width) / 2 + 6,
    );
    if (free) labels.push({ ...wish, x });
  }
  return labels;
}

/** The middle nearest to the wished one at which a label of that width is not cut; null when there is no such place. */
export function within(x: number, width: number, left: number, right: number): number | null {
  if (width > right - left) return null;
  return Math.min(Math.max(x, left + width / 2), right - width / 2);
}

import { describe, expect, it } from 'vitest';
import { bridges, clumpOf, eggAt, eggPath, eggSize, inside, loosen, moved, stick, stuckTo } from './plan.ts';

const egg = (number: number, x: number, y: number, clump: number | null = null) => ({ number, x, y, clump });
const ASPECT = 1.42;

/** A loose heap of so many eggs, each somewhere of its own. */
const heap = (n: number) => {
  const columns = Math.ceil(Math.sqrt(n * ASPECT));
  const rows = Math.ceil(n / columns);
  return Array.from({ length: n }, (_, i) =>
    egg(i + 1, ((i % columns) + 0.5) / columns, (Math.floor(i / columns) + 0.5) / rows),
  );
};

describe('the size of the eggs', () => {
  it('lets the eggs of a heap lie beside each other, from one egg to two hundred', () => {
    for (const n of [1, 2, 6, 28, 46, 90, 200]) {
      const eggs = heap(n);
      const { rx, ry } = eggSize(eggs, ASPECT);
      expect(rx).toBeGreaterThan(0.01);
      for (const a of eggs) {
        for (const b of eggs) {
          if (a.number >= b.number) continue;
          const apart = Math.hypot((a.x - b.x) / rx, (a.y - b.y) / ASPECT / ry);
          expect(apart).toBeGreaterThanOrEqual(1.6);
        }
      }
    }
  });

  it('leaves the number of each of 46 eggs readable on a phone of 360 px', () => {
    const { rx } = eggSize(heap(46), ASPECT);
    // Two digits at 0.86 of half the width; 11 px is the least that is read at arm's length (from memory).
    expect(rx * (328 - 12) * 0.86).toBeGreaterThanOrEqual(11);
  });

  it('is not ruined by one pair that lies very close', () => {
    const eggs = [...heap(28), egg(29, 0.1, 0.1), egg(30, 0.105, 0.1)];
    expect(eggSize(eggs, ASPECT).rx).toBeGreaterThan(0.03);
  });
});

describe('a tap', () => {
  const eggs = [egg(1, 0.3, 0.5), egg(2, 0.4, 0.5), egg(3, 0.9, 0.9)];
  const size = { rx: 0.05, ry: 0.062 };

  it('means the closest egg, also where two overlap', () => {
    expect(eggAt(eggs, 0.34, 0.5, ASPECT, size)?.number).toBe(1);
    expect(eggAt(eggs, 0.36, 0.5, ASPECT, size)?.number).toBe(2);
  });

  it('a little beside an egg still means it, and far away means none', () => {
    expect(eggAt(eggs, 0.9 - 0.07, 0.9, ASPECT, size)?.number).toBe(3);
    expect(eggAt(eggs, 0.65, 0.2, ASPECT, size)).toBeNull();
  });
});

describe('moving', () => {
  const size = { rx: 0.05, ry: 0.062 };

  it('keeps every egg wholly inside the tub, wherever it is dragged', () => {
    for (const [x, y] of [
      [-3, 0.5],
      [0.5, 9],
      [1, 1],
      [0, 0],
    ] as const) {
      const at = inside(x, y, ASPECT, size);
      expect(at.x - size.rx).toBeGreaterThanOrEqual(-1e-4);
      expect(at.x + size.rx).toBeLessThanOrEqual(1 + 1e-4);
      expect(at.y - size.ry * ASPECT).toBeGreaterThanOrEqual(-1e-4);
      expect(at.y + size.ry * ASPECT).toBeLessThanOrEqual(1 + 1e-4);
    }
  });

  it('moves a clump in its own form, and stops the whole of it at the side', () => {
    const eggs = [egg(1, 0.8, 0.5), egg(2, 0.9, 0.5), egg(3, 0.2, 0.2)];
    const after = moved(eggs, new Set([1, 2]), 0.5, 0, ASPECT, size);
    expect(after[1]?.x).toBeCloseTo(0.95, 4);
    expect((after[1]?.x ?? 0) - (after[0]?.x ?? 0)).toBeCloseTo(0.1, 4);
    expect(after[2]).toEqual(eggs[2]);
  });

  it('changes nothing when nothing is moved', () => {
    const eggs = [egg(1, 0.5, 0.5), egg(2, 0.6, 0.5)];
    expect(moved(eggs, new Set([1]), 0, 0, ASPECT, size)).toEqual(eggs);
  });
});

describe('a clump', () => {
  const size = { rx: 0.05, ry: 0.062 };

  it('is all that touches, egg by egg, and not what lies apart', () => {
    const eggs = [egg(1, 0.1, 0.5), egg(2, 0.2, 0.5), egg(3, 0.3, 0.5), egg(4, 0.6, 0.5)];
    expect([...clumpOf(eggs, 1, ASPECT, size)].sort()).toEqual([1, 2, 3]);
    expect([...clumpOf(eggs, 4, ASPECT, size)]).toEqual([4]);
  });

  it('is recorded under a number of its own and can be undone; a clump of one is none', () => {
    const eggs = [egg(1, 0.1, 0.5, 1), egg(2, 0.2, 0.5, 1), egg(3, 0.5, 0.5), egg(4, 0.6, 0.5)];
    const stuck = stick(eggs, 3, new Set([3, 4]));
    expect(stuck.map((e) => e.clump)).toEqual([1, 1, 2, 2]);
    expect([...stuckTo(stuck, 4)].sort()).toEqual([3, 4]);
    expect(loosen(stuck, 3).map((e) => e.clump)).toEqual([1, 1, null, null]);
  });

  it('is drawn with one bridge fewer than it has eggs', () => {
    const eggs = [egg(1, 0.1, 0.1, 7), egg(2, 0.5, 0.1, 7), egg(3, 0.2, 0.1, 7), egg(4, 0.9, 0.9)];
    expect(bridges(eggs).map(([a, b]) => [a.number, b.number])).toEqual([
      [1, 3],
      [3, 2],
    ]);
  });
});

it('an egg is drawn as a closed line within its width and length', () => {
  const path = eggPath(50, 50, 10, 12.4);
  expect(path.startsWith('M50 37.6')).toBe(true);
  expect(path.endsWith('Z')).toBe(true);
  const numbers = [...path.matchAll(/-?\d+(\.\d+)?/g)].map((m) => Number(m[0]));
  expect(Math.min(...numbers)).toBeGreaterThanOrEqual(37.5);
  expect(Math.max(...numbers)).toBeLessThanOrEqual(62.5);
});

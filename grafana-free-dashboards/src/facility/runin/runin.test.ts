import { describe, expect, it } from 'vitest';
import { placeSpots } from './cabinetSpots.ts';

const spot = (where: string | null, difference = 0) => ({
  probe: String(where),
  where,
  difference,
  words: '',
});

describe('hot and cold spots', () => {
  it('are drawn where the words say the probes are', () => {
    const [low, high, door] = placeSpots([
      spot('lower shelf'),
      spot('upper shelf', 0.4),
      spot('middle shelf, by the door'),
    ]);
    expect((high?.y ?? 1) < (door?.y ?? 0) && (door?.y ?? 1) < (low?.y ?? 0)).toBe(true);
    expect((door?.x ?? 0) > 0.5).toBe(true);
    expect(high?.warm).toBe(true);
  });

  it('never lie on each other, also when all have the same words or none', () => {
    for (const where of ['upper shelf', null]) {
      const placed = placeSpots(Array.from({ length: 5 }, () => spot(where)));
      for (const [i, a] of placed.entries())
        for (const b of placed.slice(0, i))
          expect(Math.abs(a.y - b.y) + Math.abs(a.x - b.x)).toBeGreaterThan(0.05);
      for (const p of placed) expect(p.y > 0 && p.y < 1).toBe(true);
    }
  });
});

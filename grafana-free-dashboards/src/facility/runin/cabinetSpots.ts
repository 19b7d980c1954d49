import type { RunIn } from '../../http/probeShapes.ts';

export interface PlacedSpot {
  probe: string;
  /** Share of the cabinet's width and height, from the upper left. */
  x: number;
  y: number;
  warm: boolean;
}

const HEIGHTS: [RegExp, number][] = [
  [/\b(top|ceiling)\b/i, 0.12],
  [/\bupper\b/i, 0.24],
  [/\b(middle|centre|center)\b/i, 0.5],
  [/\b(lower)\b/i, 0.76],
  [/\b(bottom|floor)\b/i, 0.88],
];
const SIDES: [RegExp, number][] = [
  [/\bleft\b/i, 0.22],
  [/\bright\b/i, 0.78],
  [/\bdoor\b/i, 0.7],
  [/\bback\b/i, 0.3],
];

/**
 * Where each probe is drawn in the cabinet, from the words its keeper used ("upper shelf, by the door"). What has no
 * height in its words is put between the others in the order given, so that none hides another.
 */
export function placeSpots(spots: RunIn['spots']): PlacedSpot[] {
  const placed: PlacedSpot[] = spots.map((spot, i) => {
    const words = spot.where ?? '';
    const y = HEIGHTS.find(([word]) => word.test(words))?.[1] ?? 0.15 + (0.7 * (i + 0.5)) / spots.length;
    const x = SIDES.find(([word]) => word.test(words))?.[1] ?? 0.5;
    return { probe: spot.probe, x, y, warm: spot.difference > 0 };
  });
  for (const [i, spot] of placed.entries()) {
    const near = (other: PlacedSpot): boolean =>
      Math.abs(other.y - spot.y) < 0.12 && Math.abs(other.x - spot.x) < 0.2;
    for (let tries = 0; tries < 8 && placed.slice(0, i).some(near); tries++) {
      spot.y = spot.y + 0.13 > 0.93 ? 0.1 : spot.y + 0.13;
    }
  }
  return placed;
}

export interface Track {
  paths: string[];
  least: number;
  most: number;
  from: number;
  to: number;
}

const GAP_FACTOR = 4;

/** A small line through a few points, broken where they are far apart; null when there is nothing to draw. */
export function trackOf(evidence: readonly [number, number][], width: number, height: number): Track | null {
  const points = evidence.filter((p) => p.every(Number.isFinite)).sort((a, b) => a[0] - b[0]);
  const first = points[0];
  const last = points.at(-1);
  if (first === undefined || last === undefined || points.length < 2) return null;
  const values = points.map((p) => p[1]);
  const least = Math.min(...values);
  const most = Math.max(...values);
  const distances = points.slice(1).map((p, i) => p[0] - (points[i]?.[0] ?? p[0]));
  const usual = [...distances].sort((a, b) => a - b)[Math.floor(distances.length / 2)] ?? 0;
  const x = (ms: number): string => (((ms - first[0]) / Math.max(1, last[0] - first[0])) * width).toFixed(1);
  // A value that never moves is a level line in the middle, not one at the foot.
  const y = (v: number): string =>
    (most === least ? height / 2 : height - ((v - least) / (most - least)) * height).toFixed(1);
  const paths: string[] = [];
  let path = '';
  for (const [i, [ms, value]] of points.entries()) {
    const broken = i > 0 && (distances[i - 1] ?? 0) > usual * GAP_FACTOR;
    if (broken) {
      paths.push(path);
      path = '';
    }
    path += `${path === '' ? 'M' : 'L'}${x(ms)} ${y(value)}`;
  }
  paths.push(path);
  return { paths, least, most, from: first[0], to: last[0] };
}

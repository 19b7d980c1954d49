import type { History } from '../src/http/shapes.ts';
import { BAND, drift, HUMIDITY_BAND, keyOf, type MockState, namesFor, round, wave } from './facility.ts';

const HOUR = 3_600_000;

/** The past in buckets: the band left in some states, a door opened, and two stretches without a word. */
export function historyOf(
  state: MockState,
  key: string,
  quantity: string,
  from: number,
  to: number,
  buckets: number,
  at: number = to,
): History {
  const seed = Math.max(0, namesFor(state).map(keyOf).indexOf(key));
  const bucketMs = Math.max(1_000, Math.ceil((to - from) / buckets));
  const wet = quantity === 'humidity';
  const base = wet ? 86 : 31.5;
  const silences = [
    [at - 10.5 * HOUR, at - 9 * HOUR],
    [at - 21 * 24 * HOUR, at - 19.5 * 24 * HOUR],
  ] as const;
  const series = ['low', 'high'].slice(0, wet ? 1 : 2).map((where, n) => {
    const gaps =
      n > 0
        ? []
        : silences
            .filter(([a, b]) => b > from && a < to)
            .map(([a, b]): [number, number] => [Math.max(a, from), Math.min(b, to)]);
    const made = {
      probe: `${key}-${where}`,
      where: `${where === 'low' ? 'lower' : 'upper'} shelf`,
      startMs: [] as number[],
      min: [] as number[],
      mean: [] as number[],
      max: [] as number[],
      count: [] as number[],
      gaps,
    };
    const wide = 0.12 + Math.min(0.5, Math.log10(bucketMs / 60_000 + 1) * 0.2);
    for (let ms = from; ms < Math.min(to, at); ms += bucketMs) {
      const hoursAgo = (at - ms) / HOUR;
      if (hoursAgo > 90 * 24) continue;
      if (gaps.some(([a, b]) => ms >= a && ms + bucketMs <= b)) continue;
      const off = seed === 0 && !wet ? drift(state) * Math.min(1, Math.max(0, 1 - hoursAgo)) : 0;
      const door = hoursAgo > 15 && hoursAgo < 15.3 ? -2.2 : 0;
      const warm =
        hoursAgo > 800 && hoursAgo < 830 && !wet ? 1.5 * Math.sin(((hoursAgo - 800) / 30) * Math.PI) : 0;
      const mean =
        base +
        wave(seed + n * 3 + (wet ? 9 : 0), Math.round(ms / 60_000) % 100_000) * (wet ? 6 : 1) +
        n * 0.25 +
        off +
        warm +
        door * (wet ? 5 : 1);
      made.startMs.push(ms);
      made.mean.push(round(mean));
      made.min.push(round(mean - wide * (wet ? 6 : 1)));
      made.max.push(round(mean + wide * 1.1 * (wet ? 6 : 1)));
      made.count.push(6);
    }
    return made;
  });
  const band = wet ? HUMIDITY_BAND : BAND;
  return {
    quantity,
    unit: wet ? '%RH' : 'Cel',
    from: new Date(from).toISOString(),
    to: new Date(to).toISOString(),
    bucketMs,
    series,
    band,
  };
}

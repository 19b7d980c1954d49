import type { History } from '../http/shapes.ts';
import { dayAndClock } from '../words/times.ts';
import { amount } from '../words/units.ts';
import type { Columns } from './columns.ts';

/** What was so at the mark, or at the last bucket in view when nothing is marked. */
export function momentWords(history: History, columns: Columns, mark: number | null, zone: string): string {
  const x = columns.x;
  if (x.length === 0) return mark === null ? 'No readings.' : `${dayAndClock(mark, zone)}: nothing heard`;
  const at = mark === null ? (x.at(-1) as number) * 1000 : mark;
  const say = (v: number): string => amount(v, history.quantity, history.unit);
  const parts = columns.probes.flatMap((p) => {
    const i = lastBefore(x, p.mean, at / 1000);
    const [min, mean, max] = [p.min[i], p.mean[i], p.max[i]];
    if (typeof min !== 'number' || typeof mean !== 'number' || typeof max !== 'number') return [];
    return [`${p.where ?? p.probe} ${say(mean)} (${say(min)} to ${say(max)})`];
  });
  return `${dayAndClock(at, zone)}: ${parts.length === 0 ? 'nothing heard' : parts.join('; ')}`;
}

/** The bucket of this probe that the instant lies in; a break in the line (null) counts, another probe's point not. */
function lastBefore(x: readonly number[], mean: readonly (number | null | undefined)[], at: number): number {
  let low = 0;
  let high = x.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((x[middle] ?? 0) <= at) low = middle + 1;
    else high = middle;
  }
  let i = low - 1;
  while (i > 0 && mean[i] === undefined) i--;
  return i;
}

import type { Alarm, QuantityNow } from '../http/shapes.ts';
import { difference } from './units.ts';

export type Severity = 'calm' | 'warning' | 'danger' | 'unknown';

export function severityOf(now: QuantityNow): Severity {
  if (now.quality !== 'good') return 'unknown';
  if (now.standing.startsWith('danger')) return 'danger';
  if (now.standing.startsWith('warning')) return 'warning';
  return 'calm';
}

/** What one quantity is doing, in the fewest words that are true: "0.8 °C above", "silent", "no band". */
export function standingWords(now: QuantityNow): string {
  if (now.quality === 'silent') return 'silent';
  if (now.quality === 'faulty') return 'probe faulty';
  if (now.quality === 'unknown' || now.value === null) return 'no reading yet';
  if (now.standing === 'in band') return 'in band';
  const over = beyond(now);
  if (over === null) return now.band === null ? 'no band' : 'not judged';
  return `${difference(Math.abs(over), now.quantity, now.unit)} ${over > 0 ? 'above' : 'below'}`;
}

/** How far beyond the warning limits: positive above, negative below, null within or not judged. */
export function beyond(now: QuantityNow): number | null {
  if (now.value === null || now.band === null) return null;
  const { warningLow, warningHigh } = now.band;
  if (warningHigh !== null && now.value > warningHigh) return now.value - warningHigh;
  if (warningLow !== null && now.value < warningLow) return now.value - warningLow;
  return null;
}

const RANK = { danger: 0, warning: 1 } as const;
const STATE_RANK: Record<Alarm['state'], number> = {
  unacknowledged: 0,
  acknowledged: 1,
  'returned to normal, unacknowledged': 2,
};

/** Worst first, unanswered before answered, older before newer. */
export function worstFirst(alarms: readonly Alarm[]): Alarm[] {
  return [...alarms].sort(
    (a, b) =>
      RANK[a.severity] - RANK[b.severity] ||
      STATE_RANK[a.state] - STATE_RANK[b.state] ||
      a.raisedAt.localeCompare(b.raisedAt),
  );
}

export function quantityWord(quantity: string): string {
  return quantity === 'temperature' || quantity === 'humidity' ? quantity : quantity.replaceAll('-', ' ');
}

const CONDITION: Record<Alarm['condition'], string> = {
  high: 'above its band',
  low: 'below its band',
  'no reading': 'a probe is silent',
  'nothing from any probe': 'nothing from any probe',
  'own trouble': 'the service itself',
};

export function conditionWord(alarm: Alarm): string {
  return CONDITION[alarm.condition];
}

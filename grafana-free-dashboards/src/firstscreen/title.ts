import type { Now } from '../http/shapes.ts';
import { beyond, conditionWord, worstFirst } from '../words/standing.ts';
import { difference } from '../words/units.ts';

/** The title of the tab says the state: it is what a person sees who has the page open behind another. */
export function titleOf(now: Now | null, stale: boolean): string {
  if (now === null) return 'Incubation';
  if (stale) return `? not connected · ${now.facility}`;
  const open = now.alarms.filter((a) => a.returnedAt === null);
  const worst = worstFirst(open)[0] ?? worstFirst(now.alarms)[0];
  if (worst !== undefined) {
    const mark = worst.state === 'acknowledged' ? '' : '! ';
    const more = now.alarms.length > 1 ? ` (+${now.alarms.length - 1})` : '';
    return `${mark}${worst.incubatorName} ${howFar(now, worst)}${more}`;
  }
  if (now.headline.tone === 'danger' || now.headline.tone === 'warning') return `! ${now.headline.sentence}`;
  if (now.headline.tone === 'unknown') return `? ${now.headline.sentence}`;
  return `${now.facility}: all in band`;
}

function howFar(now: Now, alarm: Now['alarms'][number]): string {
  if (alarm.returnedAt !== null) return 'is back in its band, not answered';
  const quantity = now.incubators
    .find((i) => i.key === alarm.incubator)
    ?.quantities.find((q) => q.quantity === alarm.quantity);
  const over = quantity === undefined ? null : beyond(quantity);
  if (quantity === undefined || over === null) return conditionWord(alarm);
  return `${difference(Math.abs(over), quantity.quantity, quantity.unit)} ${over > 0 ? 'above' : 'below'}`;
}

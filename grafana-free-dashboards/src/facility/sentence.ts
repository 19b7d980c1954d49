import type { IncubatorNow } from '../http/shapes.ts';
import { beyond, quantityWord, severityOf } from '../words/standing.ts';
import { amount, difference } from '../words/units.ts';

/** What a person would say of one incubator; built here from the same facts that the first screen shows. */
export function incubatorSentence(incubator: IncubatorNow): string {
  const { name, quantities } = incubator;
  if (quantities.length === 0) return `Nothing is known of ${name}: no probe is placed in it.`;
  const out = quantities.filter((q) => q.quality === 'good' && beyond(q) !== null);
  const worst = out.find((q) => severityOf(q) === 'danger') ?? out[0];
  if (worst !== undefined) {
    const over = beyond(worst) ?? 0;
    const what = worst.quantity === 'temperature' ? '' : ` in ${quantityWord(worst.quantity)}`;
    return `${name} is ${difference(Math.abs(over), worst.quantity, worst.unit)} ${over > 0 ? 'above' : 'below'} its band${what}.`;
  }
  const unheard = quantities.filter((q) => q.quality !== 'good');
  if (unheard.length === quantities.length) return `It is not known how ${name} is.`;
  const heard = quantities.filter((q) => q.quality === 'good');
  const figures = heard.map((q) => amount(q.value, q.quantity, q.unit)).join(' and ');
  const judged = heard.filter((q) => q.standing === 'in band');
  if (unheard.length > 0) {
    return `${name} is at ${figures}; its ${unheard.map((q) => quantityWord(q.quantity)).join(' and ')} is not known.`;
  }
  if (judged.length === 0) return `${name} is at ${figures}, and has no band to be judged by.`;
  return `${name} is in its band at ${figures}.`;
}

/** What matters next: which way it goes. Alarms are listed below with who has them. */
export function nextSentence(incubator: IncubatorNow): string {
  const start = incubator.alarms.length === 0 ? 'No alarm stands. ' : '';
  const temperature = incubator.quantities.find((q) => q.quantity === 'temperature');
  const perHour = temperature?.perHour ?? null;
  if (temperature === undefined || perHour === null || temperature.quality !== 'good') {
    return start === '' ? 'Which way it goes is not known.' : 'No alarm stands.';
  }
  if (Math.abs(perHour) < 0.1) return `${start}The temperature is steady.`;
  const way = perHour > 0 ? 'rising' : 'falling';
  return `${start}The temperature is ${way} by ${difference(Math.abs(perHour), 'temperature', temperature.unit)} an hour.`;
}

// The life strip in words: for the labels drawn on it, and for whoever reads instead of looking.
import type { Excursion, Strip } from '../http/clutchShapes.ts';
import { day, dayAndClock, span } from '../words/times.ts';
import { amount, number, shown, shownDifference } from '../words/units.ts';

export function degrees(celsius: number): string {
  return `${number(shown(celsius, 'temperature'), 1)}°`;
}

const lengthOf = (e: { from: string; to: string }): number => Date.parse(e.to) - Date.parse(e.from);

/** How long, short enough for a label: "40 min", "31 h", "4 days". */
export function shortSpan(ms: number): string {
  const hours = ms / 3_600_000;
  if (hours < 1.5) return `${Math.max(1, Math.round(ms / 60_000))} min`;
  return hours < 72 ? `${Math.round(hours)} h` : `${Math.round(hours / 24)} days`;
}

export function excursionLabel(e: Excursion, wide: boolean): string {
  const mark = e.side === 'above' ? '▲' : '▼';
  const long = shortSpan(lengthOf(e));
  return wide ? `${mark} ${degrees(e.peak)} for ${long}` : `${mark} ${long}`;
}

export function degreeHours(value: number): string {
  const turned = shownDifference(value, 'temperature');
  const unit = amount(0, 'temperature', 'Cel').endsWith('F') ? '°F·h' : '°C·h';
  return `${number(turned, turned < 10 ? 1 : 0)}\u00a0${unit}`;
}

export function excursionSentence(e: Excursion, zone: string): string {
  const stage = e.stage === null ? '' : `, at ${Math.round(e.stage * 100)} % of the way`;
  const side = e.side === 'above' ? 'above' : 'below';
  const words = e.words === '' ? '' : ` ${e.words}`;
  return `${dayAndClock(Date.parse(e.from), zone)}, for ${span(lengthOf(e))}: ${side} its band, to ${amount(e.peak, 'temperature', 'Cel')} (${degreeHours(e.degreeHours)} ${side})${stage}.${words}`;
}

export function pipLabel(strip: Strip, zone: string): string | null {
  const { p10, p90 } = strip.pip ?? {};
  if (p10 == null || p90 == null) return null;
  const [from, to] = [day(Date.parse(p10), zone), day(Date.parse(p90), zone)];
  if (from === to) return `pip ${to}`;
  const sameMonth = from.split(' ')[1] === to.split(' ')[1];
  return `pip ${sameMonth ? from.split(' ')[0] : from}–${to}`;
}

/** The whole strip in a few sentences. */
export function stripWords(strip: Strip, zone: string): string {
  const mins = strip.min.filter((v) => v !== null);
  const maxs = strip.max.filter((v) => v !== null);
  const say = (v: number): string => amount(v, 'temperature', 'Cel');
  const said: string[] = [];
  said.push(
    mins.length === 0 || maxs.length === 0
      ? 'No reading has been recorded of this clutch.'
      : `From ${day(Date.parse(strip.from), zone)} it had between ${say(Math.min(...mins))} and ${say(Math.max(...maxs))}.`,
  );
  const { warningLow: low, warningHigh: high } = strip.band ?? {};
  if (low != null && high != null) said.push(`Its band is ${say(low)} to ${say(high)}.`);
  const sides = (['above', 'below'] as const).map((side) => {
    const all = strip.excursions.filter((e) => e.side === side);
    const hours = all.reduce((sum, e) => sum + lengthOf(e), 0);
    return all.length === 0 ? null : `${times(all.length)} ${side} it, ${span(hours)} in all`;
  });
  const out = sides.filter((w) => w !== null);
  if (out.length > 0) said.push(`It was ${out.join(', and ')}.`);
  else if (mins.length > 0) said.push('It never left the band.');
  if (strip.gaps.length > 0) {
    const hours = strip.gaps.reduce((sum, g) => sum + lengthOf(g), 0);
    said.push(
      `Without readings: ${span(hours)} in ${strip.gaps.length === 1 ? 'one gap' : `${strip.gaps.length} gaps`}.`,
    );
  }
  if (strip.alarms.length > 0)
    said.push(
      `${strip.alarms.length === 1 ? 'One alarm was' : `${strip.alarms.length} alarms were`} raised (△).`,
    );
  said.push(
    strip.candlings.length === 0
      ? 'Not candled yet.'
      : `Candled on ${plural(strip.candlings.length, 'day')}.`,
  );
  const pip = strip.pip;
  if (pip?.p10 != null && pip.p90 != null)
    said.push(
      `Pip is expected between ${day(Date.parse(pip.p10), zone)} and ${day(Date.parse(pip.p90), zone)}.`,
    );
  return said.join(' ');
}

const times = (n: number): string => (n === 1 ? 'once' : n === 2 ? 'twice' : `${n} times`);
export const plural = (n: number, word: string): string => `${n} ${word}${n === 1 ? '' : 's'}`;

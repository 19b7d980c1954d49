import type { SeriesCorrection } from '../http/probeShapes.ts';
import type { ProbeSeries, Probes, ProbeView } from '../http/shapes.ts';
import { dateWords } from '../words/localdate.ts';
import { day, span } from '../words/times.ts';
import { amount, difference, number } from '../words/units.ts';
import { isOverdue, isOwn, needsLook } from './rank.ts';

/** What is known of the probe itself: whether it is on, its clock, its battery, its calibration. */
export function ownFacts(probe: ProbeView, at: number, zone: string): string[] {
  const facts: string[] = [];
  if (probe.online === true) facts.push('online');
  const skew = probe.skewSeconds ?? null;
  if (skew !== null && probe.clockOffSeconds === null) facts.push(skewWords(skew));
  for (const s of probe.series.filter(isOwn))
    facts.push(`${s.quantity} ${amount(s.value, s.quantity, s.unit)}`);
  const corrected = probe.series.find((s) => s.correction != null)?.correction;
  if (corrected != null) facts.push(`calibrated ${day(Date.parse(corrected.from), zone)}`);
  if (probe.calibrationDue != null) {
    const when = dateWords(probe.calibrationDue);
    facts.push(isOverdue(probe, at, zone) ? `calibration was due on ${when}` : `next calibration ${when}`);
  }
  return facts;
}

export function skewWords(seconds: number): string {
  const off = Math.abs(seconds);
  if (off < 1) return 'its clock is right';
  const by = off < 60 ? `${number(off, 0)} s` : span(off * 1000);
  return `its clock is ${by} ${seconds > 0 ? 'ahead' : 'behind'}`;
}

/** "0.18 °C is taken off", "1.2 %RH is added", with the slope where there is one. */
export function correctionWords(
  { gain, offset }: Pick<SeriesCorrection, 'gain' | 'offset'>,
  quantity: string,
  unit: string,
): string {
  const by = difference(Math.abs(offset), quantity, unit, 2);
  const shift =
    Math.abs(offset) < 0.005 ? 'nothing is added' : `${by} is ${offset > 0 ? 'added' : 'taken off'}`;
  return Math.abs(gain - 1) < 0.00005 ? shift : `each value times ${number(gain, 4)}, then ${shift}`;
}

/** "as measured 31.62 °C, corrected by −0.18 °C"; null where nothing is corrected. */
export function measuredWords(series: ProbeSeries): string | null {
  const { measured, value, correction } = series;
  if (correction == null || measured == null || value === null) return null;
  const by = value - measured;
  return `as measured ${amount(measured, series.quantity, series.unit, 2)}, corrected by ${by > 0 ? '+' : ''}${difference(by, series.quantity, series.unit, 2)}`;
}

export function probesSentence(probes: Probes): string {
  const count = probes.placed.length;
  if (count === 0 && probes.notPlaced.length === 0) return 'No probe has been heard yet.';
  const marked = [...probes.placed, ...probes.notPlaced].filter(needsLook);
  const parts: string[] = [];
  if (probes.notPlaced.length > 0) {
    parts.push(
      `${probes.notPlaced.length === 1 ? 'One probe waits' : `${probes.notPlaced.length} probes wait`} to be placed`,
    );
  }
  const [first] = marked;
  if (marked.length === 1 && first !== undefined) parts.push(`${first.name ?? first.key} needs a look`);
  else if (marked.length > 1) parts.push(`${marked.length} probes need a look`);
  if (parts.length === 0)
    return count === 1 ? 'The one probe speaks as it should.' : `All ${count} probes speak as they should.`;
  const sentence = parts.join(', and ');
  return `${sentence.charAt(0).toUpperCase()}${sentence.slice(1)}.`;
}

/** What a person would say of one probe. */
export function probeSentence(probe: ProbeView): string {
  const name = probe.name ?? probe.key;
  const main = probe.series.filter((s) => !isOwn(s));
  if (main.length === 0) return `${name} has said nothing yet.`;
  if (main.every((s) => s.quality === 'silent')) return `${name} is silent.`;
  const [trouble] = probe.troubles ?? [];
  if (trouble !== undefined) {
    const said: Record<string, string> = {
      stuck: 'seems stuck',
      jump: 'jumps',
      noise: 'has become unsteady',
      disagrees: 'disagrees with another probe',
      'outside the tub': 'seems to lie outside its tub',
    };
    return `${name} ${said[trouble.kind] ?? 'needs a look'}.`;
  }
  if (needsLook(probe)) return `${name} needs a look.`;
  const figures = main.map((s) => amount(s.value, s.quantity, s.unit)).join(' and ');
  return `${name} speaks as it should: ${figures}.`;
}

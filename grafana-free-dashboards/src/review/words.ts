import { clock, day, span, weekday } from '../words/times.ts';
import { number, shownDifference, unitWord } from '../words/units.ts';
import type { ComparisonLine, Gap, ReviewAlarm, Stretch } from './shapes.ts';

/** "Mon 9 Nov, 03:12 to 11:40": the day once when both are on it. */
export function fromTo(from: string, to: string, zone: string): string {
  const a = Date.parse(from);
  const b = Date.parse(to);
  const start = `${weekday(a, zone)} ${day(a, zone)}, ${clock(a, zone)}`;
  const same = day(a, zone) === day(b, zone) && b - a < 36 * 3_600_000;
  return `${start} to ${same ? clock(b, zone) : `${weekday(b, zone)} ${day(b, zone)}, ${clock(b, zone)}`}`;
}

export function lengthWords(from: string, to: string): string {
  return span(Date.parse(to) - Date.parse(from));
}

export function stageWords(stretch: Pick<Stretch, 'stageFrom' | 'stageTo'>): string {
  const { stageFrom: from, stageTo: to } = stretch;
  if (from === null) return 'stage not known';
  const a = Math.round(from * 100);
  const b = to === null ? a : Math.round(to * 100);
  return a === b ? `stage ${a}\u00a0%` : `stage ${a} to ${b}\u00a0%`;
}

/** Exposure in the degrees of this phone: degree-hours scale as differences do. */
export function degreeHours(value: number): string {
  const turned = shownDifference(value, 'temperature');
  return `${number(turned, turned < 10 ? 1 : 0)}\u00a0${unitWord('temperature', 'Cel')}·h`;
}

export function exposureWords(stretch: Stretch): string {
  const parts = [
    stretch.degreeHoursAbove > 0 ? `${degreeHours(stretch.degreeHoursAbove)} above` : null,
    stretch.degreeHoursBelow > 0 ? `${degreeHours(stretch.degreeHoursBelow)} below` : null,
  ].filter((p) => p !== null);
  return parts.length === 0 ? `less than ${degreeHours(0.1)}` : parts.join(', ');
}

/** Who answered an alarm, and how long it took. */
export function answerWords(alarm: ReviewAlarm, zone: string): string {
  const raised = Date.parse(alarm.raisedAt);
  const at = `${weekday(raised, zone)} ${day(raised, zone)}, ${clock(raised, zone)}`;
  if (alarm.answeredBy === null || alarm.answeredAt === null) return `${at}; nobody answered`;
  return `${at}; ${alarm.answeredBy} answered after ${span(Date.parse(alarm.answeredAt) - raised)}`;
}

export function gapsSentence(gaps: readonly Gap[]): string {
  if (gaps.length === 0) return 'The record has no gap.';
  const hours = gaps.reduce((sum, g) => sum + Date.parse(g.to) - Date.parse(g.from), 0);
  const count = gaps.length === 1 ? 'One gap' : `${gaps.length} gaps`;
  return `${count}, ${span(hours)} in all. Nothing can be said about that time.`;
}

/** The first sentence, which is what is asked first, and the rest. A point within a figure ends none. */
export function firstSentence(words: string): { first: string; rest: string } {
  const end = /[.!?] (?=\S)/.exec(words);
  if (end === null) return { first: words, rest: '' };
  return { first: words.slice(0, end.index + 1), rest: words.slice(end.index + 2) };
}

/** "First pip Fri 20 Nov, last out Mon 23 Nov." */
export function hatchDates(outcomes: Record<string, number | string | null>, zone: string): string {
  const said = (name: string, word: string): string | null => {
    const at = Date.parse(String(outcomes[name] ?? ''));
    return Number.isNaN(at) ? null : `${word} ${weekday(at, zone)} ${day(at, zone)}`;
  };
  const parts = [said('firstPip', 'first pip'), said('lastOut', 'last out')].filter((p) => p !== null);
  const words = parts.join(', ');
  return words === '' ? '' : `${words.charAt(0).toUpperCase()}${words.slice(1)}.`;
}

/** Of the service's words for a stretch what the page does not say in its own way: that the record begins or ends in it. */
export function openWords(words: string): string | null {
  const found = /the record (?:begins|ends)[^.;]*/i.exec(words);
  return found === null ? null : `${found[0].charAt(0).toUpperCase()}${found[0].slice(1)}.`;
}

const ONE: Record<string, string> = { slugs: 'slug' };

const OUTCOME: Record<string, string> = {
  laid: 'laid',
  hatched: 'hatched',
  out: 'out of the egg',
  firstPip: 'pipped, not yet out',
  alive: 'still alive in the egg',
  doubtful: 'doubtful',
  notLookedAt: 'not looked at',
  dead: 'dead in the egg',
  deadInEgg: 'dead in the egg',
  slug: 'slugs',
  slugs: 'slugs',
};

/** Counts in a set order; what is none is left out, but for what was laid and what hatched. */
export function outcomeLines(counts: Record<string, number | string | null>): { word: string; n: number }[] {
  const order = Object.keys(OUTCOME);
  const place = (key: string): number => (order.includes(key) ? order.indexOf(key) : order.length);
  return Object.entries(counts)
    .filter((pair): pair is [string, number] => typeof pair[1] === 'number')
    .filter(([key, n]) => n > 0 || key === 'laid' || key === 'hatched')
    .sort(([a], [b]) => place(a) - place(b))
    .map(([key, n]) => {
      const word = OUTCOME[key] ?? key;
      return { word: n === 1 ? (ONE[word] ?? word) : word, n };
    });
}

/** A figure of the comparison; shares of eggs as per cent. */
export function comparisonFigure(line: ComparisonLine, value: ComparisonLine['this']): string {
  if (value === null) return '–';
  if (typeof value === 'string') return value;
  if (/\bshare\b/.test(line.what)) return `${number(value * 100, 0)}\u00a0%`;
  return number(value, Math.abs(value) >= 100 || Number.isInteger(value) ? 0 : 1);
}

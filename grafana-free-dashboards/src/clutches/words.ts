// What a person would say of clutches and eggs.
import type { ClutchLine, EggView } from '../http/clutchShapes.ts';
import { now } from '../live/now.ts';
import { session } from '../people/session.ts';
import { day } from '../words/times.ts';
import { STATUS_WORD } from './eggplan/shape.ts';

/** A local date has no zone, so none can shift it; an instant is said in the zone of the facility. */
export function dateWords(text: string): string {
  if (text.length > 10) return day(Date.parse(text), now.value?.zone ?? session.value?.zone ?? 'UTC');
  const at = Date.parse(`${text}T00:00:00Z`);
  return Number.isNaN(at) ? text : day(at, 'UTC');
}

/** "24 of 28 alive, 1 doubtful, 3 slugs"; nothing is said that is none. */
export function countWords(line: Pick<ClutchLine, 'eggs' | 'state'>): string {
  const { laid, alive, doubtful, slug, dead, hatched } = line.eggs;
  const parts = [
    line.state === 'finished' || hatched > 0 ? `${hatched} of ${laid} out` : `${alive} of ${laid} alive`,
    line.state !== 'finished' && hatched > 0 && alive > 0 ? `${alive} still in the egg` : null,
    doubtful > 0 ? `${doubtful} doubtful` : null,
    slug > 0 ? (slug === 1 ? '1 slug' : `${slug} slugs`) : null,
    dead > 0 ? `${dead} dead` : null,
  ].filter((w) => w !== null);
  return alive + doubtful + slug + dead + hatched === 0 && line.state === 'incubating'
    ? `${laid === 1 ? '1 egg' : `${laid} eggs`}, none candled yet`
    : parts.join(', ');
}

export function whereWords(line: ClutchLine): string {
  if (line.tub === null) return 'in no tub';
  return line.incubatorName === null ? 'its tub stands in no incubator' : `in ${line.incubatorName}`;
}

/** "pip 14–18 Mar", or null where no window can be said. */
export function pipWords(line: ClutchLine): string | null {
  if (line.pip === null || line.state === 'finished') return null;
  const [from, to] = [dateWords(line.pip.from), dateWords(line.pip.to)];
  if (from === to) return `pip ${to}`;
  const month = (d: string) => d.split(' ')[1];
  return `pip ${month(from) === month(to) ? from.split(' ')[0] : from}–${to}`;
}

export function stageWords(stage: number | null): string | null {
  return stage === null ? null : `${Math.round(Math.min(1, Math.max(0, stage)) * 100)} %`;
}

/** The headline of the list: how many there are, and what comes first. */
export function listSentence(lines: readonly ClutchLine[]): { sentence: string; next: string } {
  const going = lines.filter((l) => l.state !== 'finished');
  const unwatched = going.filter((l) => !l.watched);
  const first = going.filter((l) => l.pip !== null).sort((a, b) => comparePip(a, b))[0];
  const hatching = going.filter((l) => l.state === 'hatching');
  const eggs = going.reduce((sum, l) => sum + l.eggs.laid, 0);
  if (lines.length === 0)
    return {
      sentence: 'There is no clutch yet.',
      next: 'Enter the first one: species, dam, lay date and how many eggs. It takes a minute.',
    };
  if (going.length === 0)
    return {
      sentence: 'No clutch is incubating.',
      next: 'Those of past seasons are below; a new one can be entered when it is laid.',
    };
  const sentence =
    hatching.length > 0
      ? `${listed(hatching.map((l) => l.label))} ${hatching.length === 1 ? 'is' : 'are'} hatching.`
      : `${going.length === 1 ? 'One clutch is' : `${going.length} clutches are`} incubating, ${eggs} eggs.`;
  const firstPip = first?.pip;
  const pip =
    firstPip == null || hatching.includes(first as ClutchLine)
      ? null
      : `${first?.label} can pip from ${dateWords(firstPip.from)}, most likely on ${dateWords(firstPip.likely)}.`;
  const dark =
    unwatched.length === 0
      ? null
      : `Nothing is heard of ${listed(unwatched.map((l) => l.label))}: nobody would be called.`;
  return { sentence, next: [dark, pip].filter((w) => w !== null).join(' ') || 'All of them are watched.' };
}

function comparePip(a: ClutchLine, b: ClutchLine): number {
  return (a.pip?.from ?? '').localeCompare(b.pip?.from ?? '');
}

export function listed(names: readonly string[]): string {
  if (names.length > 4) return `${names.slice(0, 3).join(', ')} and ${names.length - 3} more`;
  return names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}

/** The full name of an egg for whoever does not see it: "Egg 15, alive, peach, full net". */
export function eggName(egg: EggView): string {
  const parts = [
    `Egg ${egg.number}`,
    STATUS_WORD[egg.status] ?? egg.status,
    egg.tintWord,
    egg.veins === null
      ? null
      : egg.veins === 'none'
        ? 'no veins'
        : egg.veins === 'ring'
          ? 'ring, dead'
          : egg.veins,
    egg.outcome === null || egg.outcome.kind === 'slug' ? null : egg.outcome.kind,
  ];
  return [...new Set(parts.filter((p) => p !== null))].join(', ');
}

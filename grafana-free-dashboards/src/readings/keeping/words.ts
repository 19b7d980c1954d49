import type { Keeping } from '../../http/probeShapes.ts';
import type { Tone } from '../../http/shapes.ts';
import { number } from '../../words/units.ts';

// The service may say more states than are known here: only these are well, so that a new one is never taken for calm.
const WELL = new Set(['well', 'listening']);

export const isWell = (state: string): boolean => WELL.has(state);

/** How a source feels: one that is just being connected is not known yet, and not in trouble either. */
export const sourceTone = (state: string): Tone =>
  isWell(state) ? 'calm' : state === 'starting' ? 'unknown' : 'warning';

/** The worst first; all that is wrong is said once, each part below says the rest. */
export function keepingSentence({ store, source, clock, copy }: Keeping): string {
  if (store.kind === 'refusing') return 'Readings cannot be kept just now.';
  if (store.kind === 'unreadable') return 'The file of readings cannot be read just now.';
  if (source.state === 'broken') return 'No readings come in.';
  if (store.kind === 'spooling')
    return 'The disk takes nothing; readings wait in the spool file, none is lost.';
  if (!isWell(store.kind)) return 'The keeping of readings needs a look.';
  if (source.state === 'reconnecting') return 'The connection to the broker is being made again.';
  if (source.state === 'starting') return 'The broker is not heard yet; it is being connected.';
  if (!isWell(source.state)) return 'Whether readings come in needs a look.';
  if (!clock.trusted) return 'Readings are kept, but the clock is not believed.';
  if (store.lastCheck !== null && !store.lastCheck.ok)
    return 'Readings are kept, but the last check was not well.';
  if (copy !== null && !isWell(copy.state))
    return 'Every reading is kept here; the copy elsewhere is behind.';
  return 'Every reading is kept.';
}

const KIB = 1024;

export function bytesWords(bytes: number): string {
  if (bytes < KIB) return `${bytes}\u00a0B`;
  for (const [i, unit] of ['KiB', 'MiB', 'GiB', 'TiB'].entries()) {
    const size = bytes / KIB ** (i + 1);
    if (size < KIB || unit === 'TiB') return `${number(size, size < 10 ? 1 : 0)}\u00a0${unit}`;
  }
  return `${bytes}\u00a0B`;
}

export const countWords = (count: number): string => count.toLocaleString('en-GB');

/** What can't be found out is said so, never as a zero. */
export const orUnknown = (count: number | null, words: (count: number) => string): string =>
  count === null ? 'not known' : words(count);

import type { Keeping } from '../../http/probeShapes.ts';
import { number } from '../../words/units.ts';

// The service may say more kinds than are known here: only these are well, so that a new one is never taken for calm.
const WELL = new Set(['well', 'connected', 'running', 'complete', 'listening', 'ok']);

export const isWell = (state: string): boolean => WELL.has(state.toLowerCase());
export const isAway = (state: string): boolean => !isWell(state);

/** The worst first; all that is wrong is said once, each part below says the rest. */
export function keepingSentence({ store, source, clock, copy }: Keeping): string {
  if (store.kind === 'Refusing') return 'Readings cannot be kept just now.';
  if (isAway(source.state)) return 'No readings come in.';
  if (store.kind === 'Spooling')
    return 'The disk takes nothing; readings wait in the spool file, none is lost.';
  if (!isWell(store.kind)) return 'The keeping of readings needs a look.';
  if (!clock.trusted) return 'Readings are kept, but the clock is not believed.';
  if (store.lastCheck !== null && !store.lastCheck.ok)
    return 'Readings are kept, but the last check was not well.';
  if (copy !== null && isAway(copy.state)) return 'Every reading is kept here; the copy elsewhere is behind.';
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

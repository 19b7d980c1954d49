import { computed, signal } from '@preact/signals';
import { get, wordsOf } from '../http/api.ts';
import type { Now } from '../http/shapes.ts';
import { degree } from '../words/units.ts';
import { listen, type ReadingHint, SILENCE_MS } from './events.ts';

/** The whole first screen as last fetched; null before the first answer. */
export const now = signal<Now | null>(null);
/** Why the last fetch failed, in words; null when it went well. */
export const trouble = signal<string | null>(null);
/** The latest reading heard, as a hint for pages that draw a chart. */
export const lastReading = signal<ReadingHint | null>(null);

/** When the page last learned anything, by this phone's clock; never compared with the clock of the service. */
const heardAt = signal(Date.now());
const tick = signal(Date.now());

/** True when what is shown may no longer be so. */
export const stale = computed(() => trouble.value !== null || tick.value - heardAt.value > SILENCE_MS);

/** The instant that counts as "now" on the page: the service's clock at the last answer, carried on by ours. */
export const serviceNow = computed(() => {
  const at = now.value?.at;
  return at === undefined ? tick.value : Date.parse(at) + Math.max(0, tick.value - fetchedAt.value);
});

const fetchedAt = signal(Date.now());

const HINT_PAUSE_MS = 2_500;
const REFETCH_MS = 30_000;

let running: Promise<void> | null = null;
let again = false;

/** Fetches the first screen; calls while one is under way are joined into one more. */
export function refresh(): Promise<void> {
  if (running !== null) {
    again = true;
    return running;
  }
  running = fetchNow().finally(() => {
    running = null;
    if (again) {
      again = false;
      void refresh();
    }
  });
  return running;
}

async function fetchNow(): Promise<void> {
  try {
    now.value = await get<Now>(`/api/now?temperature=${degree.value}`);
    fetchedAt.value = Date.now();
    heardAt.value = Date.now();
    tick.value = Date.now();
    trouble.value = null;
  } catch (cause) {
    trouble.value = wordsOf(cause);
  }
}

/** Keeps the first screen true while the page is open. */
export function keepLive(): () => void {
  let pending: ReturnType<typeof setTimeout> | null = null;
  const soon = (): void => {
    if (pending !== null || document.visibilityState === 'hidden') return;
    pending = setTimeout(() => {
      pending = null;
      void refresh();
    }, HINT_PAUSE_MS);
  };
  const stop = listen({
    changed: () => void refresh(),
    reading: (hint) => {
      lastReading.value = hint;
      soon();
    },
    heard: () => {
      heardAt.value = Date.now();
      if (trouble.value !== null) void refresh();
    },
  });
  const clock = setInterval(() => {
    tick.value = Date.now();
  }, 1_000);
  const slow = setInterval(() => {
    if (document.visibilityState !== 'hidden') void refresh();
  }, REFETCH_MS);
  void refresh();
  return () => {
    stop();
    clearInterval(clock);
    clearInterval(slow);
    if (pending !== null) clearTimeout(pending);
  };
}

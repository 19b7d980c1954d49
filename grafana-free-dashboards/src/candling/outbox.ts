// What was entered and has not reached the service. Kept on this phone until the service has it, sent in order by PUT with an
// id made here: sending twice changes nothing, closing the page loses nothing.
import { computed, signal } from '@preact/signals';
import { put, Refusal, wordsOf } from '../http/api.ts';
import { keep, kept } from '../words/kept.ts';

export interface Unsent {
  clutch: string;
  kind: 'candlings' | 'outcomes';
  id: string;
  body: { egg: number; at: string };
  /** Why the service would not have it; such an entry is not sent again by itself. */
  refused: string | null;
}

const KEY = 'incubation.unsent';

export const outbox = signal<Unsent[]>(stored());
export const waiting = computed(() => outbox.value.filter((u) => u.refused === null).length);
/** Rises whenever the service took something, so that pages ask anew. */
export const taken = signal(0);
/** Why nothing can be sent now, or null. */
export const outboxTrouble = signal<string | null>(null);

function stored(): Unsent[] {
  try {
    const parsed: unknown = JSON.parse(kept(KEY) ?? '[]');
    return Array.isArray(parsed) ? parsed.filter(isUnsent) : [];
  } catch {
    return [];
  }
}

function isUnsent(value: unknown): value is Unsent {
  const u = value as Partial<Unsent> | null;
  return (
    typeof u === 'object' &&
    u !== null &&
    typeof u.clutch === 'string' &&
    typeof u.id === 'string' &&
    (u.kind === 'candlings' || u.kind === 'outcomes') &&
    typeof u.body?.egg === 'number'
  );
}

function set(next: Unsent[]): void {
  outbox.value = next;
  keep(KEY, JSON.stringify(next));
}

/** Puts an entry in line and begins to send. It is on screen and on this phone before this returns. */
export function enter(entry: Omit<Unsent, 'refused'>): Promise<void> {
  set([...outbox.value, { ...entry, refused: null }]);
  return flush();
}

/** After reading why it was refused, the keeper puts it away. */
export function putAway(id: string): void {
  set(outbox.value.filter((u) => u.id !== id));
}

let running: Promise<void> | null = null;

export function flush(): Promise<void> {
  running ??= sendAll().finally(() => {
    running = null;
  });
  return running;
}

async function sendAll(): Promise<void> {
  for (;;) {
    const next = outbox.value.find((u) => u.refused === null);
    if (next === undefined) break;
    try {
      await put(`/api/clutches/${encodeURIComponent(next.clutch)}/${next.kind}/${next.id}`, next.body);
      putAway(next.id);
      taken.value++;
      outboxTrouble.value = null;
    } catch (cause) {
      if (comesBack(cause)) {
        outboxTrouble.value = wordsOf(cause);
        return;
      }
      const words = refusalWords(cause);
      set(outbox.value.map((u) => (u.id === next.id ? { ...u, refused: words } : u)));
    }
  }
  outboxTrouble.value = null;
}

/** No signal, a restart, a sign-in that ran out: later it will go. Anything else is the service's last word. */
function comesBack(cause: unknown): boolean {
  return (
    cause instanceof Refusal &&
    (cause.status === 0 || cause.status >= 500 || [401, 408, 429].includes(cause.status))
  );
}

function refusalWords(cause: unknown): string {
  const fields = cause instanceof Refusal ? Object.values(cause.errors).flat() : [];
  return fields.length > 0 ? fields.join(' ') : wordsOf(cause);
}

/** Tries again whenever there is hope: at the start, when the network is back, and every half minute while something waits. */
export function keepSending(): () => void {
  const tryAgain = (): void => {
    if (waiting.value > 0) void flush();
  };
  tryAgain();
  window.addEventListener('online', tryAgain);
  const timer = setInterval(tryAgain, 30_000);
  return () => {
    window.removeEventListener('online', tryAgain);
    clearInterval(timer);
  };
}

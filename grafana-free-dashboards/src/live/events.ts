// The live feed is only a hint that something is new. What is shown is always fetched with a plain GET, because a phone
// that slept may have missed anything, and a socket that looks open may be dead.

export interface ReadingHint {
  probe: string;
  incubator: string | null;
  quantity: string;
  value: number;
  at: string;
  quality: string;
}

export interface LiveHandlers {
  /** Something about alarms or the facility changed, or we may have missed something: fetch again. */
  changed(): void;
  reading(hint: ReadingHint): void;
  /** Any event at all, heartbeats too. */
  heard(): void;
}

/** What the feed needs of the browser; tests give their own. */
export interface LiveWorld {
  open(url: string): EventSource;
  now(): number;
}

export const SILENCE_MS = 40_000;
const FIRST_RETRY_MS = 2_000;
const LONGEST_RETRY_MS = 30_000;
const LOOK_EVERY_MS = 1_000;

const browserWorld: LiveWorld = { open: (url) => new EventSource(url), now: () => Date.now() };

/** Opens the feed and keeps it open; returns how to close it for good. */
export function listen(
  handlers: LiveHandlers,
  world: LiveWorld = browserWorld,
  url = '/api/events',
): () => void {
  let source: EventSource | null = null;
  let heardAt = world.now();
  let retryAt: number | null = null;
  let failures = 0;

  const heard = (): void => {
    heardAt = world.now();
    failures = 0;
    handlers.heard();
  };

  const close = (): void => {
    source?.close();
    source = null;
  };

  const open = (): void => {
    close();
    retryAt = null;
    heardAt = world.now();
    const opened = world.open(url);
    source = opened;
    const on = (name: string, then: (data: string) => void): void => {
      opened.addEventListener(name, (event) => {
        if (source !== opened) return;
        heard();
        then((event as MessageEvent<string>).data);
      });
    };
    on('hello', () => handlers.changed());
    on('heartbeat', () => undefined);
    on('alarms', () => handlers.changed());
    on('facility', () => handlers.changed());
    on('resync', () => handlers.changed());
    on('reading', (data) => {
      const hint = readingOf(data);
      if (hint !== null) handlers.reading(hint);
    });
    opened.addEventListener('error', () => {
      if (source === opened) later();
    });
  };

  // The browser's own retry gives up for good on an HTTP error, so the retry is ours.
  const later = (): void => {
    close();
    retryAt = world.now() + Math.min(LONGEST_RETRY_MS, FIRST_RETRY_MS * 2 ** Math.min(failures, 6));
    failures++;
  };

  const look = (): void => {
    const now = world.now();
    if (source !== null && now - heardAt > SILENCE_MS) open();
    else if (source === null && retryAt !== null && now >= retryAt) open();
  };

  const awake = (): void => {
    if (document.visibilityState === 'hidden') return;
    open();
    handlers.changed();
  };
  const shown = (event: PageTransitionEvent): void => {
    if (event.persisted) awake();
  };

  document.addEventListener('visibilitychange', awake);
  window.addEventListener('pageshow', shown);
  window.addEventListener('online', awake);
  const timer = setInterval(look, LOOK_EVERY_MS);
  open();

  return () => {
    clearInterval(timer);
    document.removeEventListener('visibilitychange', awake);
    window.removeEventListener('pageshow', shown);
    window.removeEventListener('online', awake);
    close();
  };
}

export function readingOf(data: string): ReadingHint | null {
  try {
    const hint = JSON.parse(data) as Partial<ReadingHint>;
    return typeof hint.probe === 'string' && typeof hint.value === 'number' ? (hint as ReadingHint) : null;
  } catch {
    return null;
  }
}

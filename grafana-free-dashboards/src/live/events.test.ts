import { afterEach, beforeEach, describe, expect, it, type Mock, vi } from 'vitest';
import { type LiveHandlers, listen, readingOf, SILENCE_MS } from './events.ts';

class FakeSource extends EventTarget {
  closed = false;
  close(): void {
    this.closed = true;
  }
  say(name: string, data = '{}'): void {
    this.dispatchEvent(new MessageEvent(name, { data }));
  }
}

let sources: FakeSource[] = [];
let handlers: { [K in keyof LiveHandlers]: Mock<LiveHandlers[K]> };
let stop: () => void = () => undefined;
const last = (): FakeSource => sources.at(-1) as FakeSource;

beforeEach(() => {
  vi.useFakeTimers();
  sources = [];
  handlers = { changed: vi.fn(), reading: vi.fn(), heard: vi.fn() };
  stop = listen(handlers, {
    open: () => {
      sources.push(new FakeSource());
      return last() as unknown as EventSource;
    },
    now: () => Date.now(),
  });
});

afterEach(() => {
  stop();
  vi.useRealTimers();
});

describe('the live feed', () => {
  it.each(['hello', 'alarms', 'facility', 'resync'])('fetches anew on %s', (name) => {
    last().say(name);
    expect(handlers.changed).toHaveBeenCalledOnce();
  });

  it('counts a heartbeat as heard and fetches nothing', () => {
    last().say('heartbeat');
    expect(handlers.heard).toHaveBeenCalledOnce();
    expect(handlers.changed).not.toHaveBeenCalled();
  });

  it('hands on a reading and ignores one it cannot read', () => {
    last().say('reading', '{"probe":"hazel-low","incubator":"hazel","quantity":"temperature","value":31.4}');
    last().say('reading', 'not json');
    expect(handlers.reading).toHaveBeenCalledOnce();
    expect(readingOf('{"probe":1}')).toBeNull();
  });

  it('is opened anew after forty silent seconds, though it looks open', () => {
    vi.advanceTimersByTime(SILENCE_MS - 1000);
    expect(sources).toHaveLength(1);
    vi.advanceTimersByTime(3000);
    expect(sources).toHaveLength(2);
    expect(sources[0]?.closed).toBe(true);
  });

  it('stays open while heartbeats come', () => {
    for (let i = 0; i < 10; i++) {
      vi.advanceTimersByTime(15_000);
      last().say('heartbeat');
    }
    expect(sources).toHaveLength(1);
  });

  it('comes back after errors, each time a little later', () => {
    last().dispatchEvent(new Event('error'));
    vi.advanceTimersByTime(1000);
    expect(sources).toHaveLength(1);
    vi.advanceTimersByTime(2000);
    expect(sources).toHaveLength(2);
    last().dispatchEvent(new Event('error'));
    vi.advanceTimersByTime(3000);
    expect(sources).toHaveLength(2);
    vi.advanceTimersByTime(2000);
    expect(sources).toHaveLength(3);
  });

  it('takes nothing from a source that it has closed', () => {
    const old = last();
    window.dispatchEvent(new Event('online'));
    handlers.changed.mockClear();
    old.say('alarms');
    old.dispatchEvent(new Event('error'));
    expect(handlers.changed).not.toHaveBeenCalled();
    expect(last().closed).toBe(false);
  });

  it('reopens and fetches when the phone wakes, the page comes back or the network does', () => {
    document.dispatchEvent(new Event('visibilitychange'));
    window.dispatchEvent(Object.assign(new Event('pageshow'), { persisted: true }));
    window.dispatchEvent(new Event('online'));
    expect(sources).toHaveLength(4);
    expect(handlers.changed).toHaveBeenCalledTimes(3);
    expect(sources.filter((s) => !s.closed)).toHaveLength(1);
  });

  it('does nothing more once it was stopped', () => {
    stop();
    window.dispatchEvent(new Event('online'));
    vi.advanceTimersByTime(120_000);
    expect(sources).toHaveLength(1);
    expect(last().closed).toBe(true);
  });
});

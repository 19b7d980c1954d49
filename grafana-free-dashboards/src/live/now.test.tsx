import { cleanup, render, screen } from '@testing-library/preact';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { nowOf } from '../../mock/facility.ts';
import { answerWith, problem } from '../../mock/fetch.ts';
import { SILENCE_MS } from './events.ts';
import { keepLive, now, refresh, stale, trouble } from './now.ts';
import { StaleBar } from './StaleBar.tsx';

const AT = Date.parse('2026-11-25T02:12:00Z');

class SilentSource extends EventTarget {
  static last: SilentSource;
  constructor() {
    super();
    SilentSource.last = this;
  }
  close(): void {}
}

beforeEach(() => {
  vi.useFakeTimers({ now: AT });
  vi.stubGlobal('EventSource', SilentSource);
});

afterEach(() => {
  cleanup();
  vi.useRealTimers();
  vi.unstubAllGlobals();
  now.value = null;
  trouble.value = null;
});

describe('what is shown', () => {
  it('is old as soon as a fetch fails, and says since when in the zone of the facility', async () => {
    answerWith({ 'GET /api/now': () => nowOf('calm', AT) });
    await refresh();
    expect(stale.value).toBe(false);
    answerWith({ 'GET /api/now': () => problem(503, 'The records cannot be read.') });
    await refresh();
    expect(stale.value).toBe(true);
    render(<StaleBar />);
    expect(screen.getByRole('status').textContent).toContain(
      'As of 03:12, not connected. The records cannot be read.',
    );
    expect(now.value?.incubators).toHaveLength(5);
  });

  it('is old when nothing was heard for forty seconds though nothing failed', async () => {
    let release: (shown: unknown) => void = () => undefined;
    answerWith({ 'GET /api/now': () => new Promise((resolve) => (release = resolve)) });
    const stop = keepLive();
    await vi.advanceTimersByTimeAsync(SILENCE_MS - 2000);
    expect(stale.value).toBe(false);
    await vi.advanceTimersByTimeAsync(4000);
    expect(stale.value).toBe(true);
    SilentSource.last.dispatchEvent(new MessageEvent('heartbeat', { data: '{}' }));
    await vi.advanceTimersByTimeAsync(1000);
    expect(stale.value).toBe(false);
    stop();
    release(nowOf('calm', AT));
    await vi.advanceTimersByTimeAsync(0);
    release(nowOf('calm', AT));
    await vi.advanceTimersByTimeAsync(0);
  });

  it('is fetched once for many hints at once', async () => {
    const asked = answerWith({ 'GET /api/now': () => nowOf('calm', AT) });
    const stop = keepLive();
    await vi.advanceTimersByTimeAsync(100);
    const before = asked.length;
    for (let i = 0; i < 50; i++) {
      const data = `{"probe":"p","incubator":"hazel","quantity":"temperature","value":31,"at":"x","quality":"good"}`;
      SilentSource.last.dispatchEvent(new MessageEvent('reading', { data }));
    }
    await vi.advanceTimersByTimeAsync(5000);
    expect(asked.length - before).toBe(1);
    stop();
  });
});

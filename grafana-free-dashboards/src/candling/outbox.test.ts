import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { answerWith, problem } from '../../mock/fetch.ts';
import { enter, flush, outbox, outboxTrouble, taken, waiting } from './outbox.ts';

const look = (id: string, egg = 1) => ({
  clutch: 'c-07',
  kind: 'candlings' as const,
  id,
  body: { egg, at: '2026-11-25T09:00:00.000Z' },
});

beforeEach(() => {
  outbox.value = [];
  localStorage.clear();
});

afterEach(() => {
  vi.unstubAllGlobals();
  outbox.value = [];
});

describe('what was entered', () => {
  it('is in line and on this phone before anything is sent, and gone once the service has it', async () => {
    const asked = answerWith({ 'PUT /api/clutches/c-07/candlings/': () => ({}) });
    const before = taken.value;
    const sent = enter(look('a'));
    expect(waiting.value).toBe(1);
    expect(localStorage.getItem('incubation.unsent')).toContain('"id":"a"');
    await sent;
    expect(asked.map((a) => [a.method, a.path])).toEqual([['PUT', '/api/clutches/c-07/candlings/a']]);
    expect(outbox.value).toEqual([]);
    expect(JSON.parse(localStorage.getItem('incubation.unsent') ?? '')).toEqual([]);
    expect(taken.value).toBe(before + 1);
  });

  it('waits without a signal, in order, and is sent once each when there is one', async () => {
    vi.stubGlobal('fetch', () => Promise.reject(new TypeError('no network')));
    await enter(look('a', 1));
    await enter(look('b', 2));
    await enter(look('c', 3));
    expect(waiting.value).toBe(3);
    expect(outboxTrouble.value).toContain('cannot be reached');
    const asked = answerWith({ 'PUT /api/clutches/': () => ({}) });
    await Promise.all([flush(), flush(), flush()]);
    expect(asked.map((a) => a.path.split('/').at(-1))).toEqual(['a', 'b', 'c']);
    expect(outboxTrouble.value).toBeNull();
  });

  it('waits while the service restarts or the sign-in ran out', async () => {
    for (const status of [503, 401]) {
      answerWith({ 'PUT /api/clutches/': () => problem(status, 'Not now.') });
      await enter(look(`s${status}`));
    }
    expect(waiting.value).toBe(2);
  });

  it('that is refused is kept with the words, and does not hold up the rest', async () => {
    answerWith({
      'PUT /api/clutches/c-07/candlings/bad': () =>
        problem(400, 'x', { egg: ['There is no egg 99 in this clutch.'] }),
      'PUT /api/clutches/': () => ({}),
    });
    void enter(look('bad', 99));
    await enter(look('good', 2));
    await flush();
    expect(outbox.value.map((u) => [u.id, u.refused])).toEqual([
      ['bad', 'There is no egg 99 in this clutch.'],
    ]);
    expect(waiting.value).toBe(0);
  });

  it('survives the page: what another page had kept is read at the start, and rubbish is not', async () => {
    const good = { ...look('kept'), refused: null };
    localStorage.setItem('incubation.unsent', JSON.stringify([good, { id: 3 }, null]));
    vi.resetModules();
    const fresh = await import('./outbox.ts');
    expect(fresh.outbox.value).toEqual([good]);
    localStorage.setItem('incubation.unsent', '{broken');
    vi.resetModules();
    expect((await import('./outbox.ts')).outbox.value).toEqual([]);
  });
});

import { cleanup, fireEvent, render, screen } from '@testing-library/preact';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { nowOf } from '../../mock/facility.ts';
import { answerWith, problem } from '../../mock/fetch.ts';
import { careOf } from '../../mock/night.ts';
import { now } from '../live/now.ts';
import { CareButtons } from './CareButtons.tsx';
import { careDuring, careWords, takenBack } from './entries.ts';
import { newId } from './ids.ts';

const AT = Date.parse('2026-11-25T02:12:00Z');
const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;

afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
  now.value = null;
});

const press = (name: string): void => void fireEvent.click(screen.getByRole('button', { name }));

describe('the care log', () => {
  it('takes two presses: what, and done', async () => {
    now.value = nowOf('calm', AT);
    const asked = answerWith({ 'GET /api/care': () => careOf(AT), 'PUT /api/care/': () => undefined });
    render(<CareButtons on="incubator" keyOf="hazel" />);
    press('Lid or door');
    press('Lid or door: done just now');
    expect(await screen.findByText(/^Kept: Lid or door, 03:12/)).toBeTruthy();
    const sent = asked.find((a) => a.method === 'PUT');
    expect(sent?.path.slice('/api/care/'.length)).toMatch(UUID);
    expect(sent?.body).toMatchObject({ on: 'incubator', key: 'hazel', kind: 'lid' });
    expect(sent?.body).not.toHaveProperty('note');
  });

  it('keeps the same id when it is sent again after a failure, so that nothing is kept twice', async () => {
    now.value = nowOf('calm', AT);
    let failed = false;
    const asked = answerWith({
      'GET /api/care': () => [],
      'PUT /api/care/': () => {
        if (failed) return undefined;
        failed = true;
        return problem(503, 'The records cannot be written.');
      },
    });
    render(<CareButtons on="tub" keyOf="tub-2" />);
    press('Fan');
    press('Fan: done just now');
    expect(await screen.findByText('The records cannot be written.')).toBeTruthy();
    press('Fan: done just now');
    await screen.findByText(/^Kept: Fan/);
    const paths = asked.filter((a) => a.method === 'PUT').map((a) => a.path);
    expect(paths).toHaveLength(2);
    expect(paths[0]).toBe(paths[1]);
  });

  it('says a slip by a second line and rubs nothing out', async () => {
    now.value = nowOf('calm', AT);
    const asked = answerWith({ 'GET /api/care': () => [], 'PUT /api/care/': () => undefined });
    render(<CareButtons on="tub" keyOf="tub-2" />);
    press('Water');
    fireEvent.input(screen.getByLabelText('How much, if you weighed it'), { target: { value: '40' } });
    press('Water: done just now');
    await screen.findByText(/^Kept: Water, 40/);
    press('That was a slip');
    await vi.waitFor(() => expect(asked.filter((a) => a.method === 'PUT')).toHaveLength(2));
    const [first, second] = asked.filter((a) => a.method === 'PUT');
    expect(first?.body).toMatchObject({ kind: 'water', waterGrams: 40 });
    expect(second?.path).not.toBe(first?.path);
    expect(second?.body).toMatchObject({
      kind: 'other',
      note: 'Not so: “water, 40\u00a0g” of 03:12 was a slip.',
    });
  });

  it('asks what was done when it is none of the kinds', () => {
    answerWith({ 'GET /api/care': () => [] });
    render(<CareButtons on="tub" keyOf="tub-2" />);
    press('Else');
    press('Else: done just now');
    expect(screen.getByText('Say what was done.')).toBeTruthy();
  });

  it('shows notes as they are written', async () => {
    now.value = nowOf('calm', AT);
    answerWith({ 'GET /api/care': () => careOf(AT) });
    render(<CareButtons on="incubator" keyOf="hazel" />);
    expect(await screen.findByText(/<b>Keep an eye on it<\/b> 🥚/)).toBeTruthy();
    expect(document.querySelector('.care-list b')).toBeNull();
  });
});

describe('the care of a clutch', () => {
  it('is what was done with its tubs while it lay in them, the newest first', async () => {
    const line = (id: string, key: string, at: string) => ({
      id,
      on: 'tub',
      key,
      kind: 'lid',
      by: 'Ilka',
      at,
    });
    answerWith({
      'GET /api/care?on=tub&key=t-1': () => [
        line('next season', 't-1', '2026-10-01T00:00:00.000Z'),
        line('first', 't-1', '2025-10-02T08:00:00Z'),
      ],
      'GET /api/care?on=tub&key=t-2': () => [line('second', 't-2', '2025-11-02T08:00:00Z')],
    });
    const stays = [
      { tub: 't-1', from: '2025-10-01T00:00:00Z', until: '2025-11-01T00:00:00.000Z' },
      { tub: 't-2', from: '2025-11-01T00:00:00.000Z', until: null },
    ];
    expect((await careDuring(stays, 200)).map((e) => e.id)).toEqual(['second', 'first']);
  });
});

describe('a line of care', () => {
  it('has an id even where the browser makes none', () => {
    vi.stubGlobal('crypto', { getRandomValues: (a: Uint8Array) => a.fill(0xff) });
    expect(newId()).toMatch(UUID);
  });

  it('is said with its grams', () => {
    expect(careWords({ kind: 'water', waterGrams: 40 })).toBe('Water, 40\u00a0g');
    const line = {
      id: 'a',
      on: 'tub' as const,
      key: 't',
      kind: 'lid' as const,
      waterGrams: null,
      note: '',
      at: 'x',
    };
    expect(takenBack(line, 'b', 'y', '03:12')).toMatchObject({ id: 'b', kind: 'other', at: 'y' });
  });
});

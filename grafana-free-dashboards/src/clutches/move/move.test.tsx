import { cleanup, fireEvent, render, screen } from '@testing-library/preact';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { nowOf } from '../../../mock/facility.ts';
import { answerWith, problem } from '../../../mock/fetch.ts';
import { brief, TUBS } from '../../../mock/night.ts';
import { now } from '../../live/now.ts';
import { MovePage, whereSentence } from './MovePage.tsx';
import { moveFrom } from './move.ts';

const AT = Date.parse('2026-11-25T12:00:00Z');

afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
  now.value = null;
});

const answers = () => ({
  'GET /api/clutches/c-03': () => ({ clutch: brief('c-03') }),
  'GET /api/tubs': () => TUBS,
  'GET /api/now': () => nowOf('calm', AT),
});

describe('the time of a move', () => {
  it('is left to the service when it is now', () => {
    expect(moveFrom({ when: 'now', date: '', time: '' }, 'Europe/Vienna', AT)).toEqual({});
  });

  it('is read on the clock of the facility when it was earlier', () => {
    const time = { when: 'earlier' as const, date: '2026-11-24', time: '07:40' };
    expect(moveFrom(time, 'Europe/Vienna', AT)).toEqual({ from: '2026-11-24T06:40:00Z' });
    expect(moveFrom(time, 'America/New_York', AT)).toEqual({ from: '2026-11-24T12:40:00Z' });
  });

  it('is refused when it is still to come or no time at all', () => {
    expect(moveFrom({ when: 'earlier', date: '2027-11-24', time: '07:40' }, 'UTC', AT)).toHaveProperty(
      'errors',
    );
    expect(moveFrom({ when: 'earlier', date: '', time: '' }, 'UTC', AT)).toHaveProperty('errors');
  });
});

describe('moving', () => {
  it('begins with where it lies now', () => {
    expect(whereSentence(brief('c-03'), TUBS)).toBe('C-03 lies in tub 2, in Hazel.');
    expect(whereSentence(brief('c-03', { tub: null }), TUBS)).toBe('C-03 lies in no tub yet.');
    expect(whereSentence(brief('c-03', { incubatorName: null }), TUBS)).toContain('stands in no incubator');
  });

  it('puts the tub into another incubator by two presses', async () => {
    now.value = nowOf('calm', AT);
    const asked = answerWith({ ...answers(), 'POST /api/tubs/tub-2/placements': () => ({}) });
    render(<MovePage clutch="c-03" />);
    fireEvent.click(await screen.findByRole('radio', { name: 'Linden' }));
    fireEvent.click(screen.getByRole('button', { name: 'It is moved' }));
    await screen.findByText(/^Kept\./);
    expect(asked.find((a) => a.method === 'POST')?.body).toEqual({ incubator: 'linden' });
  });

  it('shows why a move with the wrong date is refused', async () => {
    now.value = nowOf('calm', AT);
    const words = 'The move is before the eggs were laid: check its date, or the lay date.';
    answerWith({
      ...answers(),
      'POST /api/clutches/c-03/placements': () => problem(400, 'x', { from: [words] }),
    });
    render(<MovePage clutch="c-03" />);
    fireEvent.click(await screen.findByRole('radio', { name: 'the eggs, to another tub' }));
    fireEvent.click(screen.getByRole('radio', { name: '5' }));
    fireEvent.click(screen.getByRole('button', { name: 'It is moved' }));
    expect(await screen.findByText(words)).toBeTruthy();
  });
});

import { cleanup, fireEvent, render, screen } from '@testing-library/preact';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { nowOf } from '../../mock/facility.ts';
import { answerWith, problem } from '../../mock/fetch.ts';
import type { Alarm } from '../http/shapes.ts';
import { AnswerButton } from './AnswerButton.tsx';
import { answering } from './answer.ts';

const AT = Date.parse('2026-11-25T02:12:00Z');
const alarm = nowOf('danger', AT).alarms[0] as Alarm;
const answered = nowOf('answered', AT).alarms[0] as Alarm;
const show = (shown: Alarm) => render(<AnswerButton alarm={shown} at={AT} zone="Europe/Vienna" main />);

afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
  answering.value = new Map();
});

describe('"I am on it"', () => {
  it('says "Telling…" until the service has answered, and only then who has it', async () => {
    let tell: (answer: Alarm) => void = () => undefined;
    const asked = answerWith({
      'POST /api/alarms/': () => new Promise<Alarm>((resolve) => (tell = resolve)),
      'GET /api/now': () => nowOf('answered', AT),
    });
    show(alarm);
    fireEvent.click(screen.getByRole('button', { name: 'I am on it' }));
    const button = await screen.findByRole('button', { name: 'Telling…' });
    expect(screen.getByRole('status').textContent).toBe('');
    fireEvent.click(button);
    tell(answered);
    expect(await screen.findByText('Ilka has it since 03:10. Calling has stopped.')).toBeTruthy();
    expect(asked.filter((a) => a.method === 'POST')).toEqual([
      { method: 'POST', path: `/api/alarms/${alarm.occurrence}/answers`, body: undefined },
    ]);
  });

  it('says the words of the problem and can be pressed again', async () => {
    answerWith({
      'POST /api/alarms/': () => problem(409, 'It has ended meanwhile.'),
      'GET /api/now': () => nowOf('danger', AT),
    });
    show(alarm);
    fireEvent.click(screen.getByRole('button', { name: 'I am on it' }));
    expect(await screen.findByText(/^Not told: It has ended meanwhile\./)).toBeTruthy();
    expect(screen.getByRole('button', { name: 'I am on it' }).hasAttribute('disabled')).toBe(false);
  });

  it('says that it was not told when the service cannot be reached', async () => {
    vi.stubGlobal('fetch', () => Promise.reject(new TypeError('network')));
    show(alarm);
    fireEvent.click(screen.getByRole('button', { name: 'I am on it' }));
    expect(await screen.findByText(/^Not told: The service cannot be reached/)).toBeTruthy();
  });

  it('is "I have seen it" for what is right again', () => {
    show({ ...alarm, state: 'returned to normal, unacknowledged', returnedAt: '2026-11-25T02:10:00Z' });
    expect(screen.getByRole('button', { name: 'I have seen it' })).toBeTruthy();
  });
});

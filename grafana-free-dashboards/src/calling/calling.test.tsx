import { cleanup, fireEvent, render, screen } from '@testing-library/preact';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { answerWith, problem } from '../../mock/fetch.ts';
import { callOrder } from '../../mock/things.ts';
import { CallingPage } from './CallingPage.tsx';
import { moved, orderSentence, parseOrder, textsOfStep } from './order.ts';

afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

const fresh = () => structuredClone(callOrder);

describe('the call-out order', () => {
  it('comes back as it was', () => {
    expect(parseOrder(fresh().steps.map(textsOfStep))).toEqual({ steps: fresh().steps });
  });

  it('is said as a person would', () => {
    expect(orderSentence(fresh().steps)).toBe(
      'Ilka is called at once; without an answer, Matteo after 10 min.',
    );
    expect(orderSentence([])).toBe('Nobody would be called.');
    expect(orderSentence(fresh().steps.map((s) => ({ ...s, enabled: false })))).toBe(
      'Nobody would be called.',
    );
  });

  it('refuses what is no time, by step and field', () => {
    const [first] = fresh().steps.map(textsOfStep);
    if (first === undefined) throw new Error('a step expected');
    expect(parseOrder([{ ...first, afterMinutes: 'soon', repeatMinutes: '-1' }])).toEqual({
      errors: {
        'steps[0].afterSeconds': [expect.any(String)],
        'steps[0].repeatSeconds': [expect.any(String)],
      },
    });
  });

  it('is moved without losing a step', () => {
    expect(moved(['a', 'b', 'c'], 2, -1)).toEqual(['a', 'c', 'b']);
    expect(moved(['a', 'b'], 0, -1)).toEqual(['a', 'b']);
  });
});

describe('the page of who is called', () => {
  it('sends a test, and does not call it received', async () => {
    const asked = answerWith({ 'GET /api/call-out': fresh, 'POST /api/call-out/tests': () => undefined });
    render(<CallingPage />);
    fireEvent.click(await screen.findByRole('button', { name: 'Send a test to Ilka' }));
    expect(await screen.findByText('Sent. Ask Ilka whether it rang.')).toBeTruthy();
    expect(asked.at(-1)).toEqual({ method: 'POST', path: '/api/call-out/tests', body: { step: 'a' } });
  });

  it('never sends a secret that was not typed, and shows problems at their field', async () => {
    const asked = answerWith({
      'GET /api/call-out': fresh,
      'PUT /api/call-out': () => problem(400, 'x', { 'steps[1].address': ['Must begin with https.'] }),
    });
    render(<CallingPage />);
    const address = (await screen.findByLabelText('Address it is posted to')) as HTMLInputElement;
    fireEvent.input(address, { target: { value: 'ring' } });
    fireEvent.click(await screen.findByRole('button', { name: 'Save the order' }));
    expect(await screen.findByText('Must begin with https.')).toBeTruthy();
    const sent = asked.find((a) => a.method === 'PUT')?.body as { steps: object[] };
    expect(sent.steps[1]).not.toHaveProperty('secret');
  });
});

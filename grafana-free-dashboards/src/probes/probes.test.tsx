import { cleanup, fireEvent, render, screen, within } from '@testing-library/preact';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { nowOf } from '../../mock/facility.ts';
import { answerWith, problem } from '../../mock/fetch.ts';
import { probesOf, rejectedOf } from '../../mock/things.ts';
import { now } from '../live/now.ts';
import { placeParts } from './ProbeCard.tsx';
import { ProbesPage } from './ProbesPage.tsx';
import { marksOf } from './rank.ts';
import { probesSentence } from './words.ts';

const AT = Date.parse('2026-11-25T02:12:00Z');

afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
  now.value = null;
});

const answers = () => ({
  'GET /api/probes': () => probesOf('danger', AT),
  'GET /api/rejected-messages': () => rejectedOf(AT),
  'GET /api/now': () => nowOf('danger', AT),
});

describe('probes', () => {
  it('are summed up in one sentence', () => {
    expect(probesSentence(probesOf('danger', AT))).toBe(
      'One probe waits to be placed, and 3 probes need a look.',
    );
    expect(probesSentence({ placed: [], notPlaced: [] })).toBe('No probe has been heard yet.');
  });

  it('name their tub once', () => {
    const at = (where: string, tubName: string): string[] => placeParts({ where, tub: 'key', tubName });
    expect(at('Tub 2, between eggs', 'Tub 2')).toEqual(['Tub 2, between eggs']);
    expect(at('Tub 21, between eggs', 'Tub 2')).toEqual(['Tub 21, between eggs', 'in Tub 2']);
    expect(at('between eggs', '7')).toEqual(['between eggs', 'in tub 7']);
  });

  it('say what makes their values less than they seem', () => {
    const marks = probesOf('danger', AT).placed.map(marksOf);
    expect(marks[0]).toEqual([]);
    expect(marks[2]?.[0]).toMatch(/^humidity saturated/);
    expect(marks[3]).toEqual(['clock off by 2 h 1 min; its readings are kept at arrival time']);
    expect(marks[4]).toEqual(['temperature faulty']);
  });

  it('are placed in one step', async () => {
    now.value = nowOf('danger', AT);
    const asked = answerWith({ ...answers(), 'POST /api/probes/sorrel-low-2/placements': () => ({}) });
    render(<ProbesPage />);
    const waiting = await screen.findByRole('region', { name: 'Heard, not yet placed' });
    fireEvent.change(within(waiting).getByLabelText('Incubator'), { target: { value: 'sorrel' } });
    fireEvent.input(within(waiting).getByLabelText('Where in it'), { target: { value: ' lower shelf ' } });
    fireEvent.click(within(waiting).getByRole('button', { name: 'Place it here' }));
    await vi.waitFor(() => expect(asked.some((a) => a.method === 'POST')).toBe(true));
    expect(asked.find((a) => a.method === 'POST')?.body).toEqual({
      incubator: 'sorrel',
      where: 'lower shelf',
    });
  });

  it('show why a placement was refused, at its field', async () => {
    now.value = nowOf('danger', AT);
    answerWith({
      ...answers(),
      'POST /api/probes/sorrel-low-2/placements': () =>
        problem(400, 'x', { where: ['At most 80 characters.'] }),
    });
    render(<ProbesPage />);
    const waiting = await screen.findByRole('region', { name: 'Heard, not yet placed' });
    fireEvent.click(within(waiting).getByRole('button', { name: 'Place it here' }));
    expect(await within(waiting).findByText('At most 80 characters.')).toBeTruthy();
  });

  it('show rejected messages with reason, topic and count', async () => {
    now.value = nowOf('danger', AT);
    answerWith(answers());
    render(<ProbesPage />);
    const rejected = await screen.findByRole('region', { name: 'Messages that could not be read' });
    expect(rejected.textContent).toContain('400 °C is outside −40 to 80 °C.');
    expect(rejected.textContent).toContain('212 times, last 03:07.');
  });
});

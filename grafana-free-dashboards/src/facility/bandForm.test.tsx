import { cleanup, fireEvent, render, screen } from '@testing-library/preact';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { BAND, HUMIDITY_BAND, nowOf } from '../../mock/facility.ts';
import { answerWith, problem } from '../../mock/fetch.ts';
import { chooseDegree } from '../words/units.ts';
import { BandEditor, bandWords } from './BandEditor.tsx';
import { parseBand, textsOf } from './bandForm.ts';
import { incubatorSentence, nextSentence } from './sentence.ts';

beforeEach(() => chooseDegree('Cel'));
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

describe('the band as texts', () => {
  it.each(['Cel', 'degF'] as const)('comes back as it was in %s', (degree) => {
    chooseDegree(degree);
    expect(parseBand(textsOf(BAND, 'temperature'), 'temperature')).toEqual({ band: BAND });
    expect(parseBand(textsOf(HUMIDITY_BAND, 'humidity'), 'humidity')).toEqual({ band: HUMIDITY_BAND });
  });

  it('takes a decimal comma, and refuses what is no number, by field', () => {
    const texts = textsOf(BAND, 'temperature');
    expect(parseBand({ ...texts, warningHigh: '32,7' }, 'temperature')).toEqual({
      band: { ...BAND, warningHigh: 32.7 },
    });
    expect(parseBand({ ...texts, warningHigh: 'warm', deadband: '' }, 'temperature')).toEqual({
      errors: { warningHigh: [expect.any(String)], deadband: [expect.any(String)] },
    });
  });

  it('is said in words', () => {
    expect(bandWords(BAND, 'temperature')).toBe(
      '30.5\u00a0°C to 32.5\u00a0°C; danger below 29.5\u00a0°C or above 33.5\u00a0°C.',
    );
    expect(bandWords(HUMIDITY_BAND, 'humidity')).toBe('at least 80\u00a0%RH; danger below 70\u00a0%RH.');
    expect(bandWords(null, 'humidity')).toContain('never an alarm');
  });
});

describe('the band editor', () => {
  it('shows the words of the problem beside the field they are about, and keeps what was typed', async () => {
    const asked = answerWith({
      'PUT /api/incubators/hazel/bands/temperature': () =>
        problem(400, 'x', { warningLow: ['Must lie below warning high, 32.5 °C.'] }),
    });
    render(
      <BandEditor incubator="hazel" quantity="temperature" band={BAND} onSaved={async () => undefined} />,
    );
    fireEvent.click(screen.getByRole('button', { name: /Change/ }));
    const field = screen.getByLabelText('Warning below') as HTMLInputElement;
    fireEvent.input(field, { target: { value: '40' } });
    fireEvent.click(screen.getByRole('button', { name: 'Save the band' }));
    const words = await screen.findByText('Must lie below warning high, 32.5 °C.');
    expect(field.getAttribute('aria-describedby')).toContain(words.id);
    expect(field.getAttribute('aria-invalid')).toBe('true');
    expect(field.value).toBe('40');
    expect(asked[0]?.body).toEqual({ ...BAND, warningLow: 40 });
  });
});

describe('the sentence of one incubator', () => {
  const AT = Date.parse('2026-11-25T02:12:00Z');
  const of = (state: Parameters<typeof nowOf>[0], i: number) => {
    const incubator = nowOf(state, AT).incubators[i];
    if (incubator === undefined) throw new Error('no such incubator');
    return incubator;
  };

  it('says how far it is out and which way it goes', () => {
    expect(incubatorSentence(of('danger', 0))).toBe('Hazel is 1.5\u00a0°C above its band.');
    expect(nextSentence(of('danger', 0))).toBe('The temperature is rising by 1.1\u00a0°C an hour.');
    expect(incubatorSentence(of('several', 2))).toMatch(
      /^Juniper is \d+\u00a0%RH below its band in humidity\.$/,
    );
  });

  it('says that it is in its band only when everything is heard', () => {
    expect(incubatorSentence(of('calm', 1))).toMatch(
      /^Rowan is in its band at 31\.\d\u00a0°C and \d+\u00a0%RH\.$/,
    );
    expect(incubatorSentence(of('silent', 1))).toBe('It is not known how Rowan is.');
    const half = of('calm', 1);
    const [temperature, humidity] = half.quantities;
    if (temperature === undefined || humidity === undefined) throw new Error('two quantities expected');
    const shown = { ...half, quantities: [temperature, { ...humidity, quality: 'silent' as const }] };
    expect(incubatorSentence(shown)).toContain('its humidity is not known');
  });
});

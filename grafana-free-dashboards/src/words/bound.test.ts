import { describe, expect, it } from 'vitest';
import { bound } from './units.ts';

describe('a sentence of the service', () => {
  it('keeps figures together with their units', () => {
    expect(bound('It is 33.3 °C, 0.8 °C above, at 84 %RH.')).toBe(
      'It is 33.3\u00a0°C, 0.8\u00a0°C above, at 84\u00a0%RH.',
    );
  });

  it('leaves the rest as it is', () => {
    expect(bound('All 5 incubators are in their bands.')).toBe('All 5 incubators are in their bands.');
  });
});

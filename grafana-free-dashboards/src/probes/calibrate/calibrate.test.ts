import { describe, expect, it } from 'vitest';
import { POINTS } from '../../../mock/readings.ts';
import { lineOf, newDraft, readNumber, saltAt, truthOf } from './draft.ts';

const own = (v: number): number => v;

describe('a calibration', () => {
  it('of one point moves every value, of two points also stretches', () => {
    expect(lineOf([{ measured: 0.18, truth: 0 }])).toEqual({ gain: 1, offset: -0.18 });
    const line = lineOf([
      { measured: 0.2, truth: 0 },
      { measured: 31.8, truth: 31.5 },
    ]);
    expect((line?.gain ?? 0) * 0.2 + (line?.offset ?? 0)).toBeCloseTo(0, 12);
    expect((line?.gain ?? 0) * 31.8 + (line?.offset ?? 0)).toBeCloseTo(31.5, 12);
  });

  it('is none where two points are one, or turn the order of values round', () => {
    expect(lineOf([])).toBeNull();
    expect(
      lineOf([
        { measured: 1, truth: 0 },
        { measured: 1, truth: 5 },
      ]),
    ).toBeNull();
    expect(
      lineOf([
        { measured: 1, truth: 5 },
        { measured: 2, truth: 4 },
      ]),
    ).toBeNull();
  });

  it('reads figures with a comma or a minus sign of either kind, and no words', () => {
    expect(['0,18', '−0.2', ' -3 ', '31.5'].map(readNumber)).toEqual([0.18, -0.2, -3, 31.5]);
    expect(['', 'warm', '1.', '1e3', '0x1', '1,2,3'].map(readNumber)).toEqual([
      null,
      null,
      null,
      null,
      null,
      null,
    ]);
  });

  // Greenspan 1977, table 2: NaCl at 25 °C 75.29 %RH.
  it('against a salt takes its table, in proportion between two points, and nothing outside it', () => {
    const salt = POINTS.salts[0]?.points ?? [];
    expect(saltAt(salt, 25)?.humidity).toBe(75.29);
    expect(saltAt(salt, 22.5)?.humidity).toBeCloseTo((75.47 + 75.29) / 2, 9);
    expect(saltAt(salt, 19.9)).toBeNull();
    expect(saltAt(salt, 30.1)).toBeNull();
    const draft = { ...newDraft('humidity'), method: 'saturated salt' as const, salt: 'sodium-chloride' };
    expect(truthOf(draft, POINTS, own)).toBe(75.29);
    expect(truthOf({ ...draft, celsius: 'warm' }, POINTS, own)).toBeNull();
  });

  it('in ice is held against the ice point whatever is typed', () => {
    expect(truthOf({ ...newDraft('temperature'), method: 'ice bath', truth: '9' }, POINTS, own)).toBe(0);
  });
});

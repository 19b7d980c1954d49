import { describe, expect, it } from 'vitest';
import { BAND, HUMIDITY_BAND } from '../../mock/facility.ts';
import { pathOf, runs, scaleOf, thermometer } from './thermometer.ts';

const trail = (values: number[]): [number, number][] => values.map((v, i) => [i * 120, v]);

describe('the scale', () => {
  it('does not move with the values', () => {
    expect(scaleOf(BAND, 'temperature', [12, 45])).toEqual(scaleOf(BAND, 'temperature', [31.5]));
  });

  it('of humidity ends at 100 %RH', () => {
    expect(scaleOf(HUMIDITY_BAND, 'humidity', []).high).toBe(100);
  });

  it('has a height even when nothing is known', () => {
    const scale = scaleOf(null, 'temperature', []);
    expect(scale.high).toBeGreaterThan(scale.low);
  });
});

describe('the pointer', () => {
  it('is level from limit to limit, the limits included', () => {
    for (const value of [30.5, 31.5, 32.5]) {
      expect(thermometer(BAND, 'temperature', value, [], 100).pointer?.shape).toBe('level');
    }
  });

  it('is a triangle upwards above the band and downwards below it', () => {
    expect(thermometer(BAND, 'temperature', 32.51, [], 100).pointer?.shape).toBe('up');
    expect(thermometer(BAND, 'temperature', 30.49, [], 100).pointer?.shape).toBe('down');
  });

  it('stays on the scale and says so when the value is beyond it', () => {
    for (const value of [-40, 80]) {
      const pointer = thermometer(BAND, 'temperature', value, [], 100).pointer;
      expect(pointer?.beyondScale).toBe(true);
      expect(pointer?.y).toBeGreaterThanOrEqual(0);
      expect(pointer?.y).toBeLessThanOrEqual(100);
    }
  });

  it('is missing when nothing good is known', () => {
    expect(thermometer(BAND, 'temperature', null, [], 100).pointer).toBeNull();
  });

  it('lies higher for a warmer value', () => {
    const y = (v: number): number => thermometer(BAND, 'temperature', v, [], 100).pointer?.y ?? Number.NaN;
    for (let v = 29; v < 34; v += 0.25) expect(y(v + 0.25)).toBeLessThan(y(v));
  });
});

describe('the light stretch', () => {
  it('reaches from limit to limit and carries both figures', () => {
    const drawn = thermometer(BAND, 'temperature', 31.5, [], 100);
    expect(drawn.limits.map((l) => l.value)).toEqual([32.5, 30.5]);
    expect(drawn.band).toEqual({ top: drawn.limits[0]?.y, bottom: drawn.limits[1]?.y });
  });

  it('of a band with only a lower limit reaches up to the end of the scale', () => {
    expect(thermometer(HUMIDITY_BAND, 'humidity', 86, [], 100).band?.top).toBe(0);
  });

  it('is missing without a band', () => {
    expect(thermometer(null, 'temperature', 31, [], 100).band).toBeNull();
  });
});

describe('the trail', () => {
  it('runs from an hour ago on the left to now on the right, whatever the order it came in', () => {
    const [run] = thermometer(BAND, 'temperature', 31, trail([31, 31.1, 31.2]).reverse(), 100).trail;
    expect(run?.map((p) => p.x)).toEqual([0.9333, 0.9667, 1]);
  });

  it('is broken where readings are missing', () => {
    const points = trail(Array.from({ length: 30 }, () => 31)).filter(([ago]) => ago < 600 || ago > 1500);
    expect(runs(points)).toHaveLength(2);
  });

  it('leaves out what is no number or not of this hour', () => {
    expect(
      runs([
        [10, Number.NaN],
        [20, 31],
        [3700, 31],
        [-5, 31],
      ]),
    ).toEqual([[[20, 31]]]);
  });

  it('becomes a path', () => {
    expect(
      pathOf(
        [
          { x: 0, y: 3 },
          { x: 1, y: 4 },
        ],
        100,
      ),
    ).toBe('M0 3L100 4');
  });
});

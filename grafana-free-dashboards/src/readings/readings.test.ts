import { describe, expect, it } from 'vitest';
import { historyOf } from '../../mock/history.ts';
import type { History } from '../http/shapes.ts';
import { clock, wallClock } from '../words/times.ts';
import { label, splits, stepFor } from './axis.ts';
import { columnsOf } from './columns.ts';
import { rangeOf } from './plot.ts';
import { summaryOf, tableOf, timeBeyond } from './summary.ts';

const MINUTE = 60_000;

function history(series: Partial<History['series'][number]>[], bucketMs = MINUTE): History {
  return {
    quantity: 'temperature',
    unit: 'Cel',
    from: '2026-11-25T00:00:00Z',
    to: '2026-11-25T01:00:00Z',
    bucketMs,
    series: series.map((s, i) => {
      const startMs = s.startMs ?? [];
      const mean = s.mean ?? startMs.map(() => 31);
      const filled = { min: s.min ?? mean, max: s.max ?? mean, count: s.count ?? startMs.map(() => 1) };
      return { probe: `p${i}`, where: null, startMs, mean, ...filled };
    }),
    band: { dangerLow: 29.5, warningLow: 30.5, warningHigh: 32.5, dangerHigh: 33.5 },
  };
}

describe('columns', () => {
  it('are sorted, without doubles, in seconds, and all of one length', () => {
    const c = columnsOf(
      history([{ startMs: [3 * MINUTE, MINUTE, 2 * MINUTE, MINUTE], mean: [33, 30, 32, 31] }]),
    );
    expect(c.x).toEqual([60, 120, 180]);
    expect(c.probes[0]?.mean).toEqual([31, 32, 33]);
    for (const p of c.probes) expect([p.min.length, p.max.length]).toEqual([3, 3]);
  });

  it('break the line where buckets are missing, and only there', () => {
    const c = columnsOf(history([{ startMs: [0, MINUTE, 2 * MINUTE, 8 * MINUTE] }]));
    expect(c.probes[0]?.mean).toEqual([31, 31, 31, null, 31]);
    expect(c.gaps).toEqual([{ probe: 'p0', from: 3 * MINUTE, to: 8 * MINUTE }]);
    expect(columnsOf(history([{ startMs: [0, 2 * MINUTE] }])).gaps).toEqual([]);
  });

  it('do not break a line of five-minute readings in one-minute buckets', () => {
    const c = columnsOf(history([{ startMs: [0, 5, 10, 15, 40].map((m) => m * MINUTE) }]));
    expect(c.gaps).toEqual([{ probe: 'p0', from: 16 * MINUTE, to: 40 * MINUTE }]);
  });

  it('do not break one probe where only another one spoke', () => {
    const c = columnsOf(history([{ startMs: [0, 2 * MINUTE] }, { startMs: [MINUTE] }]));
    expect(c.probes[0]?.mean).toEqual([31, undefined, 31]);
    expect(c.probes[1]?.mean).toEqual([undefined, 31, undefined]);
  });

  it('leave out empty buckets and what is no number', () => {
    const c = columnsOf(
      history([{ startMs: [0, MINUTE, 2 * MINUTE], mean: [31, Number.NaN, 32], count: [1, 1, 0] }]),
    );
    expect(c.x).toEqual([0]);
  });

  it('of nothing are nothing', () => {
    expect(columnsOf(history([])).x).toEqual([]);
  });

  it('keep the spike that a mean would hide', () => {
    const spiked = history([{ startMs: [0, MINUTE], mean: [31, 31], max: [31, 36] }]);
    expect(rangeOf(spiked, columnsOf(spiked))[1]).toBeGreaterThan(36);
  });
});

// Switch days of 2026: IANA time zone database (northamerica, europe, australasia).
describe('the axis stands on the wall clock of the facility', () => {
  const cases = [
    { zone: 'Europe/Vienna', from: '2026-03-28T23:00:00Z', hours: 23, jumped: '02:00' },
    { zone: 'Europe/Vienna', from: '2026-10-24T22:00:00Z', hours: 25, jumped: null },
    { zone: 'America/New_York', from: '2026-03-08T05:00:00Z', hours: 23, jumped: '02:00' },
    { zone: 'America/New_York', from: '2026-11-01T04:00:00Z', hours: 25, jumped: null },
    { zone: 'Australia/Lord_Howe', from: '2026-10-03T13:30:00Z', hours: 23.5, jumped: '02:00' },
    { zone: 'Australia/Lord_Howe', from: '2026-04-04T13:00:00Z', hours: 24.5, jumped: null },
  ];

  it.each(cases)('in $zone on a day of $hours hours', ({ zone, from, hours, jumped }) => {
    const start = Date.parse(from);
    const end = start + hours * 3_600_000;
    expect(wallClock(start, zone).minuteOfDay).toBe(0);
    expect(wallClock(end, zone).minuteOfDay).toBe(0);
    const marks = splits(start, end - 1, 180, zone);
    expect(marks.map((ms) => clock(ms, zone))).toEqual([
      '00:00',
      '03:00',
      '06:00',
      '09:00',
      '12:00',
      '15:00',
      '18:00',
      '21:00',
    ]);
    const hourly = splits(start, end - 1, 60, zone).map((ms) => clock(ms, zone));
    if (jumped !== null && zone !== 'Australia/Lord_Howe') expect(hourly).not.toContain(jumped);
    expect(hourly.length).toBeGreaterThanOrEqual(Math.floor(hours));
    expect([...hourly].sort()).toEqual(hourly);
  });

  it('marks each midnight of a week once, also where midnight itself is skipped', () => {
    // Santiago goes from 24:00 straight to 01:00 on 6 September 2026 (IANA, southamerica).
    const marks = splits(
      Date.parse('2026-09-03T12:00:00Z'),
      Date.parse('2026-09-10T12:00:00Z'),
      1440,
      'America/Santiago',
    );
    expect(marks).toHaveLength(7);
    expect(marks.map((ms) => clock(ms, 'America/Santiago'))).toContain('01:00');
    expect(new Set(marks.map((ms) => label(ms, 1440, 'America/Santiago'))).size).toBe(7);
  });

  it('writes the day where a day begins and the hour elsewhere', () => {
    expect(label(Date.parse('2026-11-24T23:00:00Z'), 180, 'Europe/Vienna')).toBe('Wed');
    expect(label(Date.parse('2026-11-25T02:00:00Z'), 180, 'Europe/Vienna')).toBe('03:00');
  });

  it('gives each label room', () => {
    for (const width of [240, 320, 900, 1300]) {
      for (const hours of [6, 24, 168]) {
        const step = stepFor(hours * 3_600_000, width, 58);
        expect((hours * 60) / step).toBeLessThanOrEqual(width / 58);
      }
    }
  });
});

describe('words and table beside the chart', () => {
  it('say the extremes, the time out of band and the gaps', () => {
    const out = history([
      { startMs: [0, MINUTE, 2 * MINUTE, 20 * MINUTE], mean: [31, 33, 33, 31], max: [31, 33.4, 33, 31] },
    ]);
    expect(timeBeyond(out)).toEqual({ above: 2 * MINUTE, below: 0 });
    const words = summaryOf(out, 'Europe/Vienna');
    expect(words).toContain('31.0\u00a0°C to 33.4\u00a0°C');
    expect(words).toContain('Above the band for about 2 min.');
    expect(words).toContain('One gap 17 min');
  });

  it('count a time once that two probes were out of band', () => {
    const out = history([
      { startMs: [0], mean: [33] },
      { startMs: [0], mean: [34] },
    ]);
    expect(timeBeyond(out).above).toBe(MINUTE);
  });

  it('say that nothing was heard, and never that all was well', () => {
    expect(summaryOf(history([{ startMs: [] }]), 'UTC')).toBe('Nothing was heard in this time.');
    const short = { ...history([{ startMs: [] }]), incomplete: 'InfluxDB does not answer.' };
    expect(summaryOf(short, 'UTC')).toBe('A part of this time is missing here. InfluxDB does not answer.');
    const part = { ...history([{ startMs: [0] }]), incomplete: 'InfluxDB does not answer.' };
    expect(summaryOf(part, 'UTC')).not.toContain('Never out of its band');
  });

  it('never lose an extreme in the table', () => {
    const week = historyOf('danger', 'hazel', 'temperature', 0, 7 * 86_400_000, 600);
    const rows = tableOf(week, 24);
    expect(rows.length).toBeLessThanOrEqual(25);
    expect(Math.max(...rows.map((r) => r.max))).toBe(Math.max(...week.series.flatMap((s) => s.max)));
    expect(Math.min(...rows.map((r) => r.min))).toBe(Math.min(...week.series.flatMap((s) => s.min)));
    for (const row of rows) expect(row.min <= row.mean && row.mean <= row.max).toBe(true);
  });
});

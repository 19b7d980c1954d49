import { describe, expect, it } from 'vitest';
import {
  addDays,
  dateAt,
  dateWords,
  dayOfIncubation,
  daysBetween,
  instantOf,
  parseDate,
  timeAt,
} from './localdate.ts';

// Changes of the clocks by the IANA time zone database: Vienna 29 March and 25 October 2026, Lord Howe by half an hour on 5 April.
describe('a local date', () => {
  it('is that of the facility and not of the phone', () => {
    const at = Date.parse('2026-11-25T23:30:00Z');
    expect(dateAt(at, 'Europe/Vienna')).toBe('2026-11-26');
    expect(dateAt(at, 'America/Los_Angeles')).toBe('2026-11-25');
    expect(dateAt(at, 'Pacific/Kiritimati')).toBe('2026-11-26');
    expect(dateAt(at, 'Etc/UTC')).toBe('2026-11-25');
  });

  it('counts days of the calendar across both changes of the clocks', () => {
    const midnightish = (iso: string): number => Date.parse(iso);
    expect(dayOfIncubation('2026-03-28', midnightish('2026-03-29T22:05:00Z'), 'Europe/Vienna')).toBe(2);
    expect(dayOfIncubation('2026-03-28', midnightish('2026-03-29T21:55:00Z'), 'Europe/Vienna')).toBe(1);
    expect(dayOfIncubation('2026-10-24', midnightish('2026-10-25T22:55:00Z'), 'Europe/Vienna')).toBe(1);
    expect(dayOfIncubation('2026-10-24', midnightish('2026-10-25T23:05:00Z'), 'Europe/Vienna')).toBe(2);
    expect(daysBetween('2026-03-01', '2026-11-01')).toBe(245);
    expect(addDays('2028-02-28', 1)).toBe('2028-02-29');
  });

  it('is refused when the calendar has no such day', () => {
    for (const text of ['2026-02-30', '2026-13-01', '26-01-01', '', '2026-1-1', '2026-01-01T00:00']) {
      expect(parseDate(text)).toBeNull();
    }
    expect(parseDate(' 2028-02-29 ')).toBe('2028-02-29');
  });

  it('is said with its weekday whatever the zone of the phone', () => {
    expect(dateWords('2026-03-29')).toBe('Sun 29 March 2026');
  });
});

describe('a time on the clock of the facility', () => {
  it('is turned into an instant and back on every hour around the changes', () => {
    for (const zone of ['Europe/Vienna', 'America/New_York', 'Australia/Lord_Howe', 'Asia/Kathmandu']) {
      for (let at = Date.parse('2026-03-07T00:00Z'); at < Date.parse('2026-04-06T00:00Z'); at += 1_800_000) {
        const back = instantOf(dateAt(at, zone), timeAt(at, zone), zone);
        // In the hour that comes twice the first pass is meant, so an instant of the second comes back earlier.
        expect([0, 1_800_000, 3_600_000]).toContain(at - (back ?? 0));
        expect(timeAt(back ?? 0, zone)).toBe(timeAt(at, zone));
      }
    }
  });

  it('means the first pass of an hour that comes twice', () => {
    expect(instantOf('2026-10-25', '02:30', 'Europe/Vienna')).toBe(Date.parse('2026-10-25T00:30:00Z'));
  });

  it('of an hour that is left out is as long after the change as it says', () => {
    expect(instantOf('2026-03-29', '02:30', 'Europe/Vienna')).toBe(Date.parse('2026-03-29T01:30:00Z'));
  });

  it('is refused when it is none', () => {
    expect(instantOf('2026-03-29', '24:00', 'Europe/Vienna')).toBeNull();
    expect(instantOf('2026-02-30', '12:00', 'Europe/Vienna')).toBeNull();
  });
});

import { beforeEach, describe, expect, it } from 'vitest';
import { clock, dayAndClock, moment, span, wallClock, zoneWord } from './times.ts';
import {
  amount,
  chooseDegree,
  degree,
  difference,
  number,
  shown,
  unshown,
  unshownDifference,
} from './units.ts';

beforeEach(() => chooseDegree('Cel'));

describe('amounts', () => {
  it('carry their unit and one decimal for temperatures, none for humidity', () => {
    expect(amount(31.449, 'temperature', 'Cel')).toBe('31.4\u00a0°C');
    expect(amount(86.4, 'humidity', '%RH')).toBe('86\u00a0%RH');
  });

  it('turn values and differences differently into °F', () => {
    chooseDegree('degF');
    expect(amount(31.5, 'temperature', 'Cel')).toBe('88.7\u00a0°F');
    expect(difference(0.8, 'temperature', 'Cel')).toBe('1.4\u00a0°F');
    expect(amount(86, 'humidity', '%RH')).toBe('86\u00a0%RH');
  });

  it('have a true minus sign, and none before a zero', () => {
    expect(number(-1.25, 1)).toMatch(/^\u22121\.[23]$/);
    expect(number(-0.04, 1)).toBe('0.0');
  });

  it('say a dash where nothing is known', () => {
    expect(amount(null, 'temperature', 'Cel')).toBe('–');
  });

  it('survive the way to °F and back for each tenth of a band', () => {
    for (let tenth = 200; tenth <= 400; tenth++) {
      const value = tenth / 10;
      expect(unshown(shown(value, 'temperature', 'degF'), 'temperature', 'degF')).toBe(value);
    }
    expect(unshownDifference(0.36, 'temperature', 'degF')).toBe(0.2);
  });

  it('keep the choice on this phone', () => {
    chooseDegree('degF');
    expect(localStorage.getItem('incubation.degree')).toBe('degF');
    expect(degree.value).toBe('degF');
  });
});

// Switch days: IANA time zone database, 2026: Europe/Vienna 29 March and 25 October, America/New_York 8 March and
// 1 November, Australia/Lord_Howe (half an hour) 5 April and 4 October.
describe('times', () => {
  it('are those of the facility on both sides of a switch', () => {
    expect(clock(Date.parse('2026-03-29T00:59:00Z'), 'Europe/Vienna')).toBe('01:59');
    expect(clock(Date.parse('2026-03-29T01:00:00Z'), 'Europe/Vienna')).toBe('03:00');
    expect(clock(Date.parse('2026-11-01T05:30:00Z'), 'America/New_York')).toBe('01:30');
    expect(clock(Date.parse('2026-11-01T06:30:00Z'), 'America/New_York')).toBe('01:30');
    expect(clock(Date.parse('2026-04-04T15:15:00Z'), 'Australia/Lord_Howe')).toBe('01:45');
  });

  it('write midnight as 00:00', () => {
    expect(clock(Date.parse('2026-01-10T00:00:00Z'), 'UTC')).toBe('00:00');
    expect(wallClock(Date.parse('2026-01-10T00:00:00Z'), 'UTC').minuteOfDay).toBe(0);
  });

  it('name the day only when it is not today', () => {
    const at = Date.parse('2026-11-25T02:12:00Z');
    expect(moment(at, at + 3_600_000, 'Europe/Vienna')).toBe('03:12');
    expect(moment(at, at + 400 * 86_400_000, 'Europe/Vienna')).toMatch(/20\d\d$/);
    expect(moment(at, at + 86_400_000, 'Europe/Vienna')).toBe(dayAndClock(at, 'Europe/Vienna'));
    expect(dayAndClock(at, 'Europe/Vienna')).toBe('Wed 25 Nov, 03:12');
  });

  it('say which zone they are in, and fall back to UTC for one this phone does not know', () => {
    expect(zoneWord(Date.parse('2026-07-01T00:00:00Z'), 'America/New_York')).toMatch(
      /^America\/New York \(.+\)$/,
    );
    expect(clock(Date.parse('2026-07-01T12:00:00Z'), 'Mars/Olympus')).toBe('12:00');
  });

  it('say spans in the units a person would use', () => {
    expect([20_000, 14 * 60_000, 3_600_000, 12_000_000, 6 * 86_400_000].map(span)).toEqual([
      'less than a minute',
      '14 min',
      '1 h',
      '3 h 20 min',
      '6 days',
    ]);
  });
});

import { cleanup, fireEvent, render, screen, within } from '@testing-library/preact';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { nowOf } from '../../mock/facility.ts';
import { answerWith } from '../../mock/fetch.ts';
import { brief } from '../../mock/night.ts';
import { reviewOf, stripOf } from '../../mock/review.ts';
import { now } from '../live/now.ts';
import { degree } from '../words/units.ts';
import { ReviewPage } from './ReviewPage.tsx';
import { around } from './StretchItem.tsx';
import { drawStrip } from './stripPath.ts';
import {
  answerWords,
  comparisonFigure,
  degreeHours,
  exposureWords,
  firstSentence,
  fromTo,
  gapsSentence,
  hatchDates,
  openWords,
  outcomeLines,
  stageWords,
} from './words.ts';

const AT = Date.parse('2026-11-25T02:12:00Z');
const REVIEW = reviewOf(brief('c-03'), null);

beforeEach(() => {
  degree.value = 'Cel';
});

afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
  now.value = null;
});

describe('the words of a review', () => {
  it('give the day once when both ends are on it, and twice across midnight', () => {
    expect(fromTo('2026-11-08T02:00:00Z', '2026-11-08T11:05:00Z', 'Europe/Vienna')).toBe(
      'Sun 8 Nov, 03:00 to 12:05',
    );
    expect(fromTo('2026-11-08T22:00:00Z', '2026-11-08T23:30:00Z', 'Europe/Vienna')).toBe(
      'Sun 8 Nov, 23:00 to Mon 9 Nov, 00:30',
    );
  });

  it('turn degree-hours as differences are turned', () => {
    expect(degreeHours(41.3)).toBe('41\u00a0°C·h');
    degree.value = 'degF';
    expect(degreeHours(5)).toBe('9.0\u00a0°F·h');
  });

  it('never say that nothing was there when it was only little', () => {
    const [stretch] = REVIEW.stretches;
    if (stretch === undefined) throw new Error('The mock has stretches.');
    expect(exposureWords(stretch)).toBe('41\u00a0°C·h above');
    expect(exposureWords({ ...stretch, degreeHoursAbove: 0 })).toBe('less than 0.1\u00a0°C·h');
  });

  it('say the stage, or that it is not known', () => {
    expect(stageWords({ stageFrom: 0.45, stageTo: 0.48 })).toBe('stage 45 to 48\u00a0%');
    expect(stageWords({ stageFrom: 0.741, stageTo: 0.744 })).toBe('stage 74\u00a0%');
    expect(stageWords({ stageFrom: null, stageTo: null })).toBe('stage not known');
  });

  it('say who answered an alarm and after how long, or that nobody did', () => {
    const alarms = REVIEW.stretches[0]?.alarms ?? [];
    expect(alarms.map((a) => answerWords(a, 'Europe/Vienna'))).toEqual([
      'Mon 19 Oct, 22:15; nobody answered',
      'Tue 20 Oct, 01:10; Matteo answered after 41 min',
    ]);
  });

  it('count gaps as time of which nothing can be said', () => {
    expect(gapsSentence([])).toBe('The record has no gap.');
    expect(gapsSentence(REVIEW.gaps)).toBe('One gap, 2 days in all. Nothing can be said about that time.');
  });

  it('begin with the first sentence, and do not end it within a figure', () => {
    expect(firstSentence('5 of 9 hatched at 31.5 °C. 2 stretches. More.')).toEqual({
      first: '5 of 9 hatched at 31.5 °C.',
      rest: '2 stretches. More.',
    });
    expect(firstSentence('All well.')).toEqual({ first: 'All well.', rest: '' });
  });

  it('take from the words of the service what the page does not say itself', () => {
    const [hot, cold] = REVIEW.stretches;
    expect(openWords(hot?.words ?? '')).toBeNull();
    expect(openWords(cold?.words ?? '')).toBe('The record begins out of band, so it may have been longer.');
    expect(hatchDates(REVIEW.outcomes, 'Europe/Vienna')).toBe('First pip Thu 19 Nov, last out Mon 23 Nov.');
    expect(hatchDates({ laid: 9, firstPip: null }, 'UTC')).toBe('');
  });

  it('leave out counts of none, but not of what hatched', () => {
    expect(outcomeLines({ slug: 0, hatched: 0, laid: 9, dead: 9 }).map((l) => `${l.n} ${l.word}`)).toEqual([
      '9 laid',
      '0 hatched',
      '9 dead in the egg',
    ]);
  });

  it('show shares of eggs as per cent and what is not known as a dash', () => {
    const line = { what: 'hatched, share of eggs laid', this: 5 / 9, against: null, words: '' };
    expect(comparisonFigure(line, line.this)).toBe('56\u00a0%');
    expect(comparisonFigure(line, line.against)).toBe('–');
  });
});

describe('the strip of a review', () => {
  it('is broken where nothing was measured', () => {
    const strip = stripOf();
    const drawn = drawStrip(strip, Date.parse(strip.from), Date.parse(strip.to), 640, 110);
    expect(drawn.ribbons).toHaveLength(2);
    expect(drawn.ribbons.every((d) => /^M[\d .L-]+Z$/.test(d))).toBe(true);
  });

  it('keeps within its own ends around a stretch', () => {
    const strip = stripOf();
    for (const stretch of REVIEW.stretches) {
      const { from, to } = around(stretch, strip);
      expect(from).toBeGreaterThanOrEqual(Date.parse(strip.from));
      expect(to).toBeLessThanOrEqual(Date.parse(strip.to));
      expect(from).toBeLessThan(Date.parse(stretch.from));
    }
  });

  it('is drawn without a band and without readings too', () => {
    const drawn = drawStrip({ ...stripOf(), startMs: [], min: [], max: [], band: null }, 0, 1000, 640, 110);
    expect(drawn.ribbons).toEqual([]);
    expect(drawn.low).toBeNull();
  });
});

describe('the review page', () => {
  const answers = () => ({
    'GET /api/clutches/c-03/review?temperature=Cel&against=c-01': () =>
      reviewOf(brief('c-03'), brief('c-01', { label: 'C-01' })),
    'GET /api/clutches/c-03/review': () => REVIEW,
    'GET /api/clutches/c-03/strip': () => stripOf(),
    'GET /api/clutches?state=all': () => [brief('c-03'), brief('c-01')],
    'GET /api/care': () => [],
  });

  it('says the sentence, each stretch with what the probes and alarms say, and the caveat', async () => {
    now.value = nowOf('calm', AT);
    answerWith(answers());
    render(<ReviewPage clutch="c-03" />);
    expect(
      await screen.findByRole('heading', { level: 1, name: '5 of 9 eggs hatched; 3 dead, 1 slug.' }),
    ).toBeTruthy();
    expect(document.body.textContent).toContain(
      'as far as 34.1\u00a0°C (41.3 °C·h), at stage 45\u00a0%. The dead eggs are',
    );
    const list = await screen.findByRole('region', { name: 'Out of band, in order of time' });
    const [hot, cold] = within(list).getAllByText(/the band, as far as/);
    expect(hot?.textContent).toContain('31 h 20 min above the band, as far as 34.1\u00a0°C');
    expect(cold?.textContent).toContain('below the band, as far as 28.9\u00a0°C');
    expect(list.textContent).toContain('room-1, on the wall: has no readings of it');
    expect(list.textContent).toContain('None was raised.');
    expect(document.body.textContent).toContain('consistent with');
    expect(document.body.textContent).not.toMatch(/caused by|because of/);
  });

  it('is held against a clutch of the keeper’s choice', async () => {
    now.value = nowOf('calm', AT);
    const asked = answerWith(answers());
    render(<ReviewPage clutch="c-03" />);
    const picker = await screen.findByLabelText('Hold it against');
    await within(picker).findByRole('option', { name: /C-01/ });
    expect(within(picker).queryByRole('option', { name: /C-03/ })).toBeNull();
    fireEvent.change(picker, { target: { value: 'c-01' } });
    const table = await screen.findByRole('table');
    expect(within(table).getByRole('row', { name: /hatched, share of eggs laid/ }).textContent).toContain(
      '56\u00a0%',
    );
    expect(asked.some((a) => a.path.includes('against=c-01'))).toBe(true);
  });
});

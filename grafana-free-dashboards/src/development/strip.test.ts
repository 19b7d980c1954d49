import { describe, expect, it } from 'vitest';
import { CLUTCHES, eggOf } from '../../mock/clutchData.ts';
import { stripOf } from '../../mock/clutchPage.ts';
import type { Strip } from '../http/clutchShapes.ts';
import { placed } from './labels.ts';
import { stageLabels } from './StageBar.tsx';
import {
  candlingsOf,
  excursionLabels,
  excursionsOf,
  heldLimits,
  hillOf,
  layoutOf,
  momentOfShare,
  ribbonOf,
  ribbonPath,
  scalesOf,
} from './strip.ts';
import { excursionLabel, excursionSentence, pipLabel, stripWords } from './stripWords.ts';

const AT = Date.parse('2026-11-25T09:00:00Z');
const DAY = 86_400_000;
const ZONE = 'Europe/Vienna';

function stripFor(key: string): Strip {
  const clutch = CLUTCHES.find((c) => c.key === key);
  if (clutch === undefined) throw new Error(key);
  return stripOf(
    clutch,
    Array.from({ length: clutch.eggs }, (_, i) => eggOf(clutch, i, AT)),
    AT,
  );
}

const STRIPS = CLUTCHES.map((c) => stripFor(c.key));
const WIDTHS = [296, 328, 358, 640, 1312];

describe('the ribbon', () => {
  it('is broken at a gap: nothing is drawn where nothing was heard', () => {
    const strip = stripFor('c-07');
    const scales = scalesOf(strip, layoutOf(328));
    const parts = ribbonOf(strip, scales);
    expect(parts).toHaveLength(2);
    const [from, to] = [
      scales.x(Date.parse(strip.gaps[0]?.from ?? '')),
      scales.x(Date.parse(strip.gaps[0]?.to ?? '')),
    ];
    for (const { points } of parts) {
      for (const { x } of points) expect(x <= from + 1 || x >= to - 1).toBe(true);
    }
  });

  it('keeps the highest and the lowest when buckets are thinned to a column', () => {
    const strip = stripFor('c-07');
    const scales = scalesOf(strip, layoutOf(296));
    const points = ribbonOf(strip, scales).flatMap((p) => p.points);
    const max = Math.max(...strip.max.map((v) => v ?? Number.NEGATIVE_INFINITY));
    const min = Math.min(...strip.min.map((v) => v ?? Number.POSITIVE_INFINITY));
    expect(Math.min(...points.map((p) => p.top))).toBeCloseTo(scales.y(max), 6);
    expect(Math.max(...points.map((p) => p.bottom))).toBeCloseTo(scales.y(min), 6);
    expect(points.length).toBeLessThanOrEqual(300);
  });

  it('breaks at a bucket with nothing in it and still shows a lone one', () => {
    const strip = { ...stripFor('c-11') };
    const [a, b] = [strip.min.slice(0, 3), strip.max.slice(0, 3)];
    const lone = {
      ...strip,
      startMs: strip.startMs.slice(0, 3),
      min: [a[0] ?? 31, null, a[2] ?? 31],
      max: [b[0] ?? 31, null, b[2] ?? 31],
    };
    const parts = ribbonOf(lone, scalesOf(lone, layoutOf(328)));
    expect(parts).toHaveLength(2);
    expect(ribbonPath(parts[0] ?? { points: [] })).toMatch(/^M.+h3V.+Z$/);
  });

  it('is empty for a clutch nothing is heard of', () => {
    expect(ribbonOf(stripFor('c-12'), scalesOf(stripFor('c-12'), layoutOf(328)))).toEqual([]);
    expect(stripWords(stripFor('c-12'), ZONE)).toContain('No reading has been recorded');
  });
});

describe('labels', () => {
  it('are never cut and never over one another, for every clutch at every width', () => {
    for (const strip of STRIPS) {
      for (const width of WIDTHS) {
        const layout = layoutOf(width);
        const scales = scalesOf(strip, layout);
        const out = excursionLabels(excursionsOf(strip, scales), layout, (e) =>
          excursionLabel(e, width >= 640),
        );
        const below = stageLabels(strip, scales, layout, ZONE);
        for (const labels of [out, below]) {
          for (const label of labels) {
            expect(label.x - label.width / 2).toBeGreaterThanOrEqual(0);
            expect(label.x + label.width / 2).toBeLessThanOrEqual(width);
            for (const other of labels) {
              if (other === label || Math.abs(other.y - label.y) >= 14) continue;
              expect(Math.abs(other.x - label.x)).toBeGreaterThanOrEqual((other.width + label.width) / 2);
            }
          }
        }
      }
    }
  });

  it('give room to the first and leave out what finds none', () => {
    const wish = (text: string, x: number) => ({ text, x, y: 10, width: 40, kind: '' });
    expect(placed([wish('a', 0), wish('b', 30), wish('c', 300)], 0, 310).map((l) => [l.text, l.x])).toEqual([
      ['a', 20],
      ['c', 290],
    ]);
  });

  it('say the pip window first of all, with one month where there is one', () => {
    const strip = stripFor('c-07');
    expect(pipLabel(strip, ZONE)).toBe('pip 8–14 Dec');
    const layout = layoutOf(296);
    expect(stageLabels(strip, scalesOf(strip, layout), layout, ZONE).map((l) => l.text)).toContain(
      'pip 8–14 Dec',
    );
  });
});

describe('the hill', () => {
  it('stands on the bar, is highest where pip is most likely, and stays inside the strip', () => {
    for (const width of WIDTHS) {
      const strip = stripFor('c-07');
      const layout = layoutOf(width);
      const scales = scalesOf(strip, layout);
      const hill = hillOf(strip, scales, layout);
      const bars = hill?.bars ?? [];
      const top = bars.reduce((a, b) => (b.height > a.height ? b : a));
      expect(Math.abs(top.x - scales.x(Date.parse(strip.pip?.p50 ?? '')))).toBeLessThan(12);
      for (const bar of bars) {
        expect(bar.y + bar.height).toBeCloseTo(layout.barY, 6);
        expect(bar.x + bar.width).toBeLessThanOrEqual(width);
      }
    }
  });

  it('is not drawn where nothing can be said of pip', () => {
    const strip = { ...stripFor('c-07'), pip: { p10: null, p50: null, p90: null, density: [] } };
    const layout = layoutOf(328);
    expect(hillOf(strip, scalesOf(strip, layout), layout)).toBeNull();
  });
});

describe('time on the strip', () => {
  it('ends where a finished clutch ended and not today', () => {
    const strip = stripFor('c-02');
    expect(scalesOf(strip, layoutOf(328)).to).toBeLessThan(AT - 300 * DAY);
  });

  it('holds today and the whole pip window of one that is going on', () => {
    const strip = stripFor('c-07');
    const { x, to } = scalesOf(strip, layoutOf(328));
    expect(to).toBeGreaterThan(Date.parse(strip.pip?.p90 ?? ''));
    expect(x(AT)).toBeLessThan(x(Date.parse(strip.pip?.p10 ?? '')));
  });

  it('finds when a share of the way was reached between two points, and nothing beyond them', () => {
    expect(
      momentOfShare(
        [
          [0, 0],
          [100, 0.5],
          [200, 1],
        ],
        0.25,
      ),
    ).toBe(50);
    expect(
      momentOfShare(
        [
          [0, 0],
          [100, 0.5],
        ],
        0.75,
      ),
    ).toBeNull();
  });

  it('joins candlings that would lie over each other, the commonest colour first', () => {
    const strip: Strip = {
      ...stripFor('c-07'),
      candlings: [
        { at: new Date(AT - 20 * DAY).toISOString(), tints: [{ colour: '#111111', n: 2 }] },
        { at: new Date(AT - 20 * DAY + 3_600_000).toISOString(), tints: [{ colour: '#222222', n: 9 }] },
        { at: new Date(AT - 5 * DAY).toISOString(), tints: [{ colour: null, n: 1 }] },
      ],
    };
    const drawn = candlingsOf(strip, scalesOf(strip, layoutOf(328)));
    expect(drawn.map((d) => [d.n, d.colours])).toEqual([
      [11, ['#222222', '#111111']],
      [1, [null]],
    ]);
  });

  it('shows limits as they held', () => {
    const bands = [
      { from: '2026-11-01T00:00:00Z', to: '2026-11-05T00:00:00Z', low: 30.5, high: 32.5 },
      { from: '2026-11-05T00:00:00Z', to: '2026-11-25T00:00:00Z', low: null, high: 33 },
    ];
    expect(heldLimits({ ...stripFor('c-07'), bands }).map((h) => h.limit)).toEqual([30.5, 32.5, 33]);
  });
});

describe('the strip in words', () => {
  it('says what is drawn', () => {
    const words = stripWords(stripFor('c-07'), ZONE);
    expect(words).toContain('It was once above it, 31 h in all, and once below it, 9 h in all.');
    expect(words).toContain('Without readings: 48 h in one gap.'.replace('48 h', '2 days'));
    expect(words).toContain('Pip is expected between 8 Dec and 14 Dec.');
  });

  it('gives each excursion its figure, its side and its stage', () => {
    const e = stripFor('c-07').excursions[0];
    if (e === undefined) throw new Error('none');
    expect(excursionLabel(e, true)).toBe('▲ 34.1° for 31 h');
    expect(excursionLabel(e, false)).toBe('▲ 31 h');
    expect(excursionSentence(e, ZONE)).toContain(
      'for 31 h: above its band, to 34.1\u00a0°C (32\u00a0°C·h above), at 37 % of the way',
    );
  });
});

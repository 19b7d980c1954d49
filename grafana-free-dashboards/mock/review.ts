// An invented clutch with a hot night, a cold morning and a gap; for pictures and tests of the review.
import type { ClutchBrief } from '../src/clutches/new/shapes.ts';
import type { Review, Reviewed, Strip } from '../src/review/shapes.ts';

const LAID = Date.parse('2026-09-20T10:00:00Z');
const END = Date.parse('2026-11-24T10:00:00Z');
const HOT = [Date.parse('2026-10-19T20:10:00Z'), Date.parse('2026-10-21T03:30:00Z')] as const;
const COLD = [Date.parse('2026-11-08T02:00:00Z'), Date.parse('2026-11-08T11:05:00Z')] as const;
const GAP = [Date.parse('2026-10-30T08:00:00Z'), Date.parse('2026-11-01T09:00:00Z')] as const;

const iso = (ms: number): string => new Date(ms).toISOString().replace('.000Z', 'Z');

const reviewed = (c: ClutchBrief): Reviewed => ({ ...c, species: c.speciesName });

export function reviewOf(clutch: ClutchBrief, against: ClutchBrief | null): Review {
  return {
    clutch: reviewed(clutch),
    against: against === null ? null : reviewed(against),
    sentence:
      '5 of 9 eggs hatched; 3 dead, 1 slug. 2 stretches out of band were recorded; the heaviest: 31 h above the band, as far as 34.1 °C (41.3 °C·h), at stage 45 %. The dead eggs are consistent with its having played a part, and with other things that leave no trace here.',
    stretches: [
      {
        side: 'above',
        from: iso(HOT[0]),
        to: iso(HOT[1]),
        peak: 34.1,
        degreeHoursAbove: 41.3,
        degreeHoursBelow: 0,
        stageFrom: 0.45,
        stageTo: 0.48,
        probes: [
          { probe: 'hazel-high', where: 'upper shelf', says: 'says so, 34.1 °C at the furthest' },
          { probe: 'hazel-low', where: 'between the eggs', says: 'says so, 33.4 °C at the furthest' },
          { probe: 'room-1', where: 'on the wall', says: 'has no readings of it' },
        ],
        alarms: [
          {
            occurrence: 'a1',
            raisedAt: iso(HOT[0] + 5 * 60_000),
            severity: 'warning',
            answeredBy: null,
            answeredAt: null,
            words: 'Hazel is 0.2 °C above its band.',
          },
          {
            occurrence: 'a2',
            raisedAt: iso(HOT[0] + 3 * 3_600_000),
            severity: 'danger',
            answeredBy: 'Matteo',
            answeredAt: iso(HOT[0] + 3 * 3_600_000 + 41 * 60_000),
            words: 'Hazel is 1.1 °C above its band.',
          },
        ],
        care: [
          { kind: 'fan', at: iso(HOT[0] - 2 * 3_600_000), by: 'Ilka', note: 'Fan off for cleaning.' },
          { kind: 'lid', at: iso(HOT[1] - 3_600_000), by: 'Matteo' },
        ],
        words: '',
      },
      {
        side: 'below',
        from: iso(COLD[0]),
        to: iso(COLD[1]),
        peak: 28.9,
        degreeHoursAbove: 0,
        degreeHoursBelow: 9.6,
        stageFrom: 0.74,
        stageTo: 0.74,
        probes: [{ probe: 'hazel-high', where: 'upper shelf', says: 'says so, 28.9 °C at the furthest' }],
        alarms: [],
        care: [],
        words:
          '9 h below the band, as far as 28.9 °C (9.6 °C·h), at stage 74 %; the record begins out of band, so it may have been longer. No alarm of it is on record.',
      },
    ],
    gaps: [{ from: iso(GAP[0]), to: iso(GAP[1]), hours: 49 }],
    outcomes: {
      laid: 9,
      hatched: 5,
      dead: 3,
      slug: 1,
      alive: 0,
      doubtful: 0,
      notLookedAt: 0,
      firstPip: '2026-11-19T05:00:00Z',
      lastOut: '2026-11-23T20:00:00Z',
    },
    speakers: [
      { probe: 'hazel-low', where: 'between the eggs', near: 'in its tub', from: iso(LAID), to: iso(END) },
      {
        probe: 'hazel-high',
        where: 'upper shelf',
        near: 'in the air of its incubator',
        from: iso(LAID),
        to: iso(END),
      },
    ],
    comparison:
      against === null
        ? []
        : [
            { what: 'mean temperature, °C', this: 31.62, against: 31.48, words: 'warmer' },
            { what: 'hours above the band', this: 31.3, against: 0.7, words: 'longer' },
            { what: 'degree-hours above, °C·h', this: 41.3, against: 0.2, words: 'more' },
            { what: 'hours below the band', this: 9.1, against: 8.9, words: 'about the same' },
            { what: 'hours without readings', this: 49, against: null, words: 'not known of both' },
            { what: 'hatched, share of eggs laid', this: 5 / 9, against: 1, words: 'fewer' },
          ],
    caveat:
      'This page shows what was recorded, and what it is consistent with. It does not show why an egg died: much that matters leaves no trace here.',
  };
}

export function stripOf(): Strip {
  const bucketMs = Math.ceil((END - LAID) / 1200);
  const strip: Strip = {
    from: iso(LAID),
    to: iso(END),
    bucketMs,
    startMs: [],
    min: [],
    max: [],
    band: { dangerLow: 29.5, warningLow: 30.5, warningHigh: 32.5, dangerHigh: 33.5 },
  };
  for (let at = LAID; at < END; at += bucketMs) {
    if (at >= GAP[0] && at < GAP[1]) continue;
    const mean =
      31.5 + Math.sin(at / 9e6) * 0.25 + Math.sin(at / 4e7) * 0.2 + bump(at, HOT, 2.4) + bump(at, COLD, -2.4);
    strip.startMs.push(at);
    strip.min.push(mean - 0.16);
    strip.max.push(mean + 0.18);
  }
  return strip;
}

function bump(at: number, [from, to]: readonly [number, number], by: number): number {
  const share = (at - from) / (to - from);
  return share < -0.2 || share > 1.2 ? 0 : by * Math.sin((Math.PI * (share + 0.2)) / 1.4);
}

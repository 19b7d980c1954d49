import { dateWords } from '../src/clutches/words.ts';
import type { ClutchPageView, EggView, Excursion, PairingView, Strip } from '../src/http/clutchShapes.ts';
import { chance, DAY, lineOf, type MockClutch } from './clutchData.ts';
import { wave } from './facility.ts';

const HOUR = 3_600_000;

function pairingOf(clutch: MockClutch, eggs: readonly EggView[]): PairingView[] {
  if (!clutch.trait) return [];
  const seen = eggs.filter((e) => e.tint !== null && e.status !== 'slug' && e.status !== 'dead');
  const carrier = seen.filter((e) => e.tint === 'fern').length;
  return [
    {
      trait: 'lattice',
      traitName: 'Lattice',
      inheritance: 'incomplete dominant',
      damCopies: 0,
      sireCopies: 1,
      shares: [
        { copies: 0, share: '1/2', p: 0.5, looks: 'normal' },
        { copies: 1, share: '1/2', p: 0.5, looks: 'Lattice' },
      ],
      expectedCarriers: {
        mean: seen.length / 2,
        low: Math.round(seen.length * 0.32),
        high: Math.round(seen.length * 0.68),
      },
      glowing: { carrier, other: seen.length - carrier, unsure: 0 },
      likelihood: { p: 0.41, words: 'A count as far from half as this, or further, is usual.' },
      marker: {
        terms: ['fern'],
        hits: 61,
        misses: 5,
        sensitivity: { k: 29, n: 32, low: 0.758, high: 0.968 },
        specificity: { k: 32, n: 34, low: 0.809, high: 0.984 },
        words: 'The tint was right for 61 of 66 hatched young.',
      },
    },
  ];
}

export function pageOf(clutch: MockClutch, eggs: EggView[], at: number, fahrenheit: boolean): ClutchPageView {
  const line = lineOf(clutch, eggs, at);
  const laid = at - clutch.laidDaysAgo * DAY;
  const pip = laid + clutch.days * DAY;
  const over = clutch.state === 'finished';
  const warm = fahrenheit ? '88.7 °F' : '31.5 °C';
  const iso = (ms: number): string => new Date(ms).toISOString();
  const from = clutch.key === 'c-12' ? [] : [iso(laid + 5 * HOUR)];
  const stage = Math.round((line.stage ?? 0) * 100);
  return {
    clutch: line,
    note: clutch.key === 'c-07' ? 'Eggs 1 to 7 are stuck together; left so.' : null,
    secondPerson: clutch.species === 'python-bivittatus' ? 'Matteo' : null,
    layDateSlackDays: clutch.key === 'c-12' ? 3 : 0,
    femaleCelsius: clutch.key === 'c-07' ? 31.8 : null,
    assumedCelsius: clutch.key === 'c-12' ? 31 : null,
    finishedAt: over ? iso(pip + 4 * DAY) : null,
    photoAt: null,
    sentence: over
      ? `${line.label} is finished: ${line.eggs.hatched} of ${line.eggs.laid} came out.`
      : clutch.state === 'hatching'
        ? `${line.label} is hatching: ${line.eggs.hatched} are out, ${eggs.filter((e) => e.status === 'pipped').length} have pipped.`
        : `${line.label} is on day ${line.day} and ${stage} % of the way.`,
    next: over
      ? 'The first was out on day 58.'
      : line.watched
        ? `${line.eggs.alive} of ${line.eggs.laid} eggs alive. Pip most likely on ${dateWords(iso(pip))}.`
        : 'Nothing is heard of it: it lies in no tub, so nobody would be called.',
    eggs,
    placements: from.map((f) => ({
      tub: `tub-${clutch.key}`,
      tubName: `Tub ${clutch.seed}`,
      incubator: line.incubator,
      incubatorName: line.incubatorName,
      shelf: clutch.shelf,
      from: f,
      until: over ? iso(pip + 3 * DAY) : null,
    })),
    forecast: over
      ? null
      : {
          stage: line.stage ?? 0,
          degreeDays: clutch.laidDaysAgo * 14.4,
          p10: iso(pip - 3 * DAY),
          p50: iso(pip),
          p90: iso(pip + 3 * DAY),
          assumedAhead: `For the days to come: ${warm} (the mean of the last three days).`,
          gaps:
            clutch.key === 'c-07'
              ? [{ from: iso(laid + 12 * DAY), to: iso(laid + 14 * DAY), hours: 48 }]
              : [],
          words: `Pip is to be expected between ${dateWords(iso(pip - 3 * DAY))} and ${dateWords(iso(pip + 3 * DAY))}, most likely about ${dateWords(iso(pip))} (8 eggs in 10).`,
          evidence: clutch.species === 'elaphe-carinata' ? 'published' : 'common practice',
          profile: 'from 17 °C upwards, give or take 3',
        },
    forecastWords: over
      ? null
      : `Pip is to be expected between ${dateWords(iso(pip - 3 * DAY))} and ${dateWords(iso(pip + 3 * DAY))}, most likely about ${dateWords(iso(pip))} (8 eggs in 10).`,
    pairings: pairingOf(clutch, eggs),
    cautions: [
      ...(clutch.species === 'python-bivittatus'
        ? ['A brooding large constrictor is strong and defends her eggs: two trained people, never alone.']
        : []),
      'Keep each egg the way up it lay: do not turn it.',
      'Wash your hands: snakes and their eggs carry Salmonella.',
    ],
    said:
      clutch.key === 'c-12'
        ? [
            'Entered on day 8: before that nothing is recorded. It is taken to have had 31 °C (as the keeper believes).',
          ]
        : [],
  };
}

interface Bump {
  from: number;
  hours: number;
  by: number;
}

const BUMPS: Record<string, Bump[]> = {
  'c-07': [
    { from: 21.6, hours: 31, by: 2.6 },
    { from: 34, hours: 9, by: -1.7 },
  ],
  'c-02': [
    { from: 5, hours: 60, by: 2.8 },
    { from: 18, hours: 20, by: 2.1 },
    { from: 19.5, hours: 14, by: 1.8 },
    { from: 33, hours: 44, by: -2.2 },
    { from: 47, hours: 7, by: 2 },
  ],
  'b-02': [{ from: 40, hours: 5, by: 1.6 }],
};

export function stripOf(clutch: MockClutch, eggs: readonly EggView[], at: number): Strip {
  const laid = at - clutch.laidDaysAgo * DAY;
  const pip = laid + clutch.days * DAY;
  const over = clutch.state === 'finished';
  const end = over ? pip + 4 * DAY : at;
  const bucketMs = Math.max(10 * 60_000, Math.ceil((end - laid) / 400));
  const [low, high] = clutch.band;
  const middle = (low + high) / 2;
  const gaps = clutch.key === 'c-07' ? [{ from: laid + 12 * DAY, to: laid + 14 * DAY }] : [];
  const strip: Strip = {
    from: new Date(laid).toISOString(),
    to: new Date(end).toISOString(),
    now: new Date(at).toISOString(),
    bucketMs,
    startMs: [],
    min: [],
    mean: [],
    max: [],
    gaps: gaps.map((g) => ({ from: new Date(g.from).toISOString(), to: new Date(g.to).toISOString() })),
    band: { dangerLow: low - 1, warningLow: low, warningHigh: high, dangerHigh: high + 1 },
    excursions: [],
    candlings: [],
    stage: [],
    pip: null,
    alarms: [],
  };
  const bumps = BUMPS[clutch.key] ?? [];
  const watched = clutch.incubator !== null || over;
  for (let ms = laid; watched && ms < end; ms += bucketMs) {
    if (gaps.some((g) => ms >= g.from && ms < g.to)) continue;
    const off = bumps.reduce((sum, b) => {
      const share = (ms - laid - b.from * DAY) / (b.hours * HOUR);
      return (
        sum +
        (share > -0.2 && share < 1.2 ? b.by * Math.max(0, Math.sin(((share + 0.2) / 1.4) * Math.PI)) : 0)
      );
    }, 0);
    const mean = middle + wave(clutch.seed, (ms - laid) / 6_000_000) * 1.5 + off;
    strip.startMs.push(ms);
    strip.mean.push(mean);
    strip.min.push(mean - 0.2 - chance(clutch.seed, ms / 7e6) * 0.15);
    strip.max.push(mean + 0.2 + chance(clutch.seed, ms / 9e6) * 0.15);
  }
  strip.excursions = bumps.map((b): Excursion => {
    const start = laid + b.from * DAY;
    return {
      from: new Date(start).toISOString(),
      to: new Date(start + b.hours * HOUR).toISOString(),
      peak: middle + b.by,
      degreeHours: Math.abs(b.by) * b.hours * 0.4,
      side: b.by > 0 ? 'above' : 'below',
      stage: b.from / clutch.days,
      words: b.by > 0 ? 'Ilka answered the alarm after 3 minutes.' : 'No alarm was raised.',
    };
  });
  for (const day of [8, 16, 25, 34, 43, 52].filter((d) => d < Math.min(clutch.laidDaysAgo, clutch.days))) {
    const seen = new Map<string | null, number>();
    for (const egg of eggs) {
      const colour = day < 20 ? '#e0c768' : egg.colour;
      seen.set(colour, (seen.get(colour) ?? 0) + 1);
    }
    strip.candlings.push({
      at: new Date(laid + day * DAY).toISOString(),
      tints: [...seen].map(([colour, n]) => ({ colour, n })),
    });
  }
  for (let d = 0; d <= clutch.days; d++) strip.stage.push([laid + d * DAY, d / clutch.days]);
  if (!over)
    strip.pip = {
      p10: new Date(pip - 3 * DAY).toISOString(),
      p50: new Date(pip).toISOString(),
      p90: new Date(pip + 3 * DAY).toISOString(),
      density: Array.from({ length: 49 }, (_, i): [number, number] => [
        pip + (i - 24) * 0.25 * DAY,
        Math.exp(-(((i - 24) / 9) ** 2)),
      ]),
    };
  strip.alarms = bumps
    .filter((b) => b.by > 0)
    .map((b, i) => ({
      occurrence: `${clutch.key}-alarm-${i}`,
      at: new Date(laid + b.from * DAY + HOUR).toISOString(),
      until: new Date(laid + b.from * DAY + b.hours * HOUR).toISOString(),
      severity: b.by > 2.2 ? 'danger' : 'warning',
      words: 'Above its band; Ilka answered after 3 minutes.',
    }));
  return strip;
}

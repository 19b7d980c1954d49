// Answers of the night half: species, tubs, entering and moving clutches, care, review, and a first night that
// begins empty and keeps what is entered (state "first night"). Invented; nothing here is measured.
import type { CareEntry } from '../src/care/entries.ts';
import type { ClutchBrief, Species, Tub } from '../src/clutches/new/shapes.ts';
import { reviewOf, stripOf } from './review.ts';

export const SPECIES: Species[] = [
  {
    key: 'python-regius',
    name: 'Ball python (Python regius)',
    words: 'Usually kept at 31 to 32 °C and very humid (common practice, no source).',
    largeConstrictor: false,
    band: {
      temperature: { dangerLow: 29.5, warningLow: 30.5, warningHigh: 32.5, dangerHigh: 33.5 },
      humidity: { dangerLow: 70, warningLow: 80, warningHigh: null, dangerHigh: null },
    },
  },
  {
    key: 'python-bivittatus',
    name: 'Burmese python (Python bivittatus)',
    words: 'A large constrictor: two people when the eggs are pulled.',
    largeConstrictor: true,
    band: {
      temperature: { dangerLow: 29.5, warningLow: 30.5, warningHigh: 32.5, dangerHigh: 33.5 },
      humidity: { dangerLow: 70, warningLow: 80, warningHigh: null, dangerHigh: null },
    },
  },
  {
    key: 'elaphe-carinata',
    name: 'King ratsnake (Elaphe carinata)',
    words: 'Hatched best at 26 to 30 °C; at 32 °C fewer hatched (Ji & Du 2001, Table 1).',
    largeConstrictor: false,
    band: {
      temperature: { dangerLow: 24, warningLow: 26, warningHigh: 30, dangerHigh: 31.5 },
      humidity: { dangerLow: 60, warningLow: 70, warningHigh: null, dangerHigh: null },
    },
  },
];

export const TUBS: Tub[] = [
  {
    key: 'tub-2',
    name: '2',
    substrate: 'vermiculite',
    waterGrams: 450,
    incubator: 'hazel',
    incubatorName: 'Hazel',
    shelf: 'lower',
  },
  {
    key: 'tub-5',
    name: '5',
    substrate: 'perlite',
    waterGrams: 300,
    incubator: 'linden',
    incubatorName: 'Linden',
    shelf: null,
  },
];

export function brief(key: string, part: Partial<ClutchBrief> = {}): ClutchBrief {
  return {
    key,
    label: key.toUpperCase(),
    species: 'python-regius',
    speciesName: 'Ball python',
    dam: 'Juno',
    sire: 'Moss',
    layDate: '2026-09-20',
    day: 66,
    eggs: { laid: 9, alive: 0, doubtful: 0, slug: 1, dead: 3, hatched: 5 },
    incubator: 'hazel',
    incubatorName: 'Hazel',
    tub: 'tub-2',
    watched: true,
    state: 'finished',
    ...part,
  };
}

export const CLUTCHES: ClutchBrief[] = [
  brief('n-03'),
  brief('n-01', {
    layDate: '2026-08-30',
    day: 60,
    eggs: { laid: 8, alive: 0, doubtful: 0, slug: 0, dead: 0, hatched: 8 },
    dam: 'Ottilie',
  }),
];

export function careOf(at: number): CareEntry[] {
  const entry = (
    id: string,
    kind: CareEntry['kind'],
    hours: number,
    note: string,
    grams?: number,
  ): CareEntry => ({
    id,
    on: 'incubator',
    key: 'hazel',
    kind,
    waterGrams: grams ?? null,
    note,
    by: id === 'b' ? 'Matteo' : 'Ilka',
    at: new Date(at - hours * 3_600_000).toISOString(),
  });
  return [
    entry('a', 'lid', 5, ''),
    entry('b', 'water', 50, '', 40),
    entry('c', 'other', 99, 'New door gasket; the old one had a gap below. <b>Keep an eye on it</b> 🥚'),
  ];
}

interface Asked {
  method: string;
  parts: string[];
  query: URLSearchParams;
  body: Record<string, unknown>;
  at: number;
}

type Answer = { status: number; body: unknown } | null;

const ok = (body: unknown, status = 200): Answer => ({ status, body });
export const refused = (errors: Record<string, string[]>): Answer => ({
  status: 400,
  body: { type: '/problems/invalid', title: 'Something in the form is not right.', status: 400, errors },
});

let care: CareEntry[] | null = null;

/** What the night half answers whatever the state; null leaves it to others. */
export function nightAnswer({ method, parts, query, body, at }: Asked): Answer {
  const [noun, key, part] = parts;
  if (noun === 'species') return ok(SPECIES);
  if (noun === 'tubs') return method === 'POST' && key === undefined ? ok({ key: 'tub-new' }, 201) : ok(TUBS);
  if (noun === 'care') {
    care ??= careOf(at);
    if (method === 'PUT') {
      care = [{ ...(body as unknown as CareEntry), id: key ?? '', by: 'Ilka' }, ...care];
      return ok({}, 201);
    }
    return ok(care.slice(0, Number(query.get('limit') ?? 50)));
  }
  if (noun !== 'clutches') return null;
  if (method === 'POST' && key === undefined) return enter(body);
  if (method === 'GET' && part === 'review') {
    const against = CLUTCHES.find((c) => c.key === query.get('against')) ?? null;
    return ok(reviewOf(CLUTCHES.find((c) => c.key === key) ?? brief(key ?? ''), against));
  }
  if (method === 'GET' && part === 'strip' && query.get('buckets') === '1200') return ok(stripOf());
  return null;
}

/** What is answered when nobody else does. */
export function nightFallback(parts: string[]): Answer {
  const [noun, key, part] = parts;
  if (noun !== 'clutches' || part !== undefined) return null;
  return key === undefined ? ok(CLUTCHES) : ok({ clutch: CLUTCHES.find((c) => c.key === key) ?? brief(key) });
}

/** A few of the rules of the service, so that words at fields can be seen. */
export function enter(body: Record<string, unknown>): Answer {
  const errors: Record<string, string[]> = {};
  if (Number(body.eggCount) > 120) errors.eggCount = ['At most 120: enter them as several clutches.'];
  if (Number(body.eggCount) < 1) errors.eggCount = ['A clutch has at least one egg: count slugs too.'];
  if (typeof body.femaleCelsius === 'number' && body.femaleCelsius > 45) {
    errors.femaleCelsius = ['The female’s temperature is between 10 and 45 °C, or left out.'];
  }
  if (Object.keys(errors).length > 0) return refused(errors);
  const tub = body.tub as { incubator?: string } | null;
  return ok(
    {
      ...brief('c-05', {
        state: 'incubating',
        day: 30,
        incubator: tub?.incubator ?? null,
        watched: tub?.incubator != null,
      }),
      incubatorName: tub?.incubator == null ? null : 'Hazel',
      label: body.label ?? 'C-05',
      eggs: { laid: Number(body.eggCount), alive: 0, doubtful: 0, slug: 0, dead: 0, hatched: 0 },
      said: [
        'Entered on day 30: before today there are only the readings of probes that were placed with it, if any.',
      ],
    },
    201,
  );
}

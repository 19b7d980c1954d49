// An invented facility's clutches. Names, traits, tints and temperatures are ours; nothing here is measured.
import type {
  CandlingEntry,
  ClutchLine,
  ClutchState,
  EggStatus,
  EggView,
  OutcomeEntry,
  TintTerm,
  Trait,
} from '../src/http/clutchShapes.ts';

export const DAY = 86_400_000;

export const TINTS: TintTerm[] = [
  { key: 'apricot', word: 'apricot', meaning: 'A warm glow with vessels.', colour: '#f0a878' },
  { key: 'coral', word: 'coral', meaning: 'A pink to red glow.', colour: '#e5806f' },
  { key: 'fern', word: 'fern', meaning: 'A green cast.', colour: '#9dbb74' },
  { key: 'straw', word: 'straw', meaning: 'Plain yellow, no vessels.', colour: '#e0c768' },
  { key: 'soot', word: 'soot', meaning: 'Hardly any light; late, a filled egg.', colour: '#6a534b' },
  { key: 'cannot-tell', word: "can't tell", meaning: 'Looked, and could not say.', colour: '#8f8475' },
];

export const TRAITS: Trait[] = [
  { key: 'lattice', name: 'Lattice', inheritance: 'incomplete dominant', carrierTints: ['fern'] },
  { key: 'vellum', name: 'Vellum', inheritance: 'recessive', carrierTints: [] },
];

export interface MockClutch {
  key: string;
  label: string;
  species: string;
  speciesName: string;
  dam: string;
  sire: string | null;
  laidDaysAgo: number;
  eggs: number;
  days: number;
  incubator: string | null;
  shelf: string | null;
  state: ClutchState;
  seed: number;
  trait: boolean;
  band: [number, number];
}

const BALL = { species: 'python-regius', speciesName: 'Ball python', band: [30.5, 32.5] as [number, number] };
const BURMESE = {
  species: 'python-bivittatus',
  speciesName: 'Burmese python',
  band: [30.5, 32.5] as [number, number],
};
const RAT = { species: 'elaphe-carinata', speciesName: 'King ratsnake', band: [26, 30] as [number, number] };

export const CLUTCHES: MockClutch[] = [
  {
    ...BALL,
    key: 'c-07',
    label: 'C-07',
    dam: 'Pomona',
    sire: 'Tarquin',
    laidDaysAgo: 43,
    eggs: 28,
    days: 59,
    incubator: 'Hazel',
    shelf: 'lower shelf',
    state: 'incubating',
    seed: 7,
    trait: true,
  },
  {
    ...BURMESE,
    key: 'b-02',
    label: 'B-02',
    dam: 'Ottoline',
    sire: 'Gawain',
    laidDaysAgo: 57,
    eggs: 46,
    days: 60,
    incubator: 'Rowan',
    shelf: null,
    state: 'hatching',
    seed: 2,
    trait: true,
  },
  {
    ...BALL,
    key: 'c-09',
    label: 'C-09',
    dam: 'Sabine',
    sire: 'Tarquin',
    laidDaysAgo: 31,
    eggs: 9,
    days: 59,
    incubator: 'Hazel',
    shelf: 'upper shelf',
    state: 'incubating',
    seed: 9,
    trait: false,
  },
  {
    ...BALL,
    key: 'c-11',
    label: 'C-11',
    dam: 'Linnet',
    sire: null,
    laidDaysAgo: 3,
    eggs: 6,
    days: 59,
    incubator: 'Juniper',
    shelf: null,
    state: 'incubating',
    seed: 11,
    trait: false,
  },
  {
    ...RAT,
    key: 'k-01',
    label: 'K-01',
    dam: 'Bryony',
    sire: 'Ash',
    laidDaysAgo: 38,
    eggs: 12,
    days: 62,
    incubator: 'Linden',
    shelf: 'by the door',
    state: 'incubating',
    seed: 21,
    trait: false,
  },
  {
    ...BALL,
    key: 'c-12',
    label: 'C-12',
    dam: 'The big spotted one from the second row',
    sire: 'unknown',
    laidDaysAgo: 8,
    eggs: 7,
    days: 59,
    incubator: null,
    shelf: null,
    state: 'incubating',
    seed: 12,
    trait: false,
  },
  {
    ...BALL,
    key: 'c-01',
    label: 'C-01',
    dam: 'Pomona',
    sire: 'Leander',
    laidDaysAgo: 402,
    eggs: 8,
    days: 58,
    incubator: null,
    shelf: null,
    state: 'finished',
    seed: 31,
    trait: true,
  },
  {
    ...BALL,
    key: 'c-02',
    label: 'C-02',
    dam: 'Sabine',
    sire: 'Leander',
    laidDaysAgo: 395,
    eggs: 11,
    days: 61,
    incubator: null,
    shelf: null,
    state: 'finished',
    seed: 32,
    trait: false,
  },
];

/** The same for the same seed and number. */
export function chance(seed: number, n: number): number {
  const v = Math.sin(seed * 127.1 + n * 311.7) * 43758.5453;
  return v - Math.floor(v);
}

/** Loose heaps, some eggs against each other: rows that are not rows. */
function placeOf(clutch: MockClutch, i: number): { x: number; y: number } {
  if (clutch.key === 'c-07' && i < 5) return { x: 0.1 + i * 0.1, y: 0.14 + (i % 2) * 0.05 };
  const columns = Math.max(3, Math.round(Math.sqrt(clutch.eggs * 1.5)));
  const rows = Math.ceil(clutch.eggs / columns);
  const [column, row] = [i % columns, Math.floor(i / columns)];
  const jitter = (n: number): number => (chance(clutch.seed, n) - 0.5) * 0.42;
  const x = 0.5 + ((column + 0.5 + (row % 2 === 0 ? 0.22 : -0.22) + jitter(i)) / columns - 0.5) * 0.94;
  const y = 0.5 + ((row + 0.5 + jitter(i + 500)) / rows - 0.5) * 0.9;
  return { x: Math.min(0.95, Math.max(0.05, x)), y: Math.min(0.93, Math.max(0.07, y)) };
}

function statusOf(clutch: MockClutch, i: number): EggStatus {
  const c = chance(clutch.seed, i + 900);
  if (clutch.laidDaysAgo < 7) return 'not looked at';
  if (c < 0.09) return 'slug';
  if (c < 0.13) return 'dead';
  if (clutch.state === 'finished') return 'hatched';
  if (clutch.state === 'hatching') return c < 0.3 ? 'hatched' : c < 0.55 ? 'pipped' : 'developing';
  if (c < 0.18) return 'doubtful';
  return 'developing';
}

function tintOf(clutch: MockClutch, i: number, status: EggStatus): TintTerm | undefined {
  if (status === 'not looked at') return undefined;
  if (status === 'slug') return TINTS[3];
  if (status === 'dead') return TINTS[4];
  const c = chance(clutch.seed, i + 1700);
  if (clutch.trait && c < 0.42) return TINTS[2];
  return c < 0.72 ? TINTS[0] : TINTS[1];
}

const WORDS: Record<EggStatus, string> = {
  'not looked at': 'Nothing has been entered of it yet.',
  developing: 'Developing: a full net of veins was seen, and nothing has gone back since.',
  doubtful: 'Doubtful: its veins are fading. Look again in a few days.',
  slug: 'A slug: it glows plain, and no veins were ever seen.',
  dead: 'Dead: a ring was seen.',
  pipped: 'Pipped: the shell is slit, the young is still inside.',
  hatched: 'Hatched: the young is out.',
};

export function eggOf(clutch: MockClutch, i: number, at: number): EggView {
  const status = statusOf(clutch, i);
  const term = tintOf(clutch, i, status);
  const looked = status !== 'not looked at';
  const day = clutch.laidDaysAgo;
  return {
    number: i + 1,
    ...placeOf(clutch, i),
    clump: clutch.key === 'c-07' && i < 5 ? 1 : null,
    status,
    statusWords: WORDS[status],
    restsOn: looked ? [`${clutch.key}-${i + 1}-2`] : [],
    tint: term?.key ?? null,
    tintWord: term?.word ?? null,
    colour: term?.colour ?? null,
    veins: !looked
      ? null
      : status === 'slug'
        ? 'none'
        : status === 'dead'
          ? 'ring'
          : status === 'doubtful'
            ? 'fading'
            : day < 12
              ? 'spot'
              : day < 25
                ? 'spreading'
                : 'full net',
    looksLikeSlug: status === 'slug' ? 'yes' : null,
    massGrams: null,
    lastAt: looked ? new Date(at - 9 * DAY).toISOString() : null,
    entries: looked ? 2 : 0,
    outcome:
      status === 'pipped'
        ? { kind: 'first pip', at: new Date(at - DAY).toISOString() }
        : status === 'hatched'
          ? { kind: 'out', at: new Date(at - DAY / 2).toISOString() }
          : null,
  };
}

export function lineOf(clutch: MockClutch, eggs: readonly EggView[], at: number): ClutchLine {
  const n = (...statuses: EggStatus[]): number => eggs.filter((e) => statuses.includes(e.status)).length;
  const laid = at - clutch.laidDaysAgo * DAY;
  const date = (ms: number): string => new Date(ms).toISOString().slice(0, 10);
  const pipAt = laid + clutch.days * DAY;
  const over = clutch.state === 'finished';
  return {
    key: clutch.key,
    label: clutch.label,
    species: clutch.species,
    speciesName: clutch.speciesName,
    dam: clutch.dam,
    sire: clutch.sire,
    layDate: date(laid),
    day: clutch.laidDaysAgo,
    eggs: {
      laid: eggs.length,
      alive: n('developing', 'pipped'),
      doubtful: n('doubtful'),
      slug: n('slug'),
      dead: n('dead'),
      hatched: n('hatched'),
    },
    stage: over ? 1 : Math.min(1, clutch.laidDaysAgo / clutch.days),
    pip: over ? null : { from: date(pipAt - 3 * DAY), likely: date(pipAt), to: date(pipAt + 3 * DAY) },
    incubator: clutch.incubator?.toLowerCase() ?? null,
    incubatorName: clutch.incubator,
    tub: clutch.key === 'c-12' ? null : `tub-${clutch.key}`,
    watched: clutch.incubator !== null,
    state: clutch.state,
    tints: eggs.map(({ number, x, y, tint, colour, status }) => ({ number, x, y, tint, colour, status })),
  };
}

/** What was entered before; the second look of every fourth egg was corrected, and of every fifth two people saw it. */
export function looksOf(clutch: MockClutch, egg: EggView, at: number): CandlingEntry[] {
  if (egg.entries === 0) return [];
  const look = (n: string, ago: number, by: string, tint: string | null): CandlingEntry => ({
    id: `${clutch.key}-${egg.number}-${n}`,
    egg: egg.number,
    tint,
    tintWord: TINTS.find((t) => t.key === tint)?.word ?? null,
    veins: ago > 15 ? 'spot' : egg.veins,
    movementSeen: ago > 15 ? null : egg.status === 'developing',
    shell: egg.number % 6 === 0 ? ['dented'] : [],
    looksLikeSlug: egg.looksLikeSlug,
    massGrams: egg.number % 3 === 0 ? 81.5 : null,
    note: null,
    by,
    at: new Date(at - ago * DAY).toISOString(),
    enteredAt: new Date(at - ago * DAY).toISOString(),
    supersedes: null,
  });
  const entries = [look('1', 27, 'Ilka', 'straw'), look('2', 9, 'Ilka', egg.tint)];
  if (egg.number % 4 === 3) {
    entries.push({
      ...look('3', 8.9, 'Matteo', egg.tint),
      supersedes: `${clutch.key}-${egg.number}-1`,
      note: 'That was egg 12, the number was smudged <b>here</b> 🐍',
    });
  }
  if (egg.number % 5 === 0) entries.push(look('4', 8.95, 'Matteo', 'coral'));
  return entries;
}

export function outcomesOf(clutch: MockClutch, egg: EggView): OutcomeEntry[] {
  if (egg.outcome === null) return [];
  return [
    {
      id: `${clutch.key}-${egg.number}-o`,
      egg: egg.number,
      kind: egg.outcome.kind,
      at: egg.outcome.at,
      trait: egg.outcome.kind === 'out' && clutch.trait ? 'lattice' : null,
      traitSeen:
        egg.outcome.kind === 'out' && clutch.trait ? (egg.tint === 'fern' ? 'one copy' : 'none') : null,
      note: null,
      supersedes: null,
      by: 'Ilka',
      enteredAt: egg.outcome.at,
    },
  ];
}

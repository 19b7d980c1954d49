// What the service says about clutches. Temperatures in °C; lay dates are local dates of the facility (YYYY-MM-DD).
import type { BandLimits } from './shapes.ts';

export type EggStatus = 'not looked at' | 'developing' | 'doubtful' | 'slug' | 'dead' | 'pipped' | 'hatched';
export type ClutchState = 'incubating' | 'hatching' | 'finished';
export type Veins = 'none' | 'spot' | 'spreading' | 'full net' | 'fading' | 'ring';
export type SlugLook = 'yes' | 'unsure' | 'no';
export type OutcomeKind = 'first pip' | 'out' | 'dead in egg' | 'slug';
export type TraitSeen = 'none' | 'one copy' | 'two copies' | 'carries';
export type Inheritance = 'recessive' | 'dominant' | 'incomplete dominant';

export interface LittleEgg {
  number: number;
  x: number;
  y: number;
  tint: string | null;
  colour: string | null;
  status: EggStatus;
}

export interface EggCounts {
  laid: number;
  alive: number;
  doubtful: number;
  slug: number;
  dead: number;
  hatched: number;
  notLookedAt?: number;
}

export interface ClutchLine {
  key: string;
  label: string;
  species: string;
  speciesName: string;
  dam: string;
  sire: string | null;
  layDate: string;
  day: number;
  eggs: EggCounts;
  /** Share of the time from laying to pip, 0 to 1. */
  stage: number | null;
  pip: { from: string; likely: string; to: string } | null;
  incubator: string | null;
  incubatorName: string | null;
  tub: string | null;
  watched: boolean;
  state: ClutchState;
  tints: LittleEgg[];
}

export interface EggView {
  number: number;
  x: number;
  y: number;
  /** Eggs stuck together share a number; null lies free. */
  clump: number | null;
  status: EggStatus;
  statusWords: string;
  restsOn: string[];
  tint: string | null;
  tintWord: string | null;
  colour: string | null;
  veins: Veins | null;
  looksLikeSlug: SlugLook | null;
  massGrams: number | null;
  lastAt: string | null;
  entries: number;
  outcome: { kind: OutcomeKind; at: string } | null;
}

export interface ClutchPlacement {
  tub: string;
  tubName: string;
  incubator: string | null;
  incubatorName: string | null;
  shelf: string | null;
  from: string;
  until: string | null;
}

export interface ForecastView {
  stage: number;
  degreeDays: number | null;
  p10: string | null;
  p50: string | null;
  p90: string | null;
  assumedAhead: string;
  gaps: { from: string; to: string; hours: number }[];
  words: string;
  evidence: string;
  profile: string;
}

export interface Counted {
  k: number;
  n: number;
  low: number;
  high: number;
}

export interface PairingView {
  trait: string;
  traitName: string;
  inheritance: Inheritance;
  damCopies: number;
  sireCopies: number | null;
  shares: { copies: number; share: string; p: number; looks: string }[];
  expectedCarriers: { mean: number; low: number; high: number } | null;
  glowing: { carrier: number; other: number; unsure: number } | null;
  likelihood: { p: number; words: string } | null;
  marker: {
    terms: string[];
    hits: number;
    misses: number;
    sensitivity: Counted | null;
    specificity: Counted | null;
    words: string;
  } | null;
}

export interface ClutchPageView {
  clutch: ClutchLine;
  note: string | null;
  secondPerson: string | null;
  layDateSlackDays: number;
  femaleCelsius: number | null;
  assumedCelsius: number | null;
  finishedAt: string | null;
  /** When the photo of the tub was taken up; null when there is none. */
  photoAt: string | null;
  sentence: string;
  next: string | null;
  eggs: EggView[];
  placements: ClutchPlacement[];
  forecast: ForecastView | null;
  forecastWords: string | null;
  pairings: PairingView[];
  cautions: string[];
  said: string[];
}

export interface Excursion {
  from: string;
  to: string;
  peak: number;
  degreeHours: number;
  side: 'above' | 'below';
  stage: number | null;
  words: string;
}

export interface Strip {
  from: string;
  to: string;
  now: string;
  bucketMs: number;
  startMs: number[];
  min: (number | null)[];
  mean: (number | null)[];
  max: (number | null)[];
  gaps: { from: string; to: string }[];
  band: BandLimits | null;
  /** Warning limits as they held, when they were changed or the clutch was moved. */
  bands?: { from: string; to: string; low: number | null; high: number | null }[];
  excursions: Excursion[];
  candlings: { at: string; tints: { colour: string | null; word?: string; n: number }[] }[];
  stage: [number, number][];
  pip: {
    p10: string | null;
    p50: string | null;
    p90: string | null;
    density: [number, number][];
  } | null;
  alarms: {
    occurrence: string;
    at: string;
    until: string | null;
    severity: 'warning' | 'danger';
    words: string;
  }[];
}

export interface CandlingBody {
  egg: number;
  tint: string | null;
  veins: Veins | null;
  movementSeen: boolean | null;
  shell: string[];
  looksLikeSlug: SlugLook | null;
  massGrams: number | null;
  note: string | null;
  at: string;
  supersedes: string | null;
}

export interface CandlingEntry extends CandlingBody {
  id: string;
  tintWord: string | null;
  by: string;
  enteredAt: string;
}

export interface OutcomeBody {
  egg: number;
  kind: OutcomeKind;
  at: string;
  trait: string | null;
  traitSeen: TraitSeen | null;
  note: string | null;
  supersedes: string | null;
}

export interface OutcomeEntry extends OutcomeBody {
  id: string;
  by: string;
  enteredAt: string;
}

export interface TintTerm {
  key: string;
  word: string;
  meaning: string;
  colour: string;
}

export interface Trait {
  key: string;
  name: string;
  inheritance: Inheritance;
  carrierTints: string[];
}

export interface TubView {
  key: string;
  name: string;
  incubator: string | null;
  incubatorName: string | null;
  shelf: string | null;
}

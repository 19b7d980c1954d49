// What the service says of clutches, as far as entering, moving, reviewing and caring for them needs it.
import type { BandLimits } from '../../http/shapes.ts';

export interface Species {
  key: string;
  name: string;
  words: string;
  largeConstrictor: boolean;
  band: Record<string, BandLimits | null>;
  cautions?: string[];
}

export interface Tub {
  key: string;
  name: string;
  substrate: string;
  substrateGrams?: number | null;
  waterGrams?: number | null;
  incubator?: string | null;
  incubatorName?: string | null;
  shelf?: string | null;
}

/** A clutch in one line, without what only its pictures need. */
export interface ClutchBrief {
  key: string;
  label: string;
  species: string;
  speciesName: string;
  dam: string;
  sire: string | null;
  layDate: string;
  day: number;
  eggs: {
    laid: number;
    alive: number;
    doubtful: number;
    slug: number;
    dead: number;
    hatched: number;
  };
  incubator: string | null;
  incubatorName: string | null;
  tub: string | null;
  watched: boolean;
  state: 'incubating' | 'hatching' | 'finished';
}

export interface Entered extends ClutchBrief {
  said?: string[];
}

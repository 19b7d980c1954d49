import type { BandLimits } from '../http/shapes.ts';

/** What one probe says of a stretch. */
export interface ProbeSays {
  probe: string;
  where: string | null;
  /** In words, such as "says so, 34.1 °C at the furthest". */
  says: string;
}

export interface ReviewAlarm {
  occurrence: string;
  raisedAt: string;
  severity: 'warning' | 'danger';
  answeredBy: string | null;
  answeredAt: string | null;
  words: string;
}

export interface ReviewCare {
  id?: string;
  kind: string;
  at: string;
  by: string;
  note?: string | null;
  waterGrams?: number | null;
}

export interface Stretch {
  side: 'above' | 'below';
  from: string;
  to: string;
  peak: number;
  degreeHoursAbove: number;
  degreeHoursBelow: number;
  stageFrom: number | null;
  stageTo: number | null;
  probes: ProbeSays[];
  alarms: ReviewAlarm[];
  care: ReviewCare[];
  words: string;
}

export interface Gap {
  from: string;
  to: string;
  hours?: number;
  alarms?: ReviewAlarm[];
}

/** A clutch as it is reviewed. */
export interface Reviewed {
  key: string;
  label: string;
  /** Its name, not its key. */
  species: string;
  dam: string;
  sire: string | null;
  layDate: string;
}

/** Which probe spoke for the clutch, and when. */
export interface Speaker {
  probe: string;
  where: string;
  near: string;
  from: string;
  to: string;
}

export interface ComparisonLine {
  what: string;
  this: number | string | null;
  against: number | string | null;
  words: string;
}

export interface Review {
  clutch: Reviewed;
  against: Reviewed | null;
  sentence: string;
  stretches: Stretch[];
  gaps: Gap[];
  /** Counts, and with them when the first pipped and the last was out. */
  outcomes: Record<string, number | string | null>;
  comparison: ComparisonLine[];
  speakers?: Speaker[];
  caveat: string;
}

/** What of the life strip the review draws. */
export interface Strip {
  from: string;
  to: string;
  bucketMs: number;
  startMs: number[];
  min: (number | null)[];
  max: (number | null)[];
  band: BandLimits | null;
}

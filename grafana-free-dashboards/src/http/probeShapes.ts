// What the service says of probes beyond their readings, of the air, of a run-in and of the keeping of readings.

export interface SeriesCorrection {
  gain: number;
  offset: number;
  from: string;
  method: string;
  nextDue: string | null;
}

export interface SinceLooked {
  since: string;
  least: number;
  leastAt: string;
  most: number;
  mostAt: string;
}

export interface ProbeTrouble {
  kind: 'stuck' | 'jump' | 'noise' | 'disagrees' | 'outside the tub';
  quantity: string;
  since: string;
  words: string;
  /** Pairs of Unix milliseconds and value: what it was judged by. */
  evidence: [number, number][];
  /** The other probe, where two disagree. */
  against: string | null;
}

export interface CalibrationPoint {
  measured: number;
  truth?: number;
}

export interface Calibration {
  id: string;
  quantity: string;
  from: string;
  method: string;
  points: { measured: number; truth: number }[];
  gain: number;
  offset: number;
  nextDue: string | null;
  note: string | null;
  supersedes: string | null;
  by: string;
  enteredAt: string;
  /** Whether it is the one by which readings are corrected now. */
  holds: boolean;
  words: string;
}

export interface SaltPoint {
  celsius: number;
  humidity: number;
  uncertainty: number;
}

export interface CalibrationPoints {
  icePoint: { truth: number; uncertainty: number; words: string };
  salts: { key: string; name: string; points: SaltPoint[]; source: string; caution?: string | null }[];
  /** All there is to mind, and what of it belongs to which method. */
  cautions: string[];
  cautionsOf?: Record<string, string[]>;
}

interface Doubtful {
  low: number;
  high: number;
}

export interface Air {
  at: string;
  celsius: number;
  humidity: number;
  dewPoint: number;
  absoluteHumidity: number;
  vapourPressureDeficit: number;
  spread: {
    dewPoint?: Doubtful | null;
    absoluteHumidity?: Doubtful | null;
    vapourPressureDeficit?: Doubtful | null;
    dripsBelow?: Doubtful | null;
  } | null;
  dripsBelow: number | null;
  words: string;
  probe: string | null;
}

export interface RunIn {
  id: string;
  from: string;
  until: string | null;
  hours: number;
  ofHours: number;
  state: 'running' | 'done' | 'ended';
  verdict: 'ready' | 'not ready' | 'too early';
  words: string;
  steadiness: {
    quantity: string;
    probe: string;
    where: string | null;
    mean: number;
    deviation: number;
    least: number;
    most: number;
    inBandShare: number | null;
  }[];
  spots: { probe: string; where: string | null; difference: number; words: string }[];
  findings: string[];
}

export interface Keeping {
  store: {
    kind: 'well' | 'spooling' | 'refusing' | 'damaged' | 'unreadable';
    words: string;
    /** Null, like the counts, when the file can't be read. */
    bytes: number | null;
    oldest: string | null;
    sealedDays: number | null;
    rawDays: number | null;
    lastCheck: { at: string; ok: boolean; words: string } | null;
  };
  /** `bytes` is 0 when there is none. */
  spool: { usedBytes: number; bytes: number };
  /** Only quantities that are not kept for good. */
  retention: { quantity: string; days: number }[];
  copy: {
    kind: string;
    state: 'well' | 'away' | 'stopped';
    /** Readings that wait one by one. */
    behind: number;
    /** Days of a probe's quantity that are still to be copied whole. */
    behindDays: number;
    oldestWaiting: string | null;
    refused: number;
    words: string;
  } | null;
  source: {
    kind: 'embedded' | 'external';
    state: 'starting' | 'listening' | 'reconnecting' | 'broken';
    since: string | null;
    heartbeatAt: string | null;
    words: string;
  };
  clock: { trusted: boolean; words: string };
}

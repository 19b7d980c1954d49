// What the service says, as it says it. Values are in the unit of the quantity (°C, %RH); times are RFC 3339 UTC.
import type { ClutchLine } from './clutchShapes.ts';
import type { ProbeTrouble, SeriesCorrection, SinceLooked } from './probeShapes.ts';

export type Tone = 'calm' | 'warning' | 'danger' | 'unknown';
export type Quality = 'good' | 'faulty' | 'silent' | 'unknown';
export type Standing =
  | 'in band'
  | 'warning high'
  | 'danger high'
  | 'warning low'
  | 'danger low'
  | 'not judged';
export type Condition = 'high' | 'low' | 'no reading' | 'nothing from any probe' | 'own trouble';
export type AlarmState = 'unacknowledged' | 'acknowledged' | 'returned to normal, unacknowledged';

export interface Session {
  state: 'unclaimed' | 'signed out' | 'signed in';
  name: string | null;
  role: string | null;
  demo: boolean;
  facility: string;
  zone: string;
}

export interface BandLimits {
  dangerLow: number | null;
  warningLow: number | null;
  warningHigh: number | null;
  dangerHigh: number | null;
}

export interface BandSettings extends BandLimits {
  deadband: number;
  warningOnDelaySeconds: number;
  dangerOnDelaySeconds: number;
  offDelaySeconds: number;
  silentAfterSeconds: number;
}

export interface QuantityNow {
  quantity: string;
  unit: string;
  value: number | null;
  at: string | null;
  quality: Quality;
  probe: string | null;
  perHour: number | null;
  band: BandLimits | null;
  standing: Standing;
  /** Pairs of seconds ago and value. */
  lastHour: [number, number][];
}

export interface Alarm {
  occurrence: string;
  incubator: string;
  incubatorName: string;
  probe: string | null;
  quantity: string | null;
  condition: Condition;
  severity: 'warning' | 'danger';
  state: AlarmState;
  raisedAt: string;
  value: number | null;
  limit: number | null;
  peak: number | null;
  answeredBy: string | null;
  answeredAt: string | null;
  returnedAt: string | null;
  nextCall: { who: string; at: string } | null;
  words: string;
}

export interface IncubatorNow {
  key: string;
  name: string;
  position: number;
  quantities: QuantityNow[];
  alarms: Alarm[];
  /** The clutches that lie in it. */
  clutches?: ClutchLine[];
}

export interface Headline {
  tone: Tone;
  sentence: string;
  next: string | null;
  detail: string | null;
  occurrence: string | null;
  incubator: string | null;
}

export interface Now {
  at: string;
  facility: string;
  zone: string;
  headline: Headline;
  incubators: IncubatorNow[];
  alarms: Alarm[];
  notPlaced: number;
  callOut: { reachable: boolean; words: string };
  toDo: { when: string; what: string; href: string | null }[];
}

export interface ProbeSeries {
  quantity: string;
  unit: string;
  value: number | null;
  at: string | null;
  arrivedAt: string | null;
  quality: Quality;
  marks: string[];
  saturated: boolean;
  /** As the probe said it, before it was corrected. */
  measured?: number | null;
  correction?: SeriesCorrection | null;
  sinceLooked?: SinceLooked | null;
}

export interface ProbeView {
  key: string;
  /** Null until a keeper names it; then it goes by its key. */
  name: string | null;
  incubator: string | null;
  incubatorName: string | null;
  where: string | null;
  placedSince: string | null;
  firstHeardAt: string | null;
  series: ProbeSeries[];
  clockOffSeconds: number | null;
  silentAfterSeconds: number | null;
  /** False when the probe's last will said so. */
  online?: boolean | null;
  /** How far its own clock is from ours; null when it sends no time. */
  skewSeconds?: number | null;
  troubles?: ProbeTrouble[];
  tub?: string | null;
  tubName?: string | null;
  calibrationDue?: string | null;
}

export interface Probes {
  placed: ProbeView[];
  notPlaced: ProbeView[];
}

export interface IncubatorView {
  key: string;
  name: string;
  position: number;
  bands: Record<string, BandSettings | null>;
  probes: ProbeView[];
}

export interface RejectedMessage {
  topic: string;
  reason: string;
  payloadStart: string;
  count: number;
  firstAt: string;
  lastAt: string;
}

export interface HistorySeries {
  probe: string;
  where: string | null;
  startMs: number[];
  min: number[];
  mean: number[];
  max: number[];
  count: number[];
  /** Stretches without a reading where there should be some, as the service judges; absent from an older service. */
  gaps?: [number, number][];
}

export interface History {
  quantity: string;
  unit: string;
  from: string;
  to: string;
  bucketMs: number;
  series: HistorySeries[];
  band: BandLimits | null;
  /** Why a part of it is missing from this answer, in words; null or absent when it is whole. */
  incomplete?: string | null;
}

export interface CallStep {
  id: string | null;
  position: number;
  who: string;
  channel: 'mail' | 'webhook';
  address: string;
  hasSecret: boolean;
  afterSeconds: number;
  repeatSeconds: number;
  enabled: boolean;
  secret?: string;
}

export interface CallOrder {
  steps: CallStep[];
}

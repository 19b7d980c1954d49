// An invented facility for development, pictures and tests. Temperatures and names are ours; nothing here is measured.
import type {
  Alarm,
  BandSettings,
  History,
  IncubatorNow,
  Now,
  QuantityNow,
  Standing,
} from '../src/http/shapes.ts';

export type MockState =
  | 'calm'
  | 'warning'
  | 'danger'
  | 'answered'
  | 'several'
  | 'silent'
  | 'empty'
  | 'first night'
  | 'many'
  | 'long'
  | 'unclaimed'
  | 'signed out'
  | 'no signal'
  | 'troubles'
  | 'run-in running'
  | 'run-in ready'
  | 'run-in not ready'
  | 'spooling'
  | 'clock'
  | 'broker away'
  | 'disconnected';

export const BAND: BandSettings = {
  dangerLow: 29.5,
  warningLow: 30.5,
  warningHigh: 32.5,
  dangerHigh: 33.5,
  deadband: 0.2,
  warningOnDelaySeconds: 300,
  dangerOnDelaySeconds: 60,
  offDelaySeconds: 120,
  silentAfterSeconds: 600,
};

export const HUMIDITY_BAND: BandSettings = {
  dangerLow: 70,
  warningLow: 80,
  warningHigh: null,
  dangerHigh: null,
  deadband: 2,
  warningOnDelaySeconds: 900,
  dangerOnDelaySeconds: 600,
  offDelaySeconds: 300,
  silentAfterSeconds: 900,
};

const HOUR = 3_600_000;
const NAMES = ['Hazel', 'Rowan', 'Juniper', 'Linden', 'Sorrel'];
const MORE = [
  'Bramble',
  'Clover',
  'Damson',
  'Elder',
  'Fern',
  'Gorse',
  'Heather',
  'Iris',
  'Jasmine',
  'Knapweed',
];
const LONG = [
  'The old refrigerator by the window, converted in the spring of last year',
  'Donaudampfschifffahrtsgesellschaftsschrank',
  'Linden',
  'Upper left incubator for the late clutches',
];

/** Two slow waves and a little unrest; the same for the same seed and time. */
export function wave(seed: number, minutes: number): number {
  return (
    Math.sin(minutes / 17 + seed * 1.7) * 0.16 +
    Math.sin(minutes / 61 + seed) * 0.12 +
    Math.sin(minutes * 2.3 + seed * 5) * 0.04
  );
}

export function namesFor(state: MockState): string[] {
  if (state === 'empty') return [];
  if (state === 'long') return LONG;
  if (state === 'many')
    return Array.from({ length: 30 }, (_, i) => [...NAMES, ...MORE][i % 15] + (i < 15 ? '' : ' II'));
  return NAMES;
}

/** How far the first incubator has drifted in a state, in °C. */
export function drift(state: MockState): number {
  if (state === 'danger' || state === 'answered' || state === 'disconnected' || state === 'several')
    return 2.35;
  return state === 'warning' || state === 'long' || state === 'many' ? 1.4 : 0;
}

export function nowOf(state: MockState, at: number): Now {
  const names = namesFor(state);
  const incubators = names.map((name, i) => incubatorOf(state, name, i, at));
  const alarms = incubators.flatMap((i) => i.alarms);
  const first = alarms[0];
  return {
    at: new Date(at).toISOString(),
    facility: 'The egg room',
    zone: 'Europe/Vienna',
    headline: headlineOf(state, incubators, first),
    incubators,
    alarms,
    notPlaced: state === 'calm' || state === 'many' ? 0 : 1,
    callOut: {
      reachable: state !== 'empty' && state !== 'warning',
      words: 'No one is on the call-out order yet: an alarm would only be seen here.',
    },
    toDo:
      state === 'empty'
        ? []
        : [
            {
              when: 'tonight',
              what: 'Linden’s door gasket was loose in the evening; see that it is shut.',
              href: null,
            },
            {
              when: 'tonight',
              what: 'Candle C-09, day 31, 27 eggs. Look for a full net of veins; the tint can be read now.',
              href: '/clutches/c-09',
            },
            {
              when: 'tomorrow',
              what: 'C-02 can pip from tomorrow (10 %), most likely on Friday. Set up tubs for the young.',
              href: '/clutches/c-02',
            },
            {
              when: 'now',
              what: 'Nothing is watched for C-11: no probe is placed in Sorrel.',
              href: '/probes',
            },
            { when: 'Thursday', what: 'Place the probe that is heard as sorrel-low-2.', href: '/probes' },
          ],
  };
}

function headlineOf(state: MockState, incubators: IncubatorNow[], alarm: Alarm | undefined): Now['headline'] {
  const base = { occurrence: alarm?.occurrence ?? null, incubator: alarm?.incubator ?? null };
  if (incubators.length === 0) {
    return {
      ...base,
      tone: 'unknown',
      sentence: 'There is no incubator yet.',
      next: 'Three steps, and it is watched.',
      detail: null,
    };
  }
  if (alarm === undefined) {
    return {
      ...base,
      tone: 'calm',
      sentence: `All ${incubators.length} incubators are in their bands.`,
      next: 'The last alarm was on Sunday, 22:40; Ilka had it after 3 minutes.',
      detail: null,
    };
  }
  const rest = incubators.length - 1;
  return {
    ...base,
    tone: state === 'silent' ? 'unknown' : alarm.severity,
    sentence:
      state === 'silent'
        ? `Nothing is heard from ${alarm.incubatorName}.`
        : `${alarm.words.replace(/\.$/, '')}, and rising.`,
    next: `The other ${rest} are in their bands.`,
    detail:
      alarm.answeredBy === null
        ? 'Nobody has answered for 14 minutes. Check first: is the thermostat’s own probe still in its place, is the door shut?'
        : `${alarm.answeredBy} has it. The highest was 34.9 °C.`,
  };
}

function incubatorOf(state: MockState, name: string, i: number, at: number): IncubatorNow {
  const key = keyOf(name);
  const silent = state === 'silent' && i === 1;
  const off = (i === 0 ? drift(state) : 0) + (state === 'several' && i === 3 ? -1.6 : 0);
  const temperature = quantityOf('temperature', i, at, off, silent);
  const humidity = quantityOf('humidity', i, at, state === 'several' && i === 2 ? -9 : 0, silent);
  const alarms: Alarm[] = [];
  for (const q of [temperature, humidity]) {
    if (q.standing.startsWith('warning') || q.standing.startsWith('danger'))
      alarms.push(alarmOf(state, key, name, q, at));
  }
  if (silent)
    alarms.push({
      ...alarmOf(state, key, name, temperature, at),
      condition: 'nothing from any probe',
      value: null,
    });
  return {
    key,
    name,
    position: i + 1,
    quantities: i === 4 && state === 'several' ? [temperature] : [temperature, humidity],
    alarms,
  };
}

function quantityOf(quantity: string, seed: number, at: number, off: number, silent: boolean): QuantityNow {
  const wet = quantity === 'humidity';
  const base = wet ? 86 : 31.5;
  const swing = wet ? 6 : 1;
  const minutes = Math.round(at / 60_000) % 100_000;
  const valueAt = (ago: number): number =>
    round(
      base +
        wave(seed + (wet ? 9 : 0), minutes - ago) * swing +
        off * Math.min(1, Math.max(0.25, 1 - ago / 55)) * (ago > 59 ? 0.2 : 1),
    );
  const value = silent ? null : valueAt(0);
  const band = wet ? HUMIDITY_BAND : BAND;
  const lastHour: [number, number][] = Array.from({ length: 30 }, (_, n): [number, number] => [
    n * 120,
    valueAt(n * 2),
  ]).filter(([ago]) => !(silent && ago < 1500) && !(seed === 3 && ago > 1200 && ago < 2000));
  return {
    quantity,
    unit: wet ? '%RH' : 'Cel',
    value,
    at: new Date(at - 4000).toISOString(),
    quality: silent ? 'silent' : 'good',
    probe: `probe-${seed}`,
    perHour: wet ? null : round(off > 0 ? 1.1 : 0.02),
    band,
    standing: value === null ? 'not judged' : standingOf(value, band),
    lastHour,
  };
}

export function standingOf(value: number, band: BandSettings): Standing {
  if (band.dangerHigh !== null && value > band.dangerHigh) return 'danger high';
  if (band.warningHigh !== null && value > band.warningHigh) return 'warning high';
  if (band.dangerLow !== null && value < band.dangerLow) return 'danger low';
  if (band.warningLow !== null && value < band.warningLow) return 'warning low';
  return 'in band';
}

function alarmOf(state: MockState, incubator: string, name: string, q: QuantityNow, at: number): Alarm {
  const high = q.standing.endsWith('high');
  const limit = (high ? q.band?.warningHigh : q.band?.warningLow) ?? null;
  const over = Math.abs((q.value ?? 0) - (limit ?? 0));
  const unit = q.quantity === 'humidity' ? '%RH' : '°C';
  const answered = state === 'answered';
  const silent = q.quality === 'silent';
  return {
    occurrence: `00000000-0000-7000-8000-${incubator.slice(0, 4).padEnd(8, '0')}${q.quantity.slice(0, 4)}`,
    incubator,
    incubatorName: name,
    probe: null,
    quantity: q.quantity,
    condition: high ? 'high' : 'low',
    severity: q.standing.startsWith('danger') || silent ? 'danger' : 'warning',
    state: answered ? 'acknowledged' : 'unacknowledged',
    raisedAt: new Date(at - 14 * 60_000).toISOString(),
    value: q.value,
    limit,
    peak: q.value,
    answeredBy: answered ? 'Ilka' : null,
    answeredAt: answered ? new Date(at - 2 * 60_000).toISOString() : null,
    returnedAt: null,
    nextCall: answered ? null : { who: 'Matteo', at: new Date(at + 4 * 60_000).toISOString() },
    words: silent
      ? `Nothing is heard from ${name}.`
      : `${name} is ${over.toFixed(q.quantity === 'humidity' ? 0 : 1)} ${unit} ${high ? 'above' : 'below'} its ${q.quantity === 'humidity' ? 'humidity ' : ''}band.`,
  };
}

/** The past in buckets: the band left in some states, a door opened, and two stretches without a word. */
export function historyOf(
  state: MockState,
  key: string,
  quantity: string,
  from: number,
  to: number,
  buckets: number,
  at: number = to,
): History {
  const seed = Math.max(0, namesFor(state).map(keyOf).indexOf(key));
  const bucketMs = Math.max(1_000, Math.ceil((to - from) / buckets));
  const wet = quantity === 'humidity';
  const base = wet ? 86 : 31.5;
  const silences = [
    [at - 10.5 * HOUR, at - 9 * HOUR],
    [at - 21 * 24 * HOUR, at - 19.5 * 24 * HOUR],
  ] as const;
  const series = ['low', 'high'].slice(0, wet ? 1 : 2).map((where, n) => {
    const gaps =
      n > 0
        ? []
        : silences
            .filter(([a, b]) => b > from && a < to)
            .map(([a, b]): [number, number] => [Math.max(a, from), Math.min(b, to)]);
    const made = {
      probe: `${key}-${where}`,
      where: `${where === 'low' ? 'lower' : 'upper'} shelf`,
      startMs: [] as number[],
      min: [] as number[],
      mean: [] as number[],
      max: [] as number[],
      count: [] as number[],
      gaps,
    };
    const wide = 0.12 + Math.min(0.5, Math.log10(bucketMs / 60_000 + 1) * 0.2);
    for (let ms = from; ms < Math.min(to, at); ms += bucketMs) {
      const hoursAgo = (at - ms) / HOUR;
      if (hoursAgo > 90 * 24) continue;
      if (gaps.some(([a, b]) => ms >= a && ms + bucketMs <= b)) continue;
      const off = seed === 0 && !wet ? drift(state) * Math.min(1, Math.max(0, 1 - hoursAgo)) : 0;
      const door = hoursAgo > 15 && hoursAgo < 15.3 ? -2.2 : 0;
      const warm =
        hoursAgo > 800 && hoursAgo < 830 && !wet ? 1.5 * Math.sin(((hoursAgo - 800) / 30) * Math.PI) : 0;
      const mean =
        base +
        wave(seed + n * 3 + (wet ? 9 : 0), Math.round(ms / 60_000) % 100_000) * (wet ? 6 : 1) +
        n * 0.25 +
        off +
        warm +
        door * (wet ? 5 : 1);
      made.startMs.push(ms);
      made.mean.push(round(mean));
      made.min.push(round(mean - wide * (wet ? 6 : 1)));
      made.max.push(round(mean + wide * 1.1 * (wet ? 6 : 1)));
      made.count.push(6);
    }
    return made;
  });
  const band = wet ? HUMIDITY_BAND : BAND;
  return {
    quantity,
    unit: wet ? '%RH' : 'Cel',
    from: new Date(from).toISOString(),
    to: new Date(to).toISOString(),
    bucketMs,
    series,
    band,
  };
}

export const keyOf = (name: string): string =>
  name
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .slice(0, 40);

function round(value: number): number {
  return Math.round(value * 100) / 100;
}

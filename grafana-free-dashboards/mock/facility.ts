// An invented facility for development, pictures and tests. Temperatures and names are ours; nothing here is measured.
import type { Alarm, BandSettings, IncubatorNow, Now, QuantityNow, Standing } from '../src/http/shapes.ts';

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
    notPlaced: state === 'calm' || state === 'many' || serviceTrouble(state) !== null ? 0 : 1,
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
  const own = serviceTrouble(state);
  if (alarm === undefined && own !== null) return { ...base, ...own };
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

/** What the service says of itself when something is wrong with it. */
function serviceTrouble(
  state: MockState,
): Pick<Now['headline'], 'tone' | 'sentence' | 'next' | 'detail'> | null {
  const sentence = 'All 5 incubators are in their bands.';
  if (state === 'spooling')
    return {
      tone: 'warning',
      sentence,
      next: 'The disk is full.',
      detail:
        'Readings are kept in the spool file at /var/lib/incubation/readings-that-wait-for-the-disk/spool.bin since 01:40; it has room for about 5 days. Free some space.',
    };
  if (state === 'clock')
    return {
      tone: 'warning',
      sentence,
      next: 'The clock of this computer is not believed.',
      detail:
        'It stands 14 days in the past. Alarms run on; dates, forecasts and the list of what to do wait until it is right.',
    };
  if (state === 'broker away')
    return {
      tone: 'unknown',
      sentence: 'It is not known how the incubators are.',
      next: 'Nothing comes through broker.egg-room.example since 02:58.',
      detail:
        'The connection looks open, but the service does not hear its own heartbeat through it. It is opened anew every minute.',
    };
  return null;
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

export const keyOf = (name: string): string =>
  name
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .slice(0, 40);

export function round(value: number): number {
  return Math.round(value * 100) / 100;
}

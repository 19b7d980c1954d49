// Answers about probes, air, run-ins and the keeping of readings. Invented; only the fixed points are true figures.
import type { Air, Calibration, CalibrationPoints, ProbeTrouble, RunIn } from '../src/http/probeShapes.ts';
import type { ProbeView } from '../src/http/shapes.ts';
import type { Answer } from './clutches.ts';
import { keyOf, type MockState, namesFor } from './facility.ts';
import { keepingOf } from './keeping.ts';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const iso = (at: number): string => new Date(at).toISOString();
const ok = (body: unknown, status = 200): Answer => ({ status, body });

/** Ice point: definition of the Celsius scale, from memory. Salts: Greenspan 1977, table 2, the values at 25 and 30 °C. */
export const POINTS: CalibrationPoints = {
  icePoint: { truth: 0, uncertainty: 0.05, words: 'Crushed ice in its own melt water is at 0.00 °C.' },
  salts: [
    {
      key: 'sodium-chloride',
      name: 'Table salt (sodium chloride)',
      points: [
        { celsius: 20, humidity: 75.47, uncertainty: 0.14 },
        { celsius: 25, humidity: 75.29, uncertainty: 0.12 },
        { celsius: 30, humidity: 75.09, uncertainty: 0.11 },
      ],
      source: 'Greenspan 1977',
    },
    {
      key: 'potassium-sulfate',
      name: 'Potassium sulfate',
      points: [
        { celsius: 20, humidity: 97.59, uncertainty: 0.53 },
        { celsius: 25, humidity: 97.3, uncertainty: 0.45 },
        { celsius: 30, humidity: 97.0, uncertainty: 0.4 },
      ],
      source: 'Greenspan 1977',
    },
  ],
  cautions: [
    'Stir the ice and wait until the value rests for five minutes; a thin cable brings warmth in.',
    'A saturated salt needs undissolved crystals to be seen, a closed jar, and hours of rest at one temperature.',
  ],
};

const saved = new Map<string, Calibration[]>();
const looked = new Map<string, number>();
const runs = new Map<string, RunIn[]>();

export function forgetReadings(): void {
  saved.clear();
  looked.clear();
  runs.clear();
}

/** What a probe has beyond its readings; troubles only in the state of that name. */
export function withMore(probe: ProbeView, n: number, state: MockState, at: number): ProbeView {
  const seen = looked.get(probe.key) ?? at - 31 * HOUR;
  const dear =
    n === 0
      ? { gain: 1, offset: -0.18, from: iso(at - 50 * DAY), method: 'ice bath', nextDue: '2027-04-02' }
      : null;
  return {
    ...probe,
    online: n === 1 && state === 'troubles' ? false : n > 3 ? null : true,
    skewSeconds: n === 3 ? -7260 : n > 3 ? null : 0.4 + n,
    tub: n === 0 ? 'tub-2' : null,
    tubName: n === 0 ? 'Tub 2' : null,
    calibrationDue: n === 0 ? '2027-04-02' : n === 2 ? '2026-11-01' : null,
    troubles: state === 'troubles' ? troublesOf(n, at) : [],
    series: [
      ...probe.series.map((s) => ({
        ...s,
        measured: s.value === null ? null : s.value + (s.quantity === 'temperature' && n === 0 ? 0.18 : 0),
        correction: s.quantity === 'temperature' ? dear : null,
        sinceLooked:
          s.value === null
            ? null
            : {
                since: iso(seen),
                least: s.value - (at - seen > HOUR ? 0.7 : 0),
                leastAt: iso(seen + (at - seen) / 3),
                most: s.value + (at - seen > HOUR ? 0.4 : 0),
                mostAt: iso(seen + (at - seen) / 2),
              },
      })),
      ...(n === 1 ? [extra('battery', '%', 64, at), extra('signal', 'dBm', -71, at)] : []),
    ],
  };
}

const extra = (quantity: string, unit: string, value: number, at: number): ProbeView['series'][number] => ({
  quantity,
  unit,
  value,
  at: iso(at - 9000),
  arrivedAt: iso(at - 9000),
  quality: 'good',
  marks: [],
  saturated: false,
});

function troublesOf(n: number, at: number): ProbeTrouble[] {
  const line = (of: (i: number) => number): [number, number][] =>
    Array.from({ length: 48 }, (_, i) => [at - (48 - i) * 600_000, Math.round(of(i) * 100) / 100]);
  const trouble = (kind: ProbeTrouble['kind'], words: string, of: (i: number) => number): ProbeTrouble => ({
    kind,
    quantity: 'temperature',
    since: iso(at - 5 * HOUR),
    words,
    evidence: line(of),
    against: kind === 'disagrees' ? 'linden-low' : null,
  });
  if (n === 0)
    return [
      trouble('stuck', 'It has said exactly 31.44 °C for 5 h; before, it changed every few minutes.', (i) =>
        i > 18 ? 31.44 : 31.4 + Math.sin(i / 3) * 0.2,
      ),
    ];
  if (n === 2)
    return [
      trouble(
        'jump',
        'It jumped by 6.1 °C within 10 s, three times since midnight. A loose wire does that.',
        (i) => (i % 17 === 16 ? 37.6 : 31.5 + Math.sin(i / 4) * 0.1),
      ),
      trouble(
        'noise',
        'Its values scatter by 0.42 °C from one to the next; a week ago it was 0.04 °C.',
        (i) => 31.5 + (i > 20 ? ((i * 7919) % 13) / 13 - 0.5 : 0.04),
      ),
    ];
  if (n === 3)
    return [
      trouble(
        'disagrees',
        'It and linden-low are 1.1 °C apart; a week ago it was 0.2 °C.',
        (i) => 0.2 + Math.max(0, i - 20) * 0.033,
      ),
    ];
  return [];
}

export function readingsAnswer(
  method: string,
  parts: readonly string[],
  body: Record<string, unknown>,
  state: MockState,
  at: number,
): Answer | null {
  const [noun, key = '', part, id] = parts;
  if (noun === 'calibration-points') return ok(POINTS);
  if (noun === 'readings' && key === 'keeping') return ok(keepingOf(state, at));
  if (noun === 'probes' && part === 'looks') {
    looked.set(key, at);
    return { status: 204 } as Answer;
  }
  if (noun === 'probes' && part === 'calibrations') return calibrations(method, key, id, body, at);
  if (noun === 'incubators' && part === 'air') {
    return state === 'silent'
      ? { status: 404, body: { detail: 'No humidity is heard here.' } }
      : ok(airOf(at));
  }
  if (noun === 'incubators' && part === 'run-ins') return runIns(method, key, state, at);
  return null;
}

function calibrations(
  method: string,
  key: string,
  id: string | undefined,
  body: Record<string, unknown>,
  at: number,
): Answer {
  const list = saved.get(key) ?? (key.startsWith('hazel') ? [older(at)] : []);
  if (method === 'GET') return ok(list);
  if (method === 'DELETE') {
    saved.set(
      key,
      list.map((c) => ({ ...c, holds: false })),
    );
    return { status: 204 } as Answer;
  }
  const points = (body.points as { measured: number; truth?: number }[]).map((p) => ({ truth: 0, ...p }));
  const first = points[0] ?? { measured: 0, truth: 0 };
  const made: Calibration = {
    ...older(at),
    id: id ?? 'new',
    quantity: String(body.quantity),
    from: String(body.from),
    method: String(body.method),
    points,
    offset: first.truth - first.measured,
    nextDue: (body.nextDue as string | undefined) ?? null,
    note: (body.note as string | undefined) ?? null,
    enteredAt: iso(at),
    words: `${String(body.method)}: ${(first.truth - first.measured).toFixed(2)} is added.`,
  };
  saved.set(key, [made, ...list.map((c) => ({ ...c, holds: false }))]);
  return ok(made, 201);
}

const older = (at: number): Calibration => ({
  id: 'a',
  quantity: 'temperature',
  from: iso(at - 50 * DAY),
  method: 'ice bath',
  points: [{ measured: 0.18, truth: 0 }],
  gain: 1,
  offset: -0.18,
  nextDue: '2027-04-02',
  note: 'two litres of crushed ice',
  supersedes: null,
  by: 'Ilka',
  enteredAt: iso(at - 50 * DAY),
  holds: true,
  words: 'In the ice bath it said 0.18 °C: 0.18 °C is taken off every reading.',
});

function airOf(at: number): Air {
  return {
    at: iso(at - 4000),
    celsius: 31.5,
    humidity: 86,
    dewPoint: 28.9,
    absoluteHumidity: 28.4,
    vapourPressureDeficit: 0.65,
    spread: {
      dewPoint: { low: 28.1, high: 29.6 },
      absoluteHumidity: { low: 27.1, high: 29.6 },
      vapourPressureDeficit: { low: 0.46, high: 0.84 },
      dripsBelow: { low: 28.1, high: 29.6 },
    },
    dripsBelow: 28.9,
    words: 'Anything cooler than 28.9 °C in it drips: a lid 2.6 °C cooler than the air is wet.',
    probe: 'hazel-high',
  };
}

function runIns(method: string, key: string, state: MockState, at: number): Answer {
  const list = runs.get(key) ?? (state.startsWith('run-in') ? [runInOf(state, key, at)] : []);
  if (method === 'GET') return ok(list);
  if (method === 'DELETE') {
    runs.set(
      key,
      list.map((r) => ({ ...r, state: 'ended' as const, until: iso(at) })),
    );
    return { status: 204 } as Answer;
  }
  const made = {
    ...runInOf('run-in running', key, at),
    hours: 0,
    from: iso(at),
    steadiness: [],
    spots: [],
    words: 'It has just begun.',
  };
  runs.set(key, [made, ...list]);
  return ok(made, 201);
}

function runInOf(state: MockState, key: string, at: number): RunIn {
  const hours = state === 'run-in running' ? 19 : 48;
  const bad = state === 'run-in not ready';
  const name = namesFor(state).find((n) => keyOf(n) === key) ?? key;
  return {
    id: 'run-1',
    from: iso(at - hours * HOUR),
    until: state === 'run-in running' ? null : iso(at),
    hours,
    ofHours: 48,
    state: state === 'run-in running' ? 'running' : 'done',
    verdict: state === 'run-in running' ? 'too early' : bad ? 'not ready' : 'ready',
    words:
      state === 'run-in running'
        ? `${name} has been steady for 19 of 48 hours.`
        : bad
          ? `${name} is not ready: its upper shelf is 1.4 °C warmer than its lower one.`
          : `${name} is ready: it held 31.5 °C within 0.3 °C for 48 hours.`,
    steadiness: ['upper shelf, by the door', 'middle shelf', 'lower shelf'].map((where, i) => ({
      quantity: 'temperature',
      probe: `${key}-${['high', 'middle', 'low'][i]}`,
      where,
      mean: 31.5 + (1 - i) * (bad ? 0.7 : 0.1),
      deviation: bad ? 0.31 : 0.08,
      least: 31.1 + (1 - i) * (bad ? 0.7 : 0.1),
      most: 31.9 + (1 - i) * (bad ? 0.7 : 0.1),
      inBandShare: bad && i === 0 ? 0.83 : 1,
    })),
    spots: ['upper shelf, by the door', 'middle shelf', 'lower shelf'].map((where, i) => ({
      probe: `${key}-${['high', 'middle', 'low'][i]}`,
      where,
      difference: (1 - i) * (bad ? 0.7 : 0.1),
      words:
        i === 1
          ? 'as the middle of all'
          : `${(bad ? 0.7 : 0.1).toFixed(1)} °C ${i === 0 ? 'warmer' : 'cooler'} than the middle of all`,
    })),
    findings: bad
      ? [
          'The upper shelf was out of the band for 8 h.',
          'The heater swings by 0.9 °C every 40 min: a thermostat with a wide switch does that.',
        ]
      : [],
  };
}

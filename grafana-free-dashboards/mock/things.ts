import type { CallOrder, IncubatorView, Probes, ProbeView, RejectedMessage } from '../src/http/shapes.ts';
import { BAND, HUMIDITY_BAND, keyOf, type MockState, namesFor, nowOf } from './facility.ts';
import { withMore } from './readings.ts';

export function probesOf(state: MockState, at: number): Probes {
  const now = nowOf(state, at);
  const placed = now.incubators.map(
    (i, n): ProbeView =>
      withMore(
        {
          key: `${i.key}-high`,
          name: `${i.key}-high`,
          incubator: i.key,
          incubatorName: i.name,
          where: 'upper shelf, by the door',
          placedSince: new Date(at - 9 * 86_400_000).toISOString(),
          firstHeardAt: new Date(at - 10 * 86_400_000).toISOString(),
          series: i.quantities.map((q) => ({
            quantity: q.quantity,
            unit: q.unit,
            value:
              n === 2 && q.quantity === 'humidity'
                ? 101.5
                : n === 4 && q.quantity === 'temperature'
                  ? 85
                  : (q.value ?? 31.2),
            at: q.at,
            arrivedAt: q.quality === 'silent' ? new Date(at - 25 * 60_000).toISOString() : q.at,
            quality: n === 4 && q.quantity === 'temperature' ? 'faulty' : q.quality,
            marks: n === 4 && q.quantity === 'temperature' ? ['faulty'] : [],
            saturated: n === 2 && q.quantity === 'humidity',
          })),
          clockOffSeconds: n === 3 ? -7260 : null,
          silentAfterSeconds: 600,
        },
        n,
        state,
        at,
      ),
  );
  const waiting: ProbeView = {
    key: 'sorrel-low-2',
    name: 'sorrel-low-2',
    incubator: null,
    incubatorName: null,
    where: null,
    placedSince: null,
    firstHeardAt: new Date(at - 40 * 60_000).toISOString(),
    series: [
      {
        quantity: 'temperature',
        unit: 'Cel',
        value: 24.3,
        at: new Date(at - 8000).toISOString(),
        arrivedAt: new Date(at - 8000).toISOString(),
        quality: 'good',
        marks: [],
        saturated: false,
      },
    ],
    clockOffSeconds: null,
    silentAfterSeconds: null,
  };
  return { placed, notPlaced: now.notPlaced > 0 ? [waiting] : [] };
}

export function incubatorViewOf(state: MockState, key: string, at: number): IncubatorView | null {
  const index = namesFor(state).map(keyOf).indexOf(key);
  if (index < 0) return null;
  return {
    key,
    name: namesFor(state)[index] ?? key,
    position: index + 1,
    bands: { temperature: BAND, humidity: HUMIDITY_BAND },
    probes: probesOf(state, at).placed.filter((p) => p.incubator === key),
  };
}

export function rejectedOf(at: number): RejectedMessage[] {
  const message = (topic: string, reason: string, payloadStart: string, count: number): RejectedMessage => ({
    topic,
    reason,
    payloadStart,
    count,
    firstAt: new Date(at - 5_000_000).toISOString(),
    lastAt: new Date(at - 300_000).toISOString(),
  });
  return [
    message(
      'incubation/rowan/rowan-low/temperature',
      '400 °C is outside −40 to 80 °C.',
      '{"value":400,"unit":"Cel"}',
      212,
    ),
    message(
      'incubation/rowan/temperature',
      'The topic has three parts; incubation/{incubator}/{probe}/{quantity} has four.',
      '31.4',
      1,
    ),
  ];
}

export const callOrder: CallOrder = {
  steps: [
    {
      id: 'a',
      position: 1,
      who: 'Ilka',
      channel: 'mail',
      address: 'ilka@example.org',
      hasSecret: false,
      afterSeconds: 0,
      repeatSeconds: 300,
      enabled: true,
    },
    {
      id: 'b',
      position: 2,
      who: 'Matteo',
      channel: 'webhook',
      address: 'https://example.org/ring',
      hasSecret: true,
      afterSeconds: 600,
      repeatSeconds: 300,
      enabled: true,
    },
  ],
};

import type { Keeping } from '../src/http/probeShapes.ts';
import type { MockState } from './facility.ts';

const HOUR = 3_600_000;
const MIB = 1024 * 1024;
const iso = (at: number): string => new Date(at).toISOString();

export function keepingOf(state: MockState, at: number): Keeping {
  const spooling = state === 'spooling';
  const away = state === 'broker away';
  return {
    store: {
      kind: spooling ? 'spooling' : 'well',
      words: spooling
        ? 'The disk has been full since 01:40. Readings go to the spool file, which has room for about 5 days; nothing is lost.'
        : 'Every reading is on disk before its probe is told so.',
      bytes: 412 * MIB,
      oldest: iso(at - 89 * 24 * HOUR),
      sealedDays: 87,
      rawDays: 2,
      lastCheck: spooling
        ? { at: iso(at - 31 * HOUR), ok: false, words: 'It could not be finished: the disk is full.' }
        : { at: iso(at - 7 * HOUR), ok: true, words: 'All days read back as they were written.' },
    },
    spool: { usedBytes: spooling ? 3 * MIB : 0, bytes: 64 * MIB },
    retention: [
      { quantity: 'battery', days: 90 },
      { quantity: 'signal', days: 30 },
    ],
    copy:
      state === 'empty'
        ? null
        : {
            kind: 'InfluxDB',
            state: away ? 'away' : 'well',
            behind: away ? 48_211 : 0,
            behindDays: 0,
            oldestWaiting: away ? iso(at - 9 * HOUR) : null,
            refused: away ? 3 : 0,
            words: away
              ? 'InfluxDB has not answered since 17:12. What waits is kept, and goes there when it is back.'
              : 'The copy is complete.',
          },
    source: away
      ? {
          kind: 'external',
          state: 'broken',
          since: null,
          heartbeatAt: iso(at - 14 * 60_000),
          words:
            'broker.egg-room.example does not answer since 02:58. What probes say meanwhile waits there, if the broker keeps it.',
        }
      : {
          kind: 'embedded',
          state: 'listening',
          since: null,
          heartbeatAt: iso(at - 4000),
          words: 'Probes speak to this service itself, on port 1883.',
        },
    clock:
      state === 'clock'
        ? {
            trusted: false,
            words:
              'The clock of this computer stands 14 days in the past. Alarms run on; dates wait until it is right.',
          }
        : { trusted: true, words: 'The clock of this computer is believed.' },
  };
}

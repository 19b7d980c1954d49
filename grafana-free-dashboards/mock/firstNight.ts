// A facility that begins empty and keeps what is entered, so that the whole first night can be walked and looked at.
// A probe is heard six seconds after the incubator has a name, as if it had been switched on then.
import type { CallStep, IncubatorView, Now, ProbeView } from '../src/http/shapes.ts';
import { BAND, HUMIDITY_BAND, keyOf, nowOf } from './facility.ts';
import { enter } from './night.ts';

const HEARD_AFTER_MS = Number(process.env.MOCK_HEARD_AFTER ?? 6_000);

interface Kept {
  claimed: boolean;
  incubators: IncubatorView[];
  namedAt: number;
  placement: { incubator: string; where: string } | null;
  steps: CallStep[];
  clutches: unknown[];
}

const empty = (): Kept => ({
  claimed: false,
  incubators: [],
  namedAt: 0,
  placement: null,
  steps: [],
  clutches: [],
});
let kept = empty();

export const resetFirstNight = (): void => {
  kept = empty();
};

type Answer = { status: number; body: unknown } | null;
const ok = (body: unknown, status = 200): Answer => ({ status, body });

export function firstNightAnswer(
  method: string,
  parts: string[],
  body: Record<string, unknown>,
  at: number,
): Answer {
  const [noun, key, part, leaf] = parts;
  if (noun === 'session') return ok(sessionOf());
  if (noun === 'claim') {
    if (String(body.code).replaceAll(/[^A-Za-z0-9]/g, '').length < 10) {
      return {
        status: 400,
        body: {
          title: 'Something in the form is not right.',
          errors: { code: ['This is not the code in the log.'] },
        },
      };
    }
    kept.claimed = true;
    return ok({});
  }
  if (noun === 'now') return ok(nowOfNight(at));
  if (noun === 'probes' && method === 'POST') {
    kept.placement = { incubator: String(body.incubator), where: String(body.where) };
    return ok({}, 201);
  }
  if (noun === 'probes') return ok(probesOfNight(at));
  if (noun === 'rejected-messages') return ok([]);
  if (noun === 'incubators' && method === 'POST') {
    const name = String(body.name);
    const bands = { temperature: BAND, humidity: HUMIDITY_BAND };
    kept.incubators.push({ key: keyOf(name), name, position: kept.incubators.length + 1, bands, probes: [] });
    kept.namedAt = at;
    return ok({ key: keyOf(name), name, position: 1 }, 201);
  }
  if (noun === 'incubators' && part === 'bands') {
    const of = kept.incubators.find((i) => i.key === key);
    if (of !== undefined) of.bands = { ...of.bands, [leaf ?? '']: body as never };
    return ok({});
  }
  if (noun === 'incubators') return ok(kept.incubators.find((i) => i.key === key));
  if (noun === 'call-out' && key === 'tests') {
    const words = `The mail receiver of ${kept.steps[0]?.who} took the test.`;
    return ok({ id: 'test-1', delivered: true, answered: false, words });
  }
  if (noun === 'call-out') {
    if (method === 'PUT')
      kept.steps = (body.steps as CallStep[]).map((s, i) => ({ ...s, id: s.id ?? `step-${i}` }));
    return ok({ steps: kept.steps });
  }
  if (noun === 'tubs') return ok([]);
  if (noun === 'clutches' && method === 'POST') {
    const answer = enter(body);
    if (answer?.status === 201) kept.clutches.push(answer.body);
    return answer;
  }
  if (noun === 'clutches' && key === undefined) return ok(kept.clutches);
  return null;
}

function sessionOf(): unknown {
  return {
    state: kept.claimed ? 'signed in' : 'unclaimed',
    name: kept.claimed ? 'Ilka' : null,
    role: kept.claimed ? 'owner' : null,
    demo: false,
    facility: 'The egg room',
    zone: 'Europe/Vienna',
  };
}

const heard = (at: number): boolean => kept.namedAt > 0 && at - kept.namedAt >= HEARD_AFTER_MS;

function probesOfNight(at: number): { placed: ProbeView[]; notPlaced: ProbeView[] } {
  if (!heard(at)) return { placed: [], notPlaced: [] };
  const time = new Date(at - 2_000).toISOString();
  const into = kept.incubators.find((i) => i.key === kept.placement?.incubator);
  const series = {
    value: 31.4,
    at: time,
    arrivedAt: time,
    quality: 'good' as const,
    marks: [],
    saturated: false,
  };
  const probe: ProbeView = {
    key: 'shelf-1',
    name: null,
    incubator: into?.key ?? null,
    incubatorName: into?.name ?? null,
    where: kept.placement?.where ?? null,
    placedSince: null,
    firstHeardAt: time,
    series: [{ ...series, quantity: 'temperature', unit: 'Cel' }],
    clockOffSeconds: null,
    silentAfterSeconds: 600,
  };
  return into === undefined ? { placed: [], notPlaced: [probe] } : { placed: [probe], notPlaced: [] };
}

function nowOfNight(at: number): Now {
  const base = nowOf('empty', at);
  const [like] = nowOf('calm', at).incubators;
  const incubators = kept.incubators.map((i, n) => ({
    key: i.key,
    name: i.name,
    position: n + 1,
    quantities: kept.placement?.incubator === i.key ? (like?.quantities ?? []).slice(0, 1) : [],
    alarms: [],
  }));
  const [first] = kept.steps;
  return {
    ...base,
    ...(incubators.length === 0
      ? {}
      : {
          headline: {
            ...base.headline,
            sentence: 'It is not known how Linden is.',
            next: 'No probe is placed in it.',
          },
        }),
    incubators,
    notPlaced: probesOfNight(at).notPlaced.length,
    callOut: {
      reachable: first !== undefined,
      words:
        first === undefined
          ? 'Nobody is in the call-out order.'
          : `${first.who} is told first, by ${first.channel}, at once.`,
    },
  };
}

import type { IncomingMessage, ServerResponse } from 'node:http';
import type { Connect, Plugin } from 'vite';
import { type Answer, answerClutches, clutchLines, forgetClutches } from './clutches.ts';
import { type MockState, nowOf } from './facility.ts';
import { firstNightAnswer, resetFirstNight } from './firstNight.ts';
import { historyOf } from './history.ts';
import { forgetImports, importsAnswer } from './imports.ts';
import { nightAnswer, nightFallback } from './night.ts';
import { forgetReadings, readingsAnswer } from './readings.ts';
import { callOrder, incubatorViewOf, probesOf, rejectedOf } from './things.ts';

/**
 * Answers /api in the dev server as the service would, with an invented facility. The state is chosen by visiting
 * /mock/danger (calm, warning, answered, several, silent, empty, many, long, unclaimed, …) and kept in a cookie.
 */
export function mockFacility(): Plugin {
  return {
    name: 'mock-facility',
    configureServer: (server) => void server.middlewares.use(answer),
    configurePreviewServer: (server) => void server.middlewares.use(answer),
  };
}

// As strict as the service's own, so that what the policy would block is blocked here too.
const POLICY = "default-src 'self'; style-src 'self'; object-src 'none'; base-uri 'none'";

const fixedAt = process.env.MOCK_AT === undefined ? null : Date.parse(process.env.MOCK_AT);
const served = new Map<string, number>();

const answer: Connect.NextHandleFunction = (request, response, next) => {
  const url = new URL(request.url ?? '/', 'http://localhost');
  if (process.env.MOCK_POLICY === 'strict') response.setHeader('Content-Security-Policy', POLICY);
  if (url.pathname.startsWith('/mock/')) {
    const state = decodeURIComponent(url.pathname.slice('/mock/'.length));
    served.clear();
    resetFirstNight();
    forgetClutches();
    forgetReadings();
    forgetImports();
    response
      .writeHead(302, { 'Set-Cookie': `mock=${encodeURIComponent(state)}; Path=/`, Location: '/' })
      .end();
  } else if (url.pathname.startsWith('/api/')) void answerApi(url, request, response);
  else next();
};

/** The first night and what is entered first, then the clutches, then the rest of the facility. */
async function answerApi(url: URL, request: IncomingMessage, response: ServerResponse): Promise<void> {
  const state = stateOf(request);
  const method = request.method ?? 'GET';
  const parts = url.pathname.slice('/api/'.length).split('/').map(decodeURIComponent);
  const at = fixedAt ?? Date.now();
  const bytes = await bytesOf(request);
  const body = jsonOf(bytes);
  const own = state === 'first night' ? firstNightAnswer(method, parts, body, at) : null;
  const found =
    own ??
    importsAnswer(method, parts, body, at) ??
    readingsAnswer(method, parts, body, state, at) ??
    nightAnswer({ method, parts, query: url.searchParams, body, at });
  if (found !== null) return write(response, found);
  if (!['clutches', 'tints', 'traits', 'tubs'].includes(parts[0] ?? '')) {
    return void api(url, state, request, response);
  }
  if (state === 'no signal' && method !== 'GET') return void response.destroy();
  if (state === 'empty' && parts.length === 1 && parts[0] === 'clutches') {
    return write(response, { status: 200, body: [] });
  }
  write(response, answerClutches(method, url, parts, bytes, at));
}

function write(response: ServerResponse, answer: Answer): void {
  const type = answer.bytes?.type ?? (answer.status < 400 ? 'application/json' : 'application/problem+json');
  response.writeHead(answer.status, { 'Content-Type': type });
  response.end(answer.bytes?.bytes ?? (answer.body === undefined ? undefined : JSON.stringify(answer.body)));
}

async function bytesOf(request: IncomingMessage): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  for await (const chunk of request) chunks.push(chunk as Uint8Array);
  return Buffer.concat(chunks);
}

function jsonOf(bytes: Uint8Array): Record<string, unknown> {
  try {
    return JSON.parse(new TextDecoder().decode(bytes)) as Record<string, unknown>;
  } catch {
    return {};
  }
}

function stateOf(request: IncomingMessage): MockState {
  const cookie = /(?:^|; )mock=([^;]+)/.exec(request.headers.cookie ?? '');
  return decodeURIComponent(cookie?.[1] ?? 'calm') as MockState;
}

function api(url: URL, state: MockState, request: IncomingMessage, response: ServerResponse): unknown {
  const at = fixedAt ?? Date.now();
  const parts = url.pathname.slice('/api/'.length).split('/').map(decodeURIComponent);
  const say = (body: unknown, status = 200): void =>
    void response
      .writeHead(status, { 'Content-Type': status < 400 ? 'application/json' : 'application/problem+json' })
      .end(JSON.stringify(body));
  const problem = (status: number, detail: string, errors?: Record<string, string[]>): void =>
    say(
      { type: '/problems/invalid', title: 'Something in the form is not right.', status, detail, errors },
      status,
    );
  const query = (name: string): string => url.searchParams.get(name) ?? '';

  if (parts[0] === 'session') return say(sessionOf(state));
  if (parts[0] === 'claim')
    return problem(400, 'The code is wrong.', { code: ['This is not the code in the log.'] });
  if (parts[0] === 'events') return events(state, response);
  if (request.method === 'POST' && parts[2] === 'answers')
    return problem(409, 'It has returned to normal meanwhile.');
  if (request.method === 'PUT' && parts[2] === 'bands') {
    return problem(400, 'warningLow', { warningLow: ['Must lie between danger low and warning high.'] });
  }
  if (request.method !== 'GET') return say({ key: 'hazel' });
  if (parts[0] === 'now') {
    const times = (served.get(state) ?? 0) + 1;
    served.set(state, times);
    if (state === 'disconnected' && times > 1) return void response.destroy();
    return say(withClutches(state, at));
  }
  if (parts[0] === 'incubators' && parts[2] === 'history') {
    return say(
      historyOf(
        state,
        parts[1] ?? '',
        query('quantity'),
        Date.parse(query('from')),
        Date.parse(query('to')),
        Number(query('buckets')) || 600,
        at,
      ),
    );
  }
  if (parts[0] === 'incubators') {
    const view = incubatorViewOf(state, parts[1] ?? '', at);
    return view === null ? problem(404, 'There is no such incubator.') : say(view);
  }
  if (parts[0] === 'probes') return say(probesOf(state, at));
  if (parts[0] === 'rejected-messages') return say(state === 'empty' ? [] : rejectedOf(at));
  if (parts[0] === 'call-out') return say(state === 'empty' ? { steps: [] } : callOrder);
  const left = nightFallback(parts);
  if (left !== null) return say(left.body);
  problem(404, url.pathname);
}

function withClutches(state: MockState, at: number): ReturnType<typeof nowOf> {
  const now = nowOf(state, at);
  const lines = clutchLines(at);
  for (const i of now.incubators) i.clutches = lines.filter((c) => c.incubator === i.key);
  return now;
}

function sessionOf(state: MockState): unknown {
  const known = state === 'unclaimed' || state === 'signed out' ? state : 'signed in';
  const person = known === 'signed in' ? { name: 'Ilka', role: 'owner' } : { name: null, role: null };
  return {
    state: known,
    ...person,
    demo: state === 'warning',
    facility: 'The egg room',
    zone: 'Europe/Vienna',
  };
}

function events(state: MockState, response: ServerResponse): void {
  response.writeHead(200, { 'Content-Type': 'text/event-stream', 'Cache-Control': 'no-store' });
  response.write('event: hello\ndata: {}\n\n');
  if (state === 'disconnected') return;
  const timer = setInterval(() => response.write('event: heartbeat\ndata: {}\n\n'), 15_000);
  response.on('close', () => clearInterval(timer));
}

// Files of readings that are being brought in. Invented; a trial takes three looks, bringing in four.
import type { ImportLine, ImportView, Outcome, Plan } from '../src/readings/import/shapes.ts';
import type { Answer } from './clutches.ts';

const ID = '6f1d2c1e-6a55-4a0e-9a4e-0d4b7a1c2f30';
const BYTES = 48_300_211;
const LINES = 861_204;
const iso = (at: number): string => new Date(at).toISOString();
const ok = (body: unknown, status = 200): Answer => ({ status, body });

let plan: Plan | null = null;
let confirmed = false;
let trial = 0;
let run = 0;
let running: ImportView['running'] = null;

export function forgetImports(): void {
  plan = null;
  confirmed = false;
  trial = 0;
  run = 0;
  running = null;
}

export function importsAnswer(
  method: string,
  parts: readonly string[],
  body: unknown,
  at: number,
): Answer | null {
  if (parts[0] !== 'imports') return null;
  if (parts.length === 1) return method === 'GET' ? ok([lineOf(at)]) : ok(viewOf(at), 201);
  const what = parts[2];
  if (method === 'PUT' && what === 'columns') {
    plan = body as Plan;
    confirmed = true;
    trial = 0;
  } else if (what === 'dry-runs') [running, trial] = ['dry run', 0];
  else if (what === 'runs') running = 'run';
  else if (what === 'stops') running = null;
  else if (method === 'DELETE') {
    forgetImports();
    return ok(null, 204);
  } else step();
  return ok(viewOf(at));
}

function step(): void {
  if (running === 'dry run') trial++;
  if (running === 'run') run++;
  if (trial >= 3 && running === 'dry run') running = null;
  if (run >= 4 && running === 'run') running = null;
}

const column = (
  role: Plan['columns'][number]['role'],
  quantity: string | null = null,
  unit: string | null = null,
) => ({
  role,
  probe: null,
  quantity,
  unit,
});

const guessOf = (): Plan =>
  plan ?? {
    separator: 'semicolon',
    decimalComma: true,
    header: true,
    encoding: 'windows1252',
    timeForm: null,
    repeatedHour: 'refuse',
    zone: 'Europe/Lisbon',
    columns: [
      column('time'),
      column('probe'),
      column('value', 'temperature', '°C'),
      column('value', 'humidity', '%RH'),
      column('ignore'),
    ],
    probes: [],
  };

function outcomeOf(share: number, state: Outcome['state'], at: number): Outcome {
  const named = new Map(guessOf().probes.map((probe) => [probe.name, probe.key]));
  const probes = ['Regal oben', 'Regal unten'].map((name, i) => ({
    name,
    key: named.get(name) ?? null,
    count: Math.round(share * (420_000 - i * 9_000)),
  }));
  const known = probes.filter((probe) => probe.key !== null && probe.key !== '');
  const taken = known.reduce((sum, probe) => sum + 2 * probe.count, 0);
  return {
    state,
    words: '',
    doneBytes: Math.round(share * BYTES),
    lines: Math.round(share * LINES),
    taken,
    refused: Math.round(share * 1_204) + (2 - known.length) * Math.round(share * 410_000),
    earliest: taken === 0 ? null : iso(at - 96 * 86_400_000),
    latest: taken === 0 ? null : iso(at - 3_600_000),
    reasons: [
      ...(known.length === 2
        ? []
        : [
            {
              reason:
                'No probe of this name is known. Say which probe it is, a new one or one that is there.',
              count: (2 - known.length) * 410_000,
              firstLine: 2,
            },
          ]),
      {
        reason: 'The value is no number. Check which column holds values, and the decimal mark.',
        count: 1_144,
        firstLine: 1_977,
      },
      {
        reason:
          'The clocks were put back, and this time came twice. Say whether the first or the second is meant.',
        count: 60,
        firstLine: 512_003,
      },
    ],
    first: [
      { line: 1_977, column: 3, reason: '', text: '04/09/2026 13:22;Regal oben;---;81,2;' },
      { line: 1_978, column: 3, reason: '', text: '04/09/2026 13:22;Regal unten;---;80,9;lid open' },
    ],
    probes,
  };
}

function viewOf(at: number): ImportView {
  const guess = guessOf();
  const state = running !== null ? 'running' : run >= 4 ? 'done' : run > 0 ? 'stopped' : 'waiting';
  return {
    id: ID,
    fileName: 'egg room 2026.csv',
    state,
    running,
    bytes: BYTES,
    fileIsHere: state !== 'done',
    confirmed,
    guess,
    columns: ['Zeitpunkt', 'Fühler', 'Temp. °C', 'Feuchte %RH', 'Notiz'],
    sample: [
      ['04/09/2026 13:20', 'Regal oben', '31,4', '81,0', ''],
      ['04/09/2026 13:20', 'Regal unten', '31,2', '80,9', ''],
      ['04/09/2026 13:21', 'Regal oben', '31,5', '81,1', 'lid open'],
      ['04/09/2026 13:21', 'Regal unten', '31,2', '80,8', ''],
    ],
    questions: confirmed
      ? []
      : ['In “Zeitpunkt”, does the day come first or the month? The start of the file fits both.'],
    dryRun:
      trial === 0 && running !== 'dry run' ? null : outcomeOf(trial / 3, trial >= 3 ? 'done' : 'running', at),
    run:
      run === 0 && running !== 'run'
        ? null
        : outcomeOf(run / 4, run >= 4 ? 'done' : running ? 'running' : 'stopped', at),
    linesPerSecond: running === null ? null : 148_000,
    secondsLeft: running === null ? null : 42,
    sameAs: null,
    by: 'Ada',
    startedAt: iso(at - 240_000),
    endedAt: null,
  };
}

function lineOf(at: number): ImportLine {
  const { id, fileName, state, bytes, by, startedAt, endedAt, fileIsHere } = viewOf(at);
  return {
    id,
    fileName,
    state,
    bytes,
    doneBytes: 0,
    taken: 0,
    refused: 0,
    by,
    startedAt,
    endedAt,
    fileIsHere,
  };
}

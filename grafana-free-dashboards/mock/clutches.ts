// Answers what is asked of clutches, and keeps what is entered as long as the mock runs.
import type {
  CandlingBody,
  CandlingEntry,
  ClutchLine,
  EggView,
  OutcomeBody,
  OutcomeEntry,
} from '../src/http/clutchShapes.ts';
import {
  CLUTCHES,
  eggOf,
  lineOf,
  looksOf,
  type MockClutch,
  outcomesOf,
  TINTS,
  TRAITS,
} from './clutchData.ts';
import { pageOf, stripOf } from './clutchPage.ts';

interface Kept {
  eggs: EggView[];
  looks: CandlingEntry[];
  outcomes: OutcomeEntry[];
  photo: { type: string; bytes: Uint8Array } | null;
}

const records = new Map<string, Kept>();

export function forgetClutches(): void {
  records.clear();
}

function recordOf(clutch: MockClutch, at: number): Kept {
  let record = records.get(clutch.key);
  if (record === undefined) {
    const eggs = Array.from({ length: clutch.eggs }, (_, i) => eggOf(clutch, i, at));
    record = {
      eggs,
      looks: eggs.flatMap((e) => looksOf(clutch, e, at)),
      outcomes: eggs.flatMap((e) => outcomesOf(clutch, e)),
      photo: null,
    };
    records.set(clutch.key, record);
  }
  return record;
}

export function clutchLines(at: number, state = 'all'): ClutchLine[] {
  return CLUTCHES.filter((c) => state === 'all' || (c.state === 'finished') === (state === 'finished')).map(
    (c) => lineOf(c, recordOf(c, at).eggs, at),
  );
}

export interface Answer {
  status: number;
  body?: unknown;
  bytes?: { type: string; bytes: Uint8Array };
}

const ok = (body: unknown): Answer => ({ status: 200, body });
const refused = (status: number, detail: string, errors?: Record<string, string[]>): Answer => ({
  status,
  body: { type: '/problems/invalid', title: 'Something in the form is not right.', status, detail, errors },
});

export function answerClutches(
  method: string,
  url: URL,
  parts: string[],
  body: Uint8Array,
  at: number,
): Answer {
  if (parts[0] === 'tints') return ok(TINTS);
  if (parts[0] === 'traits') {
    const said = method === 'GET' ? null : JSON.parse(new TextDecoder().decode(body));
    if (said === null) return ok(TRAITS);
    const key = parts[1] ?? String(said.name).toLowerCase();
    const made = { key, ...said };
    const there = TRAITS.findIndex((t) => t.key === key);
    TRAITS.splice(there < 0 ? TRAITS.length : there, there < 0 ? 0 : 1, made);
    return ok(made);
  }
  if (parts[0] === 'tubs')
    return method === 'GET'
      ? ok(
          CLUTCHES.slice(0, 4).map((c) => ({
            key: `tub-${c.key}`,
            name: `Tub ${c.seed}`,
            incubator: c.incubator?.toLowerCase() ?? null,
            incubatorName: c.incubator,
            shelf: c.shelf,
          })),
        )
      : refused(400, 'The tub stands there already.', { incubator: ['The tub stands there already.'] });
  if (parts.length === 1) return ok(clutchLines(at, url.searchParams.get('state') ?? 'all'));
  const clutch = CLUTCHES.find((c) => c.key === parts[1]);
  if (clutch === undefined) return refused(404, 'There is no such clutch.');
  const record = recordOf(clutch, at);
  const egg = Number(url.searchParams.get('egg'));
  // biome-ignore lint/suspicious/noExplicitAny: what a page sends, in a mock that trusts it
  const json = (): any => JSON.parse(new TextDecoder().decode(body));
  switch (`${method} ${parts[2] ?? ''}`) {
    case 'GET ':
      return ok({
        ...pageOf(clutch, record.eggs, at, url.searchParams.get('temperature') === 'degF'),
        photoAt: record.photo === null ? null : new Date(at).toISOString(),
      });
    case 'GET strip':
      return ok(stripOf(clutch, record.eggs, at));
    case 'GET candlings':
      return ok(record.looks.filter((l) => egg === 0 || l.egg === egg));
    case 'GET outcomes':
      return ok(record.outcomes.filter((o) => egg === 0 || o.egg === egg));
    case 'PUT candlings':
      return candled(record, parts[3] ?? '', json(), at);
    case 'PUT outcomes':
      return came(record, parts[3] ?? '', json(), at);
    case 'PUT plan': {
      const plan: { eggs: { number: number; x: number; y: number; clump: number | null }[] } = json();
      record.eggs = record.eggs.map((e) => ({ ...e, ...plan.eggs.find((p) => p.number === e.number) }));
      return ok(plan);
    }
    case 'POST eggs': {
      const { number }: { number: number } = json();
      if (record.eggs.some((e) => e.number === number))
        return refused(400, 'number', { number: [`There is an egg ${number} in this clutch already.`] });
      record.eggs.push({ ...eggOf({ ...clutch, laidDaysAgo: 0 }, 0, at), number, x: 0.5, y: 0.9 });
      return { status: 201, body: {} };
    }
    case 'GET photo':
      return record.photo === null
        ? refused(404, 'There is no photo.')
        : { status: 200, bytes: record.photo };
    case 'PUT photo':
      record.photo = { type: 'image/jpeg', bytes: body };
      return ok({});
    case 'DELETE photo':
      record.photo = null;
      return { status: 204 };
    default:
      return ok({});
  }
}

function candled(record: Kept, id: string, body: CandlingBody, at: number): Answer {
  const there = record.looks.find((l) => l.id === id);
  if (there !== undefined) return ok(there);
  const term = TINTS.find((t) => t.key === body.tint);
  const now = new Date(at).toISOString();
  const entry: CandlingEntry = { ...body, id, tintWord: term?.word ?? null, by: 'Ilka', enteredAt: now };
  record.looks.push(entry);
  record.eggs = record.eggs.map((e) =>
    e.number !== body.egg
      ? e
      : {
          ...e,
          tint: body.tint ?? e.tint,
          tintWord: term?.word ?? e.tintWord,
          colour: term?.colour ?? e.colour,
          veins: body.veins ?? e.veins,
          status: body.veins === 'ring' ? 'dead' : e.status === 'not looked at' ? 'developing' : e.status,
          lastAt: body.at,
          entries: e.entries + 1,
          restsOn: [id],
        },
  );
  return { status: 201, body: entry };
}

function came(record: Kept, id: string, body: OutcomeBody, at: number): Answer {
  const entry: OutcomeEntry = { ...body, id, by: 'Ilka', enteredAt: new Date(at).toISOString() };
  record.outcomes.push(entry);
  const status = { 'first pip': 'pipped', out: 'hatched', 'dead in egg': 'dead', slug: 'slug' } as const;
  record.eggs = record.eggs.map((e) =>
    e.number === body.egg
      ? { ...e, status: status[body.kind], outcome: { kind: body.kind, at: body.at } }
      : e,
  );
  return { status: 201, body: entry };
}

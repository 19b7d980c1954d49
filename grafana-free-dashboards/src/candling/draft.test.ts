import { describe, expect, it } from 'vitest';
import { CLUTCHES, eggOf } from '../../mock/clutchData.ts';
import type { CandlingEntry, EggView } from '../http/clutchShapes.ts';
import {
  bodyOf,
  correctionOf,
  isEmpty,
  lookedAtNow,
  massOf,
  newDraft,
  newId,
  nextEgg,
  roundOf,
  takenBack,
} from './draft.ts';
import { entryWords, seenDifferently, withCorrections } from './words.ts';

const AT = Date.parse('2026-11-25T09:00:00Z');
const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;
const clutch = CLUTCHES[0];
const egg = (number: number, part: Partial<EggView> = {}): EggView => {
  if (clutch === undefined) throw new Error('none');
  return {
    ...eggOf(clutch, number - 1, AT),
    number,
    status: 'developing',
    outcome: null,
    lastAt: null,
    ...part,
  };
};
const entry = (id: string, part: Partial<CandlingEntry> = {}): CandlingEntry => ({
  id,
  egg: 5,
  tint: 'fern',
  tintWord: 'fern',
  veins: 'full net',
  movementSeen: true,
  shell: ['dented'],
  looksLikeSlug: null,
  massGrams: 81.5,
  note: null,
  at: new Date(AT).toISOString(),
  supersedes: null,
  by: 'Ilka',
  enteredAt: new Date(AT).toISOString(),
  ...part,
});

describe('a look', () => {
  it('has an id made on the phone (RFC 9562, version 4), another each time', () => {
    const ids = Array.from({ length: 50 }, newId);
    for (const id of ids) expect(id).toMatch(UUID);
    expect(new Set(ids).size).toBe(50);
  });

  it('is empty until something is chosen, and spaces are nothing', () => {
    expect(isEmpty(newDraft(1))).toBe(true);
    expect(isEmpty({ ...newDraft(1), note: '  ', mass: ' ' })).toBe(true);
    expect(isEmpty({ ...newDraft(1), movementSeen: false })).toBe(false);
  });

  it('takes a comma for a decimal point and says what is no mass', () => {
    expect([massOf('82,5'), massOf(' 82.5 '), massOf('')]).toEqual([82.5, 82.5, null]);
    for (const wrong of ['-1', '0', '8e1', 'heavy', '1.2.3', '99999']) expect(massOf(wrong)).toBe('wrong');
    expect(bodyOf({ ...newDraft(1), mass: 'x' }, new Date(AT))).toHaveProperty('errors.massGrams');
  });

  it('sends what was not looked for as nothing, and hostile notes as they are', () => {
    const note = '<script>alert(1)</script> 🐍';
    const ready = bodyOf({ ...newDraft(7), tint: 'coral', note }, new Date(AT));
    expect(ready).toEqual({
      body: {
        egg: 7,
        tint: 'coral',
        veins: null,
        movementSeen: null,
        shell: [],
        looksLikeSlug: null,
        massGrams: null,
        note,
        at: '2026-11-25T09:00:00.000Z',
        supersedes: null,
      },
    });
  });
});

describe('a correction', () => {
  it('is an entry of its own that begins as the one it corrects', () => {
    const first = entry('a');
    const draft = correctionOf(first);
    expect(draft.id).not.toBe('a');
    expect(draft.supersedes).toBe('a');
    const ready = bodyOf(draft, new Date(AT));
    expect(ready).toHaveProperty('body.massGrams', 81.5);
    expect(ready).toHaveProperty('body.shell', ['dented']);
  });

  it('can take an entry back: it says nothing was seen, and never that it was not entered', () => {
    const { id, body } = takenBack({ id: 'a', egg: 5 }, new Date(AT));
    expect(id).toMatch(UUID);
    expect(body).toMatchObject({ egg: 5, tint: null, veins: null, supersedes: 'a', note: 'Taken back.' });
  });

  it('leaves what it corrects readable, the newest first', () => {
    const shown = withCorrections([
      entry('a', { at: '2026-11-01T00:00:00Z' }),
      entry('b', { at: '2026-11-02T00:00:00Z', supersedes: 'a', by: 'Matteo' }),
    ]);
    expect(shown.map((s) => [s.entry.id, s.correctedBy?.by ?? null])).toEqual([
      ['b', null],
      ['a', 'Matteo'],
    ]);
  });
});

describe('two people', () => {
  const later = new Date(AT + 3_600_000).toISOString();

  it('who saw an egg differently on one day are both named, the first first', () => {
    expect(seenDifferently([entry('a'), entry('b', { by: 'Matteo', tint: 'coral', at: later })])).toEqual([
      'Ilka',
      'Matteo',
    ]);
  });

  it('who agree, or of whom one was corrected, are no matter', () => {
    expect(seenDifferently([entry('a'), entry('b', { by: 'Matteo', at: later })])).toBeNull();
    const corrected = [
      entry('a'),
      entry('b', { by: 'Matteo', tint: 'coral', at: later }),
      entry('c', { supersedes: 'b', by: 'Matteo', at: later }),
    ];
    expect(seenDifferently(corrected)).toBeNull();
  });
});

describe('the next egg', () => {
  const ago = (hours: number) => new Date(AT - hours * 3_600_000).toISOString();

  it('is the next by number, round to the first, over each egg once', () => {
    let eggs = Array.from({ length: 12 }, (_, i) => egg(i + 1));
    const order: number[] = [];
    let at = 5;
    for (;;) {
      order.push(at);
      eggs = eggs.map((e) => (e.number === at ? { ...e, lastAt: ago(0) } : e));
      const next = nextEgg(eggs, at, AT);
      if (next === null) break;
      at = next.number;
    }
    expect(order).toEqual([5, 6, 7, 8, 9, 10, 11, 12, 1, 2, 3, 4]);
    expect(roundOf(eggs, AT)).toEqual({ done: 12, of: 12 });
  });

  it('leaves out what is dead, out, pipped or was just looked at, and keeps slugs and doubtful ones', () => {
    const eggs = [
      egg(1),
      egg(2, { status: 'dead' }),
      egg(3, { status: 'hatched' }),
      egg(4, { status: 'pipped' }),
      egg(5, { lastAt: ago(1) }),
      egg(6, { outcome: { kind: 'slug', at: ago(30) } }),
      egg(7, { status: 'slug', lastAt: ago(200) }),
      egg(8, { status: 'doubtful' }),
    ];
    expect(nextEgg(eggs, 1, AT)?.number).toBe(7);
    expect(nextEgg(eggs, 7, AT)?.number).toBe(8);
    expect(nextEgg(eggs, 8, AT)?.number).toBe(1);
  });

  it('is none when only the one in hand is left', () => {
    expect(nextEgg([egg(1), egg(2, { lastAt: ago(2) })], 1, AT)).toBeNull();
    expect(lookedAtNow(egg(2, { lastAt: ago(7) }), AT)).toBe(false);
  });
});

it('an entry is said in one line', () => {
  expect(entryWords(entry('a'), 'fern')).toBe('fern, full net, moved, dented, 81.5\u00a0g');
  const none = { ...entry('a'), tint: null, veins: null, movementSeen: null, shell: [], massGrams: null };
  expect(entryWords(none, null)).toBe('nothing but a note');
});

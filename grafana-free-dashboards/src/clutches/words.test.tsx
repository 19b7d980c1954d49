import { cleanup, render, screen } from '@testing-library/preact';
import { afterEach, describe, expect, it } from 'vitest';
import { CLUTCHES, eggOf, lineOf } from '../../mock/clutchData.ts';
import { nowOf } from '../../mock/facility.ts';
import { Room } from '../facility/Room.tsx';
import { countedWords, expectedWords } from '../genetics/words.ts';
import { pageOf as routeOf } from '../house/route.ts';
import type { PairingView } from '../http/clutchShapes.ts';
import { ClutchesOf } from './ClutchesPage.tsx';
import { freeNumber } from './eggplan/AddEgg.tsx';
import { withUnsent } from './unsent.ts';
import { countWords, dateWords, eggName, listed, listSentence, pipWords } from './words.ts';

const AT = Date.parse('2026-11-25T09:00:00Z');
const eggsOf = (key: string) => {
  const clutch = CLUTCHES.find((c) => c.key === key);
  if (clutch === undefined) throw new Error(key);
  return { clutch, eggs: Array.from({ length: clutch.eggs }, (_, i) => eggOf(clutch, i, AT)) };
};
const line = (key: string) => {
  const { clutch, eggs } = eggsOf(key);
  return lineOf(clutch, eggs, AT);
};
const LINES = CLUTCHES.map((c) => line(c.key));

afterEach(cleanup);

describe('words of clutches', () => {
  it('count what there is and leave out what is none', () => {
    expect(countWords(line('c-09'))).toBe('9 of 9 alive');
    expect(countWords(line('c-07'))).toMatch(/^\d+ of 28 alive, 1 doubtful, 2 slugs, 1 dead$/);
    expect(countWords(line('c-11'))).toBe('6 eggs, none candled yet');
    expect(countWords(line('b-02'))).toMatch(/^\d+ of 46 out, \d+ still in the egg/);
    expect(
      countWords({
        state: 'incubating',
        eggs: { laid: 2, alive: 0, doubtful: 0, slug: 2, dead: 0, hatched: 0 },
      }),
    ).toBe('0 of 2 alive, 2 slugs');
  });

  it('say a local date as it is and an instant in the zone of the facility', () => {
    expect(dateWords('2026-03-01')).toBe('1 Mar');
    expect(dateWords('2026-03-01T23:30:00Z')).toBe('1 Mar');
    expect(dateWords('soon')).toBe('soon');
  });

  it('say the window short', () => {
    const at = (from: string, to: string) => pipWords({ ...line('c-07'), pip: { from, likely: from, to } });
    expect(at('2026-12-08', '2026-12-14')).toBe('pip 8–14 Dec');
    expect(at('2026-11-29', '2026-12-02')).toBe('pip 29 Nov–2 Dec');
    expect(at('2026-12-08', '2026-12-08')).toBe('pip 8 Dec');
    expect(pipWords(line('c-01'))).toBeNull();
  });

  it('list names as one would say them', () => {
    expect([['a'], ['a', 'b'], ['a', 'b', 'c']].map(listed)).toEqual(['a', 'a and b', 'a, b and c']);
    expect(listed(['a', 'b', 'c', 'd', 'e'])).toBe('a, b, c and 2 more');
  });

  it('name an egg in full', () => {
    const { eggs } = eggsOf('c-07');
    expect(eggName({ ...(eggs[1] as (typeof eggs)[0]), tintWord: 'apricot' })).toBe(
      'Egg 2, alive, apricot, full net',
    );
  });

  it('find the first free number', () => {
    expect(freeNumber([{ number: 1 }, { number: 3 }])).toBe(2);
  });
});

describe('the list', () => {
  it('says first what hatches, and at once of what nothing is heard', () => {
    const { sentence, next } = listSentence(LINES);
    expect(sentence).toBe('B-02 is hatching.');
    expect(next).toContain('Nothing is heard of C-12');
  });

  it('keeps finished ones apart and has a next step when it is empty', () => {
    render(<ClutchesOf lines={LINES} trouble={null} />);
    const finished = screen.getByRole('region', { name: 'Finished' });
    expect(finished.querySelectorAll('li')).toHaveLength(2);
    cleanup();
    render(<ClutchesOf lines={[]} trouble={null} />);
    expect(screen.getByRole('link', { name: 'Enter the first clutch' }).getAttribute('href')).toBe(
      '/clutches/new',
    );
  });
});

describe('a cabinet', () => {
  it('shows its tubs, each a link named in full', () => {
    const now = nowOf('calm', AT);
    const incubators = now.incubators.map((i) => ({
      ...i,
      clutches: LINES.filter((l) => l.incubator === i.key),
    }));
    render(<Room name="The egg room" incubators={incubators} />);
    const tub = screen.getByRole('link', { name: /^Clutch C-07 day 43: \d+ of 28 alive.*pip/ });
    expect(tub.getAttribute('href')).toBe('/clutches/c-07');
    expect(tub.querySelectorAll('.little')).toHaveLength(28);
  });
});

describe('odds', () => {
  it('say the count, the share and the interval', () => {
    expect(countedWords({ k: 29, n: 32, low: 0.758, high: 0.968 })).toBe(
      '29 of 32 (91 %; the truth lies between 76 and 97 % with 95 % confidence)',
    );
    expect(countedWords({ k: 0, n: 0, low: 0, high: 1 })).toBe('none yet');
  });

  it('say a certainty without a spread, and nothing where a parent is not known', () => {
    const pairing = {
      traitName: 'Lattice',
      expectedCarriers: { mean: 12, low: 12, high: 12 },
    } as PairingView;
    expect(expectedWords(pairing)).toBe('12 of the eggs carry Lattice.');
    expect(expectedWords({ ...pairing, expectedCarriers: { mean: 12.5, low: 8, high: 17 } })).toBe(
      'About 12.5 of the eggs carry Lattice (8 to 17).',
    );
    expect(expectedWords({ ...pairing, expectedCarriers: null })).toBeNull();
  });
});

it('what is on its way is drawn at once, and its state is not guessed', () => {
  const { eggs } = eggsOf('c-11');
  const body = {
    egg: 2,
    tint: 'fern',
    veins: 'spot',
    looksLikeSlug: null,
    massGrams: null,
    at: new Date(AT).toISOString(),
  };
  const shown = withUnsent(
    eggs,
    [{ clutch: 'c-11', kind: 'candlings', id: 'a', body, refused: null }],
    'c-11',
    [{ key: 'fern', word: 'fern', meaning: '', colour: '#9dbb74' }],
  );
  expect(shown[1]).toMatchObject({
    tintWord: 'fern',
    colour: '#9dbb74',
    veins: 'spot',
    status: 'not looked at',
    entries: 1,
  });
  expect(shown[0]).toEqual(eggs[0]);
});

it('the paths of clutches are their own pages', () => {
  expect(routeOf('/clutches')).toEqual({ page: 'clutches' });
  expect(routeOf('/clutches/c%2007')).toEqual({ page: 'clutch', key: 'c 07' });
});

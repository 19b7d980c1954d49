import { cleanup, fireEvent, render, screen, within } from '@testing-library/preact';
import { useState } from 'preact/hooks';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { CLUTCHES, eggOf, TINTS } from '../../mock/clutchData.ts';
import { pageOf } from '../../mock/clutchPage.ts';
import { type Asked, answerWith } from '../../mock/fetch.ts';
import { Bench } from '../clutches/Bench.tsx';
import { chooseRedLight } from './light.ts';
import { outbox } from './outbox.ts';

const AT = Date.parse('2026-11-25T09:00:00Z');

function Page({ clutchKey = 'c-09' }: { clutchKey?: string }) {
  const clutch = CLUTCHES.find((c) => c.key === clutchKey);
  if (clutch === undefined) throw new Error(clutchKey);
  const [egg, setEgg] = useState<number | null>(null);
  const eggs = Array.from({ length: clutch.eggs }, (_, i) => eggOf(clutch, i, AT));
  const page = pageOf(clutch, eggs, AT, false);
  const data = { page, strip: null, tints: TINTS, trouble: null, reload: async () => undefined };
  return <Bench data={data} page={page} zone="Europe/Vienna" egg={egg} onEgg={setEgg} />;
}

let asked: Asked[];

beforeEach(() => {
  vi.stubGlobal(
    'ResizeObserver',
    class {
      observe(): void {}
      disconnect(): void {}
    },
  );
  vi.useFakeTimers({ now: AT, toFake: ['Date'] });
  localStorage.clear();
  outbox.value = [];
  asked = answerWith({ 'PUT /api/': () => ({}), 'GET /api/': () => [] });
});

afterEach(() => {
  cleanup();
  chooseRedLight(false);
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

const press = (name: string | RegExp) => fireEvent.click(screen.getByRole('button', { name }));
const sent = () => asked.filter((a) => a.method === 'PUT');

describe('candling', () => {
  it('takes an egg in four presses and goes on to the next', async () => {
    render(<Page />);
    press('Candle them, egg 1 first');
    press('fern');
    press('full net');
    press('Next egg, 2');
    expect(screen.getByRole('heading', { name: /^Egg 2/ })).toBeTruthy();
    await vi.waitFor(() => expect(sent()).toHaveLength(1));
    expect(sent()[0]?.path).toMatch(/^\/api\/clutches\/c-09\/candlings\/[0-9a-f-]{36}$/);
    expect(sent()[0]?.body).toMatchObject({ egg: 1, tint: 'fern', veins: 'full net', supersedes: null });
  });

  it('undo is a correction of what was just entered', async () => {
    render(<Page />);
    press('Candle them, egg 1 first');
    press('coral');
    press('Next egg, 2');
    press('Undo');
    await vi.waitFor(() => expect(sent()).toHaveLength(2));
    const first = sent()[0]?.path.split('/').at(-1);
    expect(sent()[1]?.body).toMatchObject({ egg: 1, tint: null, supersedes: first });
  });

  it('saves what is entered when another egg is tapped, and sends nothing of an egg that was only looked up', async () => {
    render(<Page />);
    press(/^Egg 3,/);
    press(/^Egg 5,/);
    press('spot');
    press(/^Egg 8,/);
    await vi.waitFor(() => expect(sent()).toHaveLength(1));
    expect(sent()[0]?.body).toMatchObject({ egg: 5, veins: 'spot' });
  });

  it('takes a choice back with a second press', () => {
    render(<Page />);
    press(/^Egg 3,/);
    press('fern');
    expect(screen.getByRole('button', { name: 'fern' }).getAttribute('aria-pressed')).toBe('true');
    press('fern');
    expect(screen.getByRole('button', { name: 'fern' }).getAttribute('aria-pressed')).toBe('false');
    expect(screen.getByRole('button', { name: 'Put it back' })).toBeTruthy();
  });

  it('stays with an egg whose mass is a slip, and says what is wrong', () => {
    render(<Page />);
    press(/^Egg 3,/);
    fireEvent.input(screen.getByLabelText('Mass'), { target: { value: 'heavy' } });
    press(/^Next egg/);
    expect(screen.getByText(/A number of grams/)).toBeTruthy();
    expect(screen.getByRole('heading', { name: /^Egg 3/ })).toBeTruthy();
    expect(sent()).toHaveLength(0);
  });

  it('keeps a half-entered look when the page is closed', () => {
    render(<Page />);
    press(/^Egg 4,/);
    press('coral');
    cleanup();
    render(<Page />);
    press(/^Egg 4,/);
    expect(screen.getByRole('button', { name: 'coral' }).getAttribute('aria-pressed')).toBe('true');
  });

  it('has a button for every egg of a large clutch, each named in full and in order', () => {
    render(<Page clutchKey="b-02" />);
    const plan = screen.getByRole('region', { name: 'The tub from above' });
    const names = within(plan)
      .getAllByRole('button')
      .map((b) => b.getAttribute('aria-label') ?? '');
    expect(names).toHaveLength(46);
    names.forEach((name, i) => {
      expect(name).toMatch(new RegExp(`^Egg ${i + 1}, (alive|doubtful|slug|dead|pipped|out)`));
    });
  });
});

describe('red light', () => {
  it('leaves words only: no swatch, and the page is told to be red', () => {
    const { container } = render(<Page />);
    press(/^Egg 3,/);
    expect(container.querySelectorAll('.swatch')).toHaveLength(TINTS.length);
    press('Red light');
    expect(container.querySelectorAll('.swatch')).toHaveLength(0);
    expect(screen.getByRole('button', { name: 'fern' }).textContent).toBe('fern');
    expect(document.documentElement.dataset.light).toBe('red');
    press('Red light is on');
    expect(document.documentElement.dataset.light).toBeUndefined();
  });
});

describe('arranging', () => {
  it('moves an egg by the arrow keys and sends every place with its clump', async () => {
    render(<Page clutchKey="c-07" />);
    press('Arrange the eggs');
    const egg = screen.getByRole('button', { name: /^Egg 28,/ });
    fireEvent.focus(egg);
    fireEvent.keyDown(egg, { key: 'ArrowLeft' });
    press('Save the places');
    await vi.waitFor(() => expect(sent()).toHaveLength(1));
    const body = sent()[0]?.body as { eggs: { number: number; x: number; clump: number | null }[] };
    const clutch = CLUTCHES.find((c) => c.key === 'c-07');
    if (clutch === undefined) throw new Error('none');
    expect(body.eggs).toHaveLength(28);
    expect(body.eggs.find((e) => e.number === 28)?.x).toBeCloseTo(eggOf(clutch, 27, AT).x - 0.015, 3);
    expect(body.eggs.find((e) => e.number === 2)?.clump).toBe(1);
  });
});

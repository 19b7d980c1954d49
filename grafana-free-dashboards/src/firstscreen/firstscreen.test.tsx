import { cleanup, render, screen, within } from '@testing-library/preact';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type MockState, nowOf } from '../../mock/facility.ts';
import { chooseDegree } from '../words/units.ts';
import { FirstScreenOf } from './FirstScreen.tsx';
import { isOwnPath } from './ToDo.tsx';
import { titleOf } from './title.ts';

const AT = Date.parse('2026-11-25T02:12:00Z');
const show = (state: MockState) => render(<FirstScreenOf shown={nowOf(state, AT)} at={AT} />);

beforeEach(() => chooseDegree('Cel'));
afterEach(cleanup);

describe('the first screen', () => {
  it('says in one heading that all is well, with its word, and offers nothing to press', () => {
    show('calm');
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe(
      'All 5 incubators are in their bands.',
    );
    expect(screen.getByText('All well')).toBeTruthy();
    expect(screen.queryByRole('button')).toBeNull();
  });

  it('says what is wrong first, with a triangle and its word, and one thing to press', () => {
    const { container } = show('danger');
    expect(screen.getByRole('heading', { level: 1 }).textContent).toContain(
      'Hazel is 1.5\u00a0°C above its band',
    );
    expect(screen.getByText('Danger')).toBeTruthy();
    expect(container.querySelector('.headline .shape.danger path')).toBeTruthy();
    expect(screen.getAllByRole('button').map((b) => b.textContent)).toEqual(['I am on it']);
  });

  it('never draws a round shape for a state', () => {
    for (const state of ['calm', 'warning', 'danger', 'silent'] as const) {
      const { container } = show(state);
      expect(container.querySelectorAll('circle, ellipse')).toHaveLength(0);
      cleanup();
    }
  });

  it('says who has it once it was answered, and offers no second press', () => {
    show('answered');
    expect(screen.getByText('Ilka has it since 03:10. Calling has stopped.')).toBeTruthy();
    expect(screen.queryByRole('button', { name: 'I am on it' })).toBeNull();
  });

  it('lists every further alarm with its own answer', () => {
    show('several');
    const list = screen.getByRole('region', { name: '2 more alarms' });
    expect(within(list).getAllByRole('button')).toHaveLength(2);
    expect(within(list).getAllByText(/Matteo is called at 03:16/)).toHaveLength(2);
  });

  it('warns when nobody would be called', () => {
    show('warning');
    expect(screen.getByText('Nobody would be called.')).toBeTruthy();
    expect(screen.getByRole('link', { name: 'Say who is called' }).getAttribute('href')).toBe('/calling');
  });

  it('shows the next step where there is no incubator yet', () => {
    show('empty');
    expect(screen.getByRole('link', { name: 'Begin: one question at a time' }).getAttribute('href')).toBe(
      '/first-night',
    );
  });

  it('keeps the order of the room whatever the alarms', () => {
    const shown = nowOf('several', AT);
    shown.incubators.reverse();
    render(<FirstScreenOf shown={shown} at={AT} />);
    const names = [...document.querySelectorAll('.cabinet-name')].map((n) => n.textContent);
    expect(names).toEqual(['Hazel', 'Rowan', 'Juniper', 'Linden', 'Sorrel']);
  });

  it('says each cabinet in words for who does not see it', () => {
    show('danger');
    expect(
      screen.getByRole('link', {
        name: /^Hazel\s*temperature 34.0.°C\s*1\.5.°C above\s*humidity \d+.%RH\s*, in band$/,
      }),
    ).toBeTruthy();
  });

  it('shows no figure as good that is not', () => {
    show('silent');
    const rowan = screen.getByRole('link', {
      name: /^Rowan\s*temperature –\s*silent\s*humidity –\s*silent$/,
    });
    expect(rowan.querySelector('.pointer')).toBeNull();
  });

  it('shows thirty cabinets', () => {
    show('many');
    expect(document.querySelectorAll('.cabinet.small')).toHaveLength(30);
  });

  it('turns figures of cabinets into °F', () => {
    chooseDegree('degF');
    show('danger');
    expect(document.querySelector('.figure.main')?.textContent).toMatch(/93\.\d\u00a0°F/);
    expect(document.querySelector('.figure.main')?.textContent).toMatch(/2\.8\u00a0°F above/);
  });

  it('puts no style into markup that a strict policy would block', () => {
    const { container } = show('danger');
    expect(container.innerHTML).not.toContain('style=');
  });
});

describe('the title', () => {
  it('says the state', () => {
    expect(titleOf(nowOf('danger', AT), false)).toBe('! Hazel 1.5\u00a0°C above');
    expect(titleOf(nowOf('several', AT), false)).toBe('! Hazel 1.5\u00a0°C above (+2)');
    expect(titleOf(nowOf('answered', AT), false)).toBe('Hazel 1.5\u00a0°C above');
    expect(titleOf(nowOf('silent', AT), false)).toBe('! Rowan nothing from any probe');
    expect(titleOf(nowOf('calm', AT), false)).toBe('The egg room: all in band');
  });

  it('never says that all is well when nothing is known', () => {
    expect(titleOf(nowOf('calm', AT), true)).toBe('? not connected · The egg room');
    expect(titleOf(null, false)).toBe('Incubation');
  });
});

describe('links of the list to do', () => {
  it('are made of paths of this page only', () => {
    expect(isOwnPath('/probes')).toBe(true);
    for (const href of [
      '//elsewhere.example',
      'https://elsewhere.example',
      'javascript:alert(1)',
      '/api/now',
      null,
    ]) {
      expect(isOwnPath(href)).toBe(false);
    }
  });
});

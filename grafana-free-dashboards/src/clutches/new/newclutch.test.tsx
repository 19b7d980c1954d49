import { cleanup, fireEvent, render, screen } from '@testing-library/preact';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { nowOf } from '../../../mock/facility.ts';
import { answerWith, problem } from '../../../mock/fetch.ts';
import { brief, SPECIES, TUBS } from '../../../mock/night.ts';
import { now } from '../../live/now.ts';
import { change, clearDraft, draft } from './draft.ts';
import { NewClutchPage } from './NewClutchPage.tsx';

const AT = Date.parse('2026-11-25T12:00:00Z');

const answers = () => ({
  'GET /api/species': () => SPECIES,
  'GET /api/tubs': () => TUBS,
  'GET /api/now': () => nowOf('calm', AT),
});
const next = (): void => void fireEvent.click(screen.getByRole('button', { name: 'Next' }));
const asked = (name: string) => screen.findByRole('heading', { name });

afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
  now.value = null;
  clearDraft();
});

/** On the last screen with everything said. */
async function filled(): Promise<void> {
  now.value = nowOf('calm', AT);
  change({
    species: 'python-regius',
    dam: 'Juno',
    sired: false,
    layDate: '2026-10-26',
    eggCount: '9',
    female: '50',
    tubChoice: 'existing',
    tub: 'tub-2',
  });
  render(<NewClutchPage />);
  await asked('Whose eggs are they?');
  for (let i = 0; i < 4; i++) next();
  await asked('Is it so?');
}

describe('entering a clutch', () => {
  it('keeps a screen until what it asks is said, with the words at the field', async () => {
    now.value = nowOf('calm', AT);
    answerWith(answers());
    render(<NewClutchPage />);
    await asked('Whose eggs are they?');
    next();
    expect(screen.getByLabelText('Dam').getAttribute('aria-invalid')).toBe('true');
    expect(screen.getByText('Who laid them? “unknown” will do.')).toBeTruthy();
    expect(screen.getByRole('heading', { name: 'Whose eggs are they?' })).toBeTruthy();
  });

  it('asks for the temperature believed in when it is entered on day 30', async () => {
    answerWith(answers());
    await filled();
    fireEvent.click(screen.getByRole('button', { name: 'Back' }));
    fireEvent.click(screen.getByRole('button', { name: 'Back' }));
    expect(screen.getByText(/^Day 30, and no readings of the days before/)).toBeTruthy();
  });

  it('goes to the screen of a field that the service refuses, and loses nothing', async () => {
    answerWith({
      ...answers(),
      'POST /api/clutches': () =>
        problem(400, 'x', { femaleCelsius: ['Between 10 and 45 °C, or left out.'] }),
    });
    await filled();
    fireEvent.click(screen.getByRole('button', { name: 'Enter the clutch' }));
    await asked('How warm have they been?');
    expect(screen.getByText('Between 10 and 45 °C, or left out.')).toBeTruthy();
    expect(draft.value.dam).toBe('Juno');
  });

  it('shows what the service remarks, and says plainly when nothing is watched', async () => {
    const said = ['Juno’s clutch C-04 lies in 2 too. <i>Both</i> are kept.'];
    const asks = answerWith({
      ...answers(),
      'POST /api/clutches': () => ({
        ...brief('c-05', { label: 'C-05', day: 30, watched: false, incubator: null, incubatorName: null }),
        said,
      }),
    });
    await filled();
    fireEvent.click(screen.getByRole('button', { name: 'Enter the clutch' }));
    await asked('C-05 is entered: 9 eggs, day 30.');
    expect(screen.getByText(said[0] ?? '')).toBeTruthy();
    expect(document.body.textContent).toContain('Nothing is watched yet');
    expect(screen.getByRole('link', { name: 'Say where it stands' }).getAttribute('href')).toBe(
      '/clutches/c-05/move',
    );
    expect(asks.find((a) => a.method === 'POST')?.body).toMatchObject({ dam: 'Juno', tub: { key: 'tub-2' } });
    expect(draft.value.dam).toBe('');
  });

  it('shows the cautions before the eggs of a large constrictor are pulled', async () => {
    now.value = nowOf('calm', AT);
    answerWith(answers());
    change({ species: 'python-bivittatus', dam: 'Juno', sired: false });
    render(<NewClutchPage />);
    await asked('Whose eggs are they?');
    next();
    await asked('Two people before she is touched.');
    expect(document.body.textContent).toContain('two trained people, never alone');
    next();
    expect(screen.getByText('Who is with you? A large constrictor takes two.')).toBeTruthy();
  });
});

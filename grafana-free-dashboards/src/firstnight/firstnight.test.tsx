import { cleanup, fireEvent, render, screen } from '@testing-library/preact';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { BAND, HUMIDITY_BAND } from '../../mock/facility.ts';
import { answerWith, problem } from '../../mock/fetch.ts';
import { firstNightAnswer, resetFirstNight } from '../../mock/firstNight.ts';
import { nightAnswer, SPECIES } from '../../mock/night.ts';
import { now, refresh } from '../live/now.ts';
import { session } from '../people/session.ts';
import { AskTest } from './AskTest.tsx';
import { FirstNightPage } from './FirstNightPage.tsx';
import { bandChanged, visit } from './facts.ts';
import { NEW_VISIT } from './steps.ts';

let at = Date.parse('2026-11-25T20:00:00Z');

/** The mock facility keeps what is entered, as the service would. */
function serve(): void {
  vi.stubGlobal('fetch', async (path: string, init: RequestInit = {}) => {
    const url = new URL(path, 'http://localhost');
    const parts = url.pathname.slice('/api/'.length).split('/');
    const method = init.method ?? 'GET';
    const body = init.body === undefined ? {} : (JSON.parse(String(init.body)) as Record<string, unknown>);
    const found =
      firstNightAnswer(method, parts, body, at) ??
      nightAnswer({ method, parts, query: url.searchParams, body, at });
    return found === null
      ? problem(404, path)
      : new Response(JSON.stringify(found.body), { status: found.status });
  });
}

const press = (name: string | RegExp): void => void fireEvent.click(screen.getByRole('button', { name }));
const write = (label: string | RegExp, value: string): void =>
  void fireEvent.input(screen.getByLabelText(label), { target: { value } });
const asked = (name: string | RegExp) => screen.findByRole('heading', { name });

beforeEach(() => {
  resetFirstNight();
  visit.value = NEW_VISIT;
  session.value = {
    state: 'signed in',
    name: 'Ilka',
    role: 'owner',
    demo: false,
    facility: 'x',
    zone: 'UTC',
  };
});

afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
  now.value = null;
  session.value = null;
});

describe('the first night', () => {
  it('goes from an empty start to "watched over" by eight presses after the claim', async () => {
    serve();
    await refresh();
    render(<FirstNightPage />);
    await asked('What do you call your incubator?');
    write('Its name', 'Linden');
    press('That is its name');
    await asked('Now switch your probe on.');
    expect(document.body.textContent).toContain('incubation/linden/linden-1/temperature');

    at += 10_000;
    await refresh();
    await asked('shelf-1 is heard. Where is it?');
    press('It is there, in Linden');
    await asked('Whose eggs will lie in Linden?');
    fireEvent.click(await screen.findByRole('radio', { name: 'Ball python (Python regius)' }));
    press('Watch it by this band');
    await asked('Have eggs been laid already?');
    press('Not yet');
    await asked('Who is called when it goes wrong?');
    write('Mail address', 'ilka@example.org');
    press('Call this one first');
    await asked('Will Ilka hear it?');
    press('Send Ilka a test');
    await asked('Has it come, Ilka?');
    press('I got it');
    await asked('Linden is watched over.');
    expect(document.body.textContent).toContain('No clutch is entered yet.');
    expect(document.body.textContent).toContain('it is no safety device');
  });

  it('goes on where the facility stands, on another phone', async () => {
    serve();
    firstNightAnswer('POST', ['incubators'], { name: 'Rowan' }, at);
    at += 60_000;
    firstNightAnswer('POST', ['probes', 'shelf-1', 'placements'], { incubator: 'rowan', where: 'air' }, at);
    const step = {
      id: null,
      who: 'Ilka',
      channel: 'mail',
      address: 'a@example.org',
      enabled: true,
      position: 1,
    };
    firstNightAnswer('PUT', ['call-out'], { steps: [step] }, at);
    await refresh();
    render(<FirstNightPage />);
    await asked('Will Ilka hear it?');
  });

  it('says why it cannot be seen how far it is, and can be asked again', async () => {
    serve();
    await refresh();
    answerWith({ 'GET /api/now': () => problem(503, 'The records cannot be read.') });
    render(<FirstNightPage />);
    await asked('It cannot be seen how far it is.');
    expect(screen.getByRole('button', { name: 'Try again' })).toBeTruthy();
  });
});

const STEP = {
  id: 'a',
  position: 1,
  who: 'Ilka',
  channel: 'mail' as const,
  address: 'ilka@example.org',
  hasSecret: false,
  afterSeconds: 0,
  repeatSeconds: 300,
  enabled: true,
};

describe('a test call', () => {
  it('that was not taken is never said to have come', async () => {
    answerWith({
      'POST /api/call-out/tests': () => ({
        id: 't',
        delivered: false,
        answered: false,
        words: 'The mail server refused it.',
      }),
    });
    render(
      <AskTest steps={[STEP]} callOut={{ reachable: true, words: '' }} onDone={async () => undefined} />,
    );
    press('Send Ilka a test');
    expect(await screen.findByText(/It did not get through. The mail server refused it./)).toBeTruthy();
    expect(screen.queryByRole('button', { name: 'I got it' })).toBeNull();
    expect(screen.getByRole('link', { name: 'Change how' }).getAttribute('href')).toBe('/calling');
  });
});

describe('a test call that is answered', () => {
  afterEach(() => {
    vi.useRealTimers();
  });

  it('lets the page go on by itself when the link in it is used', async () => {
    vi.useFakeTimers();
    let answered = false;
    const test = () => ({ id: 't1', delivered: true, answered, words: 'Taken.' });
    answerWith({ 'POST /api/call-out/tests': test, 'GET /api/call-out/tests/t1': test });
    render(
      <AskTest steps={[STEP]} callOut={{ reachable: true, words: '' }} onDone={async () => undefined} />,
    );
    press('Send Ilka a test');
    await vi.advanceTimersByTimeAsync(5_000);
    expect(screen.getByRole('button', { name: 'I got it' })).toBeTruthy();
    expect(visit.value.testHeard).toBe(false);
    answered = true;
    await vi.advanceTimersByTimeAsync(5_000);
    expect(visit.value.testHeard).toBe(true);
  });
});

describe('the band of the first night', () => {
  const view = {
    key: 'a',
    name: 'A',
    position: 1,
    bands: { temperature: BAND, humidity: HUMIDITY_BAND },
    probes: [],
  };

  it('is looked at once it differs from the one every incubator begins with', () => {
    expect(bandChanged(view)).toBe(false);
    expect(bandChanged({ ...view, bands: { temperature: { ...BAND, warningHigh: 30 } } })).toBe(true);
    expect(bandChanged({ ...view, bands: { temperature: null } })).toBe(true);
    expect(SPECIES).toHaveLength(3);
  });
});

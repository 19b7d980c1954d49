import { beforeEach, describe, expect, it } from 'vitest';
import { forgetImports, importsAnswer } from '../../../mock/imports.ts';
import { cellsOf, planOf, saysIt, unknownNames, withColumn, withProbe } from './plan.ts';
import type { ImportView } from './shapes.ts';
import { importSentence, isLocal, paceWords, percent, spanWords } from './words.ts';

const AT = Date.parse('2026-11-25T03:12:00Z');
const ask = (method: string, what: string, body?: unknown): ImportView =>
  importsAnswer(method, ['imports', 'x', ...(what === '' ? [] : [what])], body, AT)?.body as ImportView;

describe('a file of readings that is brought in', () => {
  beforeEach(forgetImports);

  it('asks first, is tried, brought in, stopped and gone on with, and says so in one sentence', () => {
    let view = ask('GET', '');
    expect(importSentence(view)).toBe('Something in the file can’t be told. Please say it.');
    expect(importSentence({ ...view, questions: [] })).toBe('Is this how the file is meant?');

    const named = withProbe(withProbe(planOf(view), 'Regal oben', 'shelf-2'), 'Regal unten', 'shelf-3');
    view = ask('PUT', 'columns', { ...named, timeForm: 'dayFirst' });
    expect(importSentence(view)).toBe('Ready to be tried out.');
    view = ask('POST', 'dry-runs');
    expect(importSentence(view)).toBe('Trying it out: 0\u00a0% of the file is read.');
    view = ask('GET', '');
    expect(importSentence(view)).toBe('Trying it out: 33\u00a0% of the file is read.');
    ask('GET', '');
    view = ask('GET', '');
    expect(importSentence(view)).toBe('1,662,000 readings can be taken, 1,204 can’t.');
    expect(unknownNames(view)).toEqual([]);
    ask('POST', 'runs');
    view = ask('GET', '');
    expect(importSentence(view)).toBe('Bringing it in: 25\u00a0% of the file is stored.');
    view = ask('POST', 'stops');
    expect(importSentence(view)).toBe('Stopped at 25\u00a0%. 415,500 readings are in the history and stay.');
    ask('POST', 'runs');
    for (let i = 0; i < 3; i++) view = ask('GET', '');
    expect(importSentence(view)).toBe('1,662,000 readings are in the history.');
  });

  it('names the probes that nobody knows, until somebody said which they are', () => {
    ask('PUT', 'columns', { ...planOf(ask('GET', '')), timeForm: 'dayFirst' });
    ask('POST', 'dry-runs');
    for (let i = 0; i < 3; i++) ask('GET', '');
    const view = ask('GET', '');
    expect(importSentence(view)).toBe('Not one line could be taken.');
    expect(unknownNames(view).map((one) => one.name)).toEqual(['Regal oben', 'Regal unten']);
    const told = { ...view, guess: withProbe(view.guess, 'Regal oben', '') };
    expect(unknownNames(told).map((one) => one.name)).toEqual(['Regal unten']);
    expect(withProbe(told.guess, 'Regal oben', null).probes).toEqual([]);
  });

  it('says why it waits, and why it failed', () => {
    const view = ask('GET', '');
    const run = { ...(ask('POST', 'runs').run as NonNullable<ImportView['run']>), words: 'Waits, since…' };
    expect(importSentence({ ...view, running: 'run', run })).toBe('Waits, since…');
    expect(importSentence({ ...view, state: 'failed', run: { ...run, words: 'The disk…' } })).toBe(
      'The disk…',
    );
    expect(importSentence({ ...view, fileIsHere: false })).toBe('The file is not here any more.');
  });

  it('is at 100 % only when all of it is done', () => {
    const view = ask('POST', 'runs');
    const run = { ...(view.run as NonNullable<ImportView['run']>), doneBytes: view.bytes - 1 };
    expect(percent({ ...view, run })).toBe(99);
    expect(percent({ ...view, run: { ...run, doneBytes: view.bytes } })).toBe(100);
    expect(percent({ ...view, run: null })).toBe(0);
  });

  it('tells pace and what is left without false exactness', () => {
    const view = { ...ask('POST', 'runs'), linesPerSecond: 148_000 };
    expect(paceWords({ ...view, secondsLeft: 3 })).toBe('0 lines · 148,000 a second · a moment left');
    expect(paceWords({ ...view, secondsLeft: 42 })).toBe('0 lines · 148,000 a second · about 45 s left');
    expect(paceWords({ ...view, secondsLeft: 200 })).toBe('0 lines · 148,000 a second · about 4 min left');
    expect(paceWords({ ...view, linesPerSecond: null, secondsLeft: null })).toBe('0 lines');
    const run = view.run as NonNullable<ImportView['run']>;
    const winter = { ...run, earliest: '2025-12-31T23:30:00Z', latest: '2026-09-04T12:19:00Z' };
    expect(spanWords(winter, 'Europe/Berlin')).toBe('1 Jan 2026, 00:30 to 4 Sept 2026, 14:19');
    expect(spanWords({ ...(view.run as NonNullable<ImportView['run']>), earliest: null }, 'UTC')).toBeNull();
  });

  it('keeps a column that nobody spoke of, and changes one at a time', () => {
    const view = ask('GET', '');
    const wider = { ...view, columns: [...view.columns, 'More'] };
    const plan = planOf(wider);
    expect(plan.columns.length).toBe(6);
    expect(plan.columns[5]?.role).toBe('ignore');
    expect(withColumn(plan, 5, { role: 'unit' }).columns.map((c) => c.role)).toEqual([
      'time',
      'probe',
      'value',
      'value',
      'ignore',
      'unit',
    ]);
    expect(saysIt(plan, 'probe')).toBe(true);
    expect(saysIt(plan, 'unit')).toBe(false);
    expect(cellsOf(wider, 1)).toEqual(['Regal oben', 'Regal unten']);
    expect(cellsOf(wider, 4)).toEqual(['lid open']);
  });

  it('knows which times change with the clocks', () => {
    expect([null, 'rfc3339', 'yearFirst', 'unixSeconds'].map((form) => isLocal(form as never))).toEqual([
      false,
      false,
      true,
      false,
    ]);
  });
});

import { clock, day, wallClock } from '../../words/times.ts';
import { countWords } from '../keeping/words.ts';
import type { ImportView, Outcome, Role, State, TimeForm } from './shapes.ts';

const DAY_MS = 86_400_000;

/** What is to be seen first of an import: where it is, and what is wanted of the person. */
export function importSentence(view: ImportView): string {
  const share = percent(view);
  if (view.running === 'dry run') return `Trying it out: ${share}\u00a0% of the file is read.`;
  if (view.running === 'run')
    return view.run?.words !== '' && view.run !== null
      ? view.run.words
      : `Bringing it in: ${share}\u00a0% of the file is stored.`;
  switch (view.state) {
    case 'done':
      return `${readings(view.run?.taken ?? 0)} are in the history.`;
    case 'failed':
      return view.run?.words ?? 'It failed.';
    case 'stopped':
      return `Stopped at ${share}\u00a0%. ${readings(view.run?.taken ?? 0)} are in the history and stay.`;
    default:
      if (!view.fileIsHere) return 'The file is not here any more.';
      if (!view.confirmed)
        return view.questions.length > 0
          ? 'Something in the file can’t be told. Please say it.'
          : 'Is this how the file is meant?';
      return view.dryRun === null ? 'Ready to be tried out.' : trialSentence(view.dryRun);
  }
}

function trialSentence(trial: Outcome): string {
  if (trial.state === 'failed') return trial.words;
  if (trial.state === 'stopped') return 'The trial was stopped. Nothing is stored.';
  if (trial.taken === 0) return 'Not one line could be taken.';
  return trial.refused === 0
    ? `All ${readings(trial.taken)} can be taken.`
    : `${readings(trial.taken)} can be taken, ${countWords(trial.refused)} can’t.`;
}

export const readings = (count: number): string =>
  `${countWords(count)} ${count === 1 ? 'reading' : 'readings'}`;

/** Whole percent, and 100 only when all of it is done. */
export function percent(view: ImportView): number {
  const outcome = view.running === 'dry run' ? view.dryRun : view.run;
  return view.bytes === 0 || outcome === null ? 0 : Math.floor((outcome.doneBytes / view.bytes) * 100);
}

export function paceWords(view: ImportView): string {
  const outcome = view.running === 'dry run' ? view.dryRun : view.run;
  const parts = [`${countWords(outcome?.lines ?? 0)} lines`];
  if (view.linesPerSecond !== null) parts.push(`${countWords(view.linesPerSecond)} a second`);
  if (view.secondsLeft !== null) parts.push(leftWords(view.secondsLeft));
  return parts.join(' · ');
}

function leftWords(seconds: number): string {
  if (seconds < 5) return 'a moment left';
  return seconds < 90
    ? `about ${Math.ceil(seconds / 5) * 5} s left`
    : `about ${Math.ceil(seconds / 60)} min left`;
}

/** From when to when, with the year: a file may be of a season long past, or of a logger with a wrong clock. */
export function spanWords(outcome: Outcome, zone: string): string | null {
  if (outcome.earliest === null || outcome.latest === null) return null;
  const at = (iso: string): string => {
    const ms = Date.parse(iso);
    return `${day(ms, zone)} ${new Date(wallClock(ms, zone).day * DAY_MS).getUTCFullYear()}, ${clock(ms, zone)}`;
  };
  return `${at(outcome.earliest)} to ${at(outcome.latest)}`;
}

export const STATES: Record<State, string> = {
  waiting: 'not brought in yet',
  running: 'being read',
  stopped: 'stopped half-way',
  done: 'brought in',
  failed: 'failed',
};

export const ROLES: readonly { value: Role; word: string }[] = [
  { value: 'ignore', word: 'Nothing that is wanted' },
  { value: 'time', word: 'Date and time' },
  { value: 'date', word: 'The date alone' },
  { value: 'clock', word: 'The time of day alone' },
  { value: 'probe', word: 'Which probe' },
  { value: 'quantity', word: 'What was measured' },
  { value: 'value', word: 'A value' },
  { value: 'unit', word: 'The unit' },
  { value: 'marks', word: 'Marks of an export' },
];

export const TIME_FORMS: readonly { value: TimeForm; word: string; local: boolean }[] = [
  { value: 'rfc3339', word: '2026-11-25T03:04:05Z', local: false },
  { value: 'yearFirst', word: '2026-11-25 03:04:05', local: true },
  { value: 'dayFirst', word: '25.11.2026 — day first', local: true },
  { value: 'monthFirst', word: '11/25/2026 — month first', local: true },
  { value: 'unixSeconds', word: 'Seconds since 1970', local: false },
  { value: 'unixMilliseconds', word: 'Milliseconds since 1970', local: false },
];

/** Whether times are by the clocks of some place, which change twice a year. */
export const isLocal = (form: TimeForm | null): boolean =>
  TIME_FORMS.some((one) => one.value === form && one.local);

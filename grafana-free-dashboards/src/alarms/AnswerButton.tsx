import type { Alarm } from '../http/shapes.ts';
import { moment } from '../words/times.ts';
import { answer, answering, needsAnswer } from './answer.ts';

interface AnswerProps {
  alarm: Alarm;
  at: number;
  zone: string;
  main?: boolean;
}

/** The one thing to press. It says what a person would say, and afterwards who has it. */
export function AnswerButton({ alarm, at, zone, main = false }: AnswerProps) {
  const state = answering.value.get(alarm.occurrence);
  // The first screen may still show the alarm as it was when the press was answered; the newer of the two counts.
  const known = state?.step === 'told' && needsAnswer(alarm) ? state.alarm : alarm;
  const telling = state?.step === 'telling';
  const open = needsAnswer(known) && state?.step !== 'told';
  return (
    <div class="answer">
      {open && (
        <button
          type="button"
          class={main ? 'main' : 'quiet'}
          disabled={telling}
          onClick={() => void answer(alarm.occurrence)}
        >
          {telling ? 'Telling…' : alarm.returnedAt === null ? 'I am on it' : 'I have seen it'}
          {!main && <span class="unseen"> ({alarm.incubatorName})</span>}
        </button>
      )}
      <p class="answer-words" role="status">
        {!open && whoHas(known, at, zone)}
        {state?.step === 'failed' && open && `Not told: ${state.words} Press again, or ring someone.`}
      </p>
    </div>
  );
}

export function whoHas(alarm: Alarm, at: number, zone: string): string {
  if (alarm.answeredBy === null) return 'It has been answered.';
  const since = alarm.answeredAt === null ? '' : ` since ${moment(Date.parse(alarm.answeredAt), at, zone)}`;
  return `${alarm.answeredBy} has it${since}. Calling has stopped.`;
}

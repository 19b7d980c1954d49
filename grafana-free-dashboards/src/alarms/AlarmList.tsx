import type { Alarm } from '../http/shapes.ts';
import { Shape } from '../look/Shape.tsx';
import { worstFirst } from '../words/standing.ts';
import { moment } from '../words/times.ts';
import { bound } from '../words/units.ts';
import { AnswerButton } from './AnswerButton.tsx';

interface AlarmListProps {
  alarms: readonly Alarm[];
  title: string;
  at: number;
  zone: string;
}

/** Alarms other than the one in the headline. Each has its own answer: answering one never silences another. */
export function AlarmList({ alarms, title, at, zone }: AlarmListProps) {
  if (alarms.length === 0) return null;
  return (
    <section class="alarm-list" aria-labelledby="also">
      <h2 id="also">{title}</h2>
      <ul>
        {worstFirst(alarms).map((alarm) => (
          <li key={alarm.occurrence} class={alarm.severity}>
            <p>
              <Shape tone={alarm.severity} down={alarm.condition === 'low'} />{' '}
              <strong>{alarm.severity === 'danger' ? 'Danger' : 'Warning'}.</strong> {bound(alarm.words)}{' '}
              <span class="muted">{alarmSentence(alarm, at, zone)}</span>
            </p>
            <AnswerButton alarm={alarm} at={at} zone={zone} />
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Since when, and who is called next. */
export function alarmSentence(alarm: Alarm, at: number, zone: string): string {
  const since = `Since ${moment(Date.parse(alarm.raisedAt), at, zone)}`;
  if (alarm.returnedAt !== null)
    return `${since}, back since ${moment(Date.parse(alarm.returnedAt), at, zone)}.`;
  if (alarm.nextCall === null) return `${since}.`;
  return `${since}; ${alarm.nextCall.who} is called at ${moment(Date.parse(alarm.nextCall.at), at, zone)}.`;
}

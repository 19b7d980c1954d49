import type { CareKind } from '../care/entries.ts';
import { careWords } from '../care/entries.ts';
import { Shape } from '../look/Shape.tsx';
import { clock, day, weekday } from '../words/times.ts';
import { amount } from '../words/units.ts';
import { StripView } from './StripView.tsx';
import type { ReviewAlarm, ReviewCare, Stretch, Strip } from './shapes.ts';
import { answerWords, exposureWords, fromTo, lengthWords, openWords, stageWords } from './words.ts';

interface StretchItemProps {
  stretch: Stretch;
  number: number;
  strip: Strip | null;
  zone: string;
}

/** Drawn with as much before and after as it lasted, and half a day at least, so that its rise and end are seen. */
export function around(stretch: Stretch, strip: Strip): { from: number; to: number } {
  const from = Date.parse(stretch.from);
  const to = Date.parse(stretch.to);
  const more = Math.max(12 * 3_600_000, to - from, strip.bucketMs * 6);
  return {
    from: Math.max(Date.parse(strip.from), from - more),
    to: Math.min(Date.parse(strip.to), to + more),
  };
}

export function StretchItem({ stretch, number, strip, zone }: StretchItemProps) {
  const open = openWords(stretch.words);
  const piece = strip === null ? null : around(stretch, strip);
  return (
    <li class="stretch">
      <p class="stretch-head">
        <span class="stretch-number">{number}</span>
        <Shape tone="warning" down={stretch.side === 'below'} />
        <strong>
          {lengthWords(stretch.from, stretch.to)} {stretch.side} the band, as far as{' '}
          {amount(stretch.peak, 'temperature', 'Cel')}
        </strong>
      </p>
      <p class="muted">
        {fromTo(stretch.from, stretch.to, zone)}; {exposureWords(stretch)}; {stageWords(stretch)}.
      </p>
      {open !== null && <p>{open}</p>}
      {strip !== null && piece !== null && (
        <StripView
          strip={strip}
          {...piece}
          stretches={[stretch]}
          firstNumber={number}
          height={44}
          label={`Temperature around stretch ${number}`}
        />
      )}
      <dl class="stretch-facts">
        <dt>Probes</dt>
        <dd>
          {stretch.probes.length === 0 ? (
            'No probe of its own record.'
          ) : (
            <ul>
              {stretch.probes.map((p) => (
                <li key={p.probe}>
                  {p.probe}
                  {p.where != null && p.where !== '' && `, ${p.where}`}: {p.says}
                </li>
              ))}
            </ul>
          )}
        </dd>
        <dt>Alarms</dt>
        <dd>
          {stretch.alarms.length === 0 ? (
            'None was raised.'
          ) : (
            <ul>
              {stretch.alarms.map((alarm) => (
                <li key={alarm.occurrence}>{alarmLine(alarm, zone)}</li>
              ))}
            </ul>
          )}
        </dd>
        {stretch.care.length > 0 && (
          <>
            <dt>Care</dt>
            <dd>
              <ul>
                {stretch.care.map((entry) => (
                  <li key={entry.id ?? `${entry.at} ${entry.kind}`}>
                    {Date.parse(entry.at) <= Date.parse(stretch.from) ? 'before it: ' : ''}
                    {careLine(entry, zone)}
                  </li>
                ))}
              </ul>
            </dd>
          </>
        )}
      </dl>
    </li>
  );
}

/** One alarm: how grave, when, who answered; the service's own words already say all of it where they begin so. */
export function alarmLine(alarm: ReviewAlarm, zone: string): string {
  const grave = alarm.severity === 'danger' ? 'Danger' : 'Warning';
  if (alarm.words.startsWith(`${grave} raised`)) return alarm.words;
  return `${grave}, ${answerWords(alarm, zone)}. ${alarm.words}`;
}

export function careLine(entry: ReviewCare, zone: string): string {
  const at = Date.parse(entry.at);
  const what = careWords({ kind: entry.kind as CareKind, waterGrams: entry.waterGrams ?? null });
  const note = entry.note != null && entry.note !== '' ? ` ${entry.note}` : '';
  return `${what}, ${weekday(at, zone)} ${day(at, zone)}, ${clock(at, zone)}, ${entry.by}.${note}`;
}

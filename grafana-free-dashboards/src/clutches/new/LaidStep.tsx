import { DateField } from '../../look/DateField.tsx';
import { Field } from '../../look/Field.tsx';
import { OneOf } from '../../look/OneOf.tsx';
import { addDays, dateAt, dateWords, daysBetween, parseDate } from '../../words/localdate.ts';
import { change, draft, isLong, type Slack } from './draft.ts';
import type { StepPart } from './NewClutchPage.tsx';

const SLACKS: { value: Slack; word: string }[] = [
  { value: '0', word: 'sure' },
  { value: '1', word: 'a day either way' },
  { value: '3', word: 'three days' },
  { value: '7', word: 'a week' },
];

export function LaidStep({ errors, zone, at }: StepPart) {
  const d = draft.value;
  const today = dateAt(at, zone);
  const recent = [0, -1, -2].map((days) => ({ value: addDays(today, days), word: recentWord(days) }));
  const other = d.layDate !== '' && !recent.some((r) => r.value === d.layDate);
  return (
    <>
      <OneOf
        label="Laid"
        value={d.layDate}
        options={recent}
        onValue={(layDate) => change({ layDate })}
        errors={errors.layDate}
      />
      <DateField
        label={other ? 'or on the day' : 'or on another day'}
        value={d.layDate}
        max={today}
        onValue={(layDate) => change({ layDate })}
      />
      {parseDate(d.layDate) !== null && <p class="hint">{ageWords(d.layDate, today)}</p>}
      {isLong(d.layDate, at, zone) && (
        <label class="switch">
          <input
            type="checkbox"
            checked={d.over}
            onChange={(event) => change({ over: event.currentTarget.checked })}
          />
          <span>Its season is over: it is put on record afterwards</span>
        </label>
      )}
      <OneOf
        label="How sure is that"
        value={d.slack}
        options={SLACKS}
        onValue={(slack) => change({ slack })}
        errors={errors.layDateSlackDays}
      />
      <Field
        label="Eggs, slugs counted too"
        numeric
        value={d.eggCount}
        onValue={(eggCount) => change({ eggCount })}
        errors={errors.eggCount}
        required
      />
    </>
  );
}

function recentWord(days: number): string {
  return days === 0 ? 'today' : days === -1 ? 'yesterday' : 'the day before';
}

export function ageWords(layDate: string, today: string): string {
  const day = daysBetween(layDate, today);
  if (day < 0) return `${dateWords(layDate)} is still to come.`;
  return day === 0 ? `${dateWords(layDate)}: today is day 0.` : `${dateWords(layDate)}: today is day ${day}.`;
}

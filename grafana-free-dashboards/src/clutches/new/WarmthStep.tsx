import { DateField } from '../../look/DateField.tsx';
import { Field } from '../../look/Field.tsx';
import { OneOf } from '../../look/OneOf.tsx';
import { dateAt, daysBetween, timeAt } from '../../words/localdate.ts';
import { unitWord } from '../../words/units.ts';
import { change, draft } from './draft.ts';
import type { StepPart } from './NewClutchPage.tsx';

/** What is known of the time before the first reading; all of it may be left out. */
export function WarmthStep({ errors, zone, at, late }: StepPart & { late: boolean }) {
  const d = draft.value;
  const unit = unitWord('temperature', 'Cel');
  const today = dateAt(at, zone);
  return (
    <>
      {late && (
        <Field
          label="They lay, as far as you know, at"
          numeric
          unit={unit}
          value={d.assumed}
          onValue={(assumed) => change({ assumed })}
          errors={errors.assumedCelsius}
          hint={`Day ${daysBetween(d.layDate, today)}, and no readings of the days before. The forecast counts them at this; left empty, at the middle of the band, and says so.`}
        />
      )}
      <OneOf
        label="Were you there"
        value={d.seen}
        options={[
          { value: 'laid', word: 'I saw them laid' },
          { value: 'found', word: 'I found them later' },
        ]}
        onValue={(seen) =>
          change(
            seen === 'found' && d.foundDate === ''
              ? { seen, foundDate: today, foundTime: timeAt(at, zone) }
              : { seen },
          )
        }
      />
      {d.seen === 'found' && (
        <div class="presses">
          <DateField
            label="Found on"
            value={d.foundDate}
            max={today}
            onValue={(foundDate) => change({ foundDate })}
            errors={errors.foundAt}
          />
          <DateField
            label="at"
            kind="time"
            value={d.foundTime}
            onValue={(foundTime) => change({ foundTime })}
          />
        </div>
      )}
      <Field
        label="The female’s temperature, if you took it"
        numeric
        unit={unit}
        value={d.female}
        onValue={(female) => change({ female })}
        errors={errors.femaleCelsius}
      />
    </>
  );
}

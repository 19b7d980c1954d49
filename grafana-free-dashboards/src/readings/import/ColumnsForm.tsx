import { useState } from 'preact/hooks';
import { get, put } from '../../http/api.ts';
import { Field } from '../../look/Field.tsx';
import { OneOf } from '../../look/OneOf.tsx';
import { useSending } from '../../look/useForm.ts';
import { ColumnCard } from './ColumnCard.tsx';
import { cellsOf, planOf } from './plan.ts';
import type { Encoding, ImportView, Plan, RepeatedHour, Separator } from './shapes.ts';
import { isLocal, TIME_FORMS } from './words.ts';

interface ColumnsFormProps {
  view: ImportView;
  known: readonly { key: string; name: string | null }[];
  onView: (view: ImportView) => void;
}

/** The guess, column by column, for a person to look over. */
export function ColumnsForm({ view: first, known, onView }: ColumnsFormProps) {
  const [view, setView] = useState(first);
  const [plan, setPlan] = useState<Plan>(() => planOf(first));
  const sending = useSending();
  const change = (part: Partial<Plan>): void => setPlan({ ...plan, ...part });
  const separate = (separator: Separator): void =>
    void sending.send(async () => {
      const other = await get<ImportView>(`/api/imports/${view.id}?separator=${separator}`);
      setView(other);
      setPlan(planOf(other));
    });
  return (
    <form
      class="import-form"
      onSubmit={(event) => {
        event.preventDefault();
        void sending.send(async () => onView(await put<ImportView>(`/api/imports/${view.id}/columns`, plan)));
      }}
    >
      {view.questions.length > 0 && (
        <ul class="import-questions">
          {view.questions.map((question) => (
            <li key={question}>{question}</li>
          ))}
        </ul>
      )}
      <Sample view={view} />
      <OneOf
        label="How times are written"
        value={plan.timeForm ?? ''}
        options={TIME_FORMS}
        errors={sending.errors.timeForm}
        onValue={(timeForm) => change({ timeForm })}
      />
      {isLocal(plan.timeForm) && (
        <>
          <OneOf<RepeatedHour>
            label="When the clocks are put back, an hour comes twice. Times of it are"
            value={plan.repeatedHour}
            options={[
              { value: 'refuse', word: 'refused' },
              { value: 'first', word: 'of the first time' },
              { value: 'second', word: 'of the second' },
            ]}
            onValue={(repeatedHour) => change({ repeatedHour })}
          />
          <Field
            label="Clocks of"
            value={plan.zone}
            hint="A time zone by its IANA name, such as Europe/Lisbon; Etc/UTC for loggers on UTC."
            errors={sending.errors.zone}
            onValue={(zone) => change({ zone })}
          />
        </>
      )}
      <h2>The columns</h2>
      <ul class="import-columns">
        {view.columns.map((name, i) => (
          <ColumnCard
            key={`${plan.separator} ${i} ${name}`}
            plan={plan}
            index={i}
            name={name}
            cells={cellsOf(view, i)}
            known={known}
            errors={sending.errors[`columns[${i}]`]}
            onPlan={setPlan}
          />
        ))}
      </ul>
      <details>
        <summary>How the file is written</summary>
        <div class="import-written">
          <OneOf<Separator>
            label="Between fields"
            value={plan.separator}
            options={[
              { value: 'comma', word: 'a comma' },
              { value: 'semicolon', word: 'a semicolon' },
              { value: 'tab', word: 'a tab' },
            ]}
            onValue={separate}
          />
          <OneOf
            label="Decimal mark"
            value={plan.decimalComma ? 'comma' : 'point'}
            options={[
              { value: 'point', word: '31.4' },
              { value: 'comma', word: '31,4' },
            ]}
            onValue={(mark) => change({ decimalComma: mark === 'comma' })}
          />
          <OneOf
            label="The first line"
            value={plan.header ? 'names' : 'readings'}
            options={[
              { value: 'names', word: 'names the columns' },
              { value: 'readings', word: 'is a reading' },
            ]}
            onValue={(line) => change({ header: line === 'names' })}
          />
          <OneOf<Encoding>
            label="Letters"
            value={plan.encoding}
            options={[
              { value: 'utf8', word: 'UTF-8' },
              { value: 'windows1252', word: 'Windows-1252' },
            ]}
            onValue={(encoding) => change({ encoding })}
          />
        </div>
      </details>
      {sending.errors.columns !== undefined && <p class="wrong-words">{sending.errors.columns.join(' ')}</p>}
      <p class="form-words" role="status">
        {sending.words}
      </p>
      <button type="submit" class="main" disabled={sending.busy}>
        That is right
      </button>
    </form>
  );
}

function Sample({ view }: { view: ImportView }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by keyboard
    <section class="import-sample" aria-label="The first lines of the file" tabIndex={0}>
      <table>
        <thead>
          <tr>
            {view.columns.map((name, i) => (
              <th key={`${i} ${name}`} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {view.sample.slice(0, 5).map((row, i) => (
            <tr key={`${i} ${row.join()}`}>
              {view.columns.map((name, j) => (
                <td key={`${j} ${name}`}>{row[j] ?? ''}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

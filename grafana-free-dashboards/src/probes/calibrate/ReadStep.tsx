import { now, serviceNow } from '../../live/now.ts';
import { Field } from '../../look/Field.tsx';
import { Step } from '../../look/Step.tsx';
import { amount, number, shown, unitWord } from '../../words/units.ts';
import { heardWords, unitIn } from '../ProbeCard.tsx';
import { readNumber } from './draft.ts';
import { correctionOf, type StepParts } from './parts.ts';

/** What the probe says and what is true there: the first point, and if wanted a second. */
export function ReadStep(props: StepParts & { onDone: () => void }) {
  const { draft, change, probe, points, frame, foot, onDone } = props;
  const zone = now.value?.zone ?? 'UTC';
  const unit = unitIn(probe, draft.quantity);
  const shownUnit = unitWord(draft.quantity, unit);
  const series = probe.series.find((s) => s.quantity === draft.quantity);
  const says = series === undefined ? null : (series.measured ?? series.value);
  const known = draft.method === 'ice bath' || draft.method === 'saturated salt';
  const wrong = (text: string): string[] | undefined =>
    text !== '' && readNumber(text) === null ? ['A number is needed here, such as 0.2.'] : undefined;
  const take = (field: 'measured' | 'measured2') =>
    says !== null && (
      <button type="button" onClick={() => change({ [field]: number(shown(says, draft.quantity), 2) })}>
        Take what it says now: {amount(says, draft.quantity, unit, 2)}
      </button>
    );
  const line = correctionOf(draft, points);
  const same = draft.second && line === null && readNumber(draft.measured2) !== null;
  return (
    <Step
      {...frame}
      question="What does it say there?"
      why={
        says === null || series === undefined
          ? 'Nothing is heard from it just now; type what its own display says.'
          : `It says ${amount(says, draft.quantity, unit, 2)} as measured, ${heardWords(series, serviceNow.value, zone)}.`
      }
      foot={foot}
    >
      <form
        onSubmit={(event) => {
          event.preventDefault();
          if (line !== null) onDone();
        }}
      >
        <Field
          label="The probe says, as measured"
          unit={shownUnit}
          numeric
          value={draft.measured}
          onValue={(measured) => change({ measured })}
          errors={wrong(draft.measured)}
        />
        {take('measured')}
        {!known && (
          <Field
            label="The reference says"
            unit={shownUnit}
            numeric
            value={draft.truth}
            onValue={(truth) => change({ truth })}
            errors={wrong(draft.truth)}
          />
        )}
        {draft.second ? (
          <fieldset class="second-point">
            <legend>The second point, at another warmth or humidity</legend>
            <Field
              label="The probe says, as measured"
              unit={shownUnit}
              numeric
              value={draft.measured2}
              onValue={(measured2) => change({ measured2 })}
              errors={
                wrong(draft.measured2) ??
                (same && readNumber(draft.truth2) !== null
                  ? ['The two points must lie apart, and in the same order as what is true.']
                  : undefined)
              }
            />
            {take('measured2')}
            <Field
              label="True there is"
              unit={shownUnit}
              numeric
              value={draft.truth2}
              onValue={(truth2) => change({ truth2 })}
              errors={wrong(draft.truth2)}
            />
            <button type="button" onClick={() => change({ second: false, measured2: '', truth2: '' })}>
              Only one point after all
            </button>
          </fieldset>
        ) : (
          <button type="button" onClick={() => change({ second: true })}>
            Add a second point
          </button>
        )}
        <button type="submit" class="main" disabled={line === null}>
          See the correction
        </button>
      </form>
    </Step>
  );
}

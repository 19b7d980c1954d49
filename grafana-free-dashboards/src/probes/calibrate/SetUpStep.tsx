import { Field } from '../../look/Field.tsx';
import { OneOf } from '../../look/OneOf.tsx';
import { Step } from '../../look/Step.tsx';
import { amount, number } from '../../words/units.ts';
import { readNumber, saltAt } from './draft.ts';
import type { StepParts } from './parts.ts';

/** How it is done, and, for a salt, which and how warm. */
export function SetUpStep(props: StepParts & { onDone: () => void }) {
  const { draft, change, points, frame, foot, onDone } = props;
  const salt = points.salts.find((s) => s.key === draft.salt);
  const celsius = readNumber(draft.celsius);
  const held = salt === undefined || celsius === null ? null : saltAt(salt.points, celsius);
  const ready = draft.method !== 'saturated salt' || held !== null;
  return (
    <Step {...frame} question={QUESTION[draft.method] ?? ''} foot={foot}>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          if (ready) onDone();
        }}
      >
        {draft.method === 'ice bath' && (
          <Rows
            rows={[
              points.icePoint.words,
              'A probe that is not tight goes into a thin bag first.',
              'Stir now and then. Pour off water that gathers and add ice.',
              `Wait until its value rests. Made so, it is right to ±${number(points.icePoint.uncertainty, 2)} °C.`,
            ]}
          />
        )}
        {(draft.method === 'reference thermometer' || draft.method === 'reference hygrometer') && (
          <Rows
            rows={[
              'Tie the two together, tip to tip, and put them where the eggs lie.',
              'Shut the door and wait until both rest; half an hour is not too long.',
              'The reference needs a certificate or a fixed point of its own: two that agree may both be wrong.',
            ]}
          />
        )}
        {draft.method === 'saturated salt' && (
          <>
            <Rows
              rows={[
                'Wet the salt with clean water to a mash: crystals must be seen, with no pool on top.',
                'Put salt and probe into a small jar, the probe above the mash and not touching it, and close it tight.',
                'Leave it at one temperature, overnight if it can be.',
              ]}
            />
            <OneOf
              label="Which salt"
              value={draft.salt}
              options={points.salts.map((s) => ({ value: s.key, word: s.name }))}
              onValue={(key) => change({ salt: key })}
            />
            <Field
              label="How warm the jar is"
              unit="°C"
              numeric
              value={draft.celsius}
              onValue={(celsius) => change({ celsius })}
              errors={
                salt !== undefined && celsius !== null && held === null
                  ? [`The table of this salt goes from ${spanOf(salt.points)}.`]
                  : celsius === null
                    ? ['A number is needed here, such as 25.']
                    : undefined
              }
            />
            {held !== null && (
              <p>
                Then the air above it is at {amount(held.humidity, 'humidity', '%RH', 1)}, give or take{' '}
                {amount(held.uncertainty, 'humidity', '%RH', 1)} <span class="muted">({salt?.source})</span>.
              </p>
            )}
          </>
        )}
        <Cautions
          words={[
            ...(salt?.caution == null || draft.method !== 'saturated salt'
              ? []
              : [`${capital(salt.name)}: ${salt.caution}`]),
            ...(points.cautionsOf?.[draft.method] ?? points.cautions),
          ]}
        />
        <button type="submit" class="main" disabled={!ready}>
          It rests: read it
        </button>
      </form>
    </Step>
  );
}

const QUESTION: Record<string, string> = {
  'ice bath': 'Make the ice bath.',
  'reference thermometer': 'Put them side by side.',
  'reference hygrometer': 'Put them side by side.',
  'saturated salt': 'Set up the salt.',
};

function Rows({ rows }: { rows: readonly string[] }) {
  return (
    <ol class="rows">
      {rows.map((row) => (
        <li key={row}>{row}</li>
      ))}
    </ol>
  );
}

export function Cautions({ words }: { words: readonly string[] }) {
  if (words.length === 0) return null;
  return (
    <ul class="said">
      {words.map((w) => (
        <li key={w}>{w}</li>
      ))}
    </ul>
  );
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

function spanOf(points: readonly { celsius: number }[]): string {
  const all = points.map((p) => p.celsius);
  return `${Math.min(...all)} to ${Math.max(...all)} °C`;
}

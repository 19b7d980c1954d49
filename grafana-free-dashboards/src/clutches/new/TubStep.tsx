import type { IncubatorNow } from '../../http/shapes.ts';
import { Field } from '../../look/Field.tsx';
import { OneOf } from '../../look/OneOf.tsx';
import { change, draft, type TubChoice } from './draft.ts';
import type { StepPart } from './NewClutchPage.tsx';
import type { Tub } from './shapes.ts';

const SUBSTRATES = ['vermiculite', 'perlite', 'mixed', 'none, on a rack'];

interface TubStepProps extends StepPart {
  tubs: Tub[];
  incubators: readonly IncubatorNow[];
}

export function TubStep({ errors, tubs, incubators }: TubStepProps) {
  const d = draft.value;
  const choices: { value: TubChoice; word: string }[] = [
    { value: 'new', word: 'in a new tub' },
    ...(tubs.length > 0 ? [{ value: 'existing' as const, word: 'in a tub that is there' }] : []),
    { value: 'none', word: 'still with her' },
  ];
  return (
    <>
      <OneOf
        label="The eggs are"
        value={d.tubChoice}
        options={choices}
        onValue={(tubChoice) => change({ tubChoice })}
      />
      {d.tubChoice === 'existing' && (
        <OneOf
          label="Which tub"
          value={d.tub}
          options={tubs.map((t) => ({ value: t.key, word: t.name, ...tubHint(t) }))}
          onValue={(tub) => change({ tub })}
          errors={errors.tub ?? errors['tub.key']}
        />
      )}
      {d.tubChoice === 'new' && (
        <>
          <Field
            label="What is written on the tub"
            value={d.tubName}
            onValue={(tubName) => change({ tubName })}
            errors={errors['tub.name'] ?? errors.tub ?? errors.name}
            required
          />
          <OneOf
            label="They lie on"
            value={SUBSTRATES.includes(d.substrate) ? d.substrate : ''}
            options={SUBSTRATES.map((s) => ({ value: s, word: s }))}
            onValue={(substrate) => change({ substrate })}
          />
          <Field
            label="or on"
            value={SUBSTRATES.includes(d.substrate) ? '' : d.substrate}
            onValue={(substrate) => change({ substrate })}
            errors={errors['tub.substrate'] ?? errors.substrate}
          />
          <div class="tub-grams">
            <Field
              label="Substrate, dry"
              numeric
              unit="g"
              value={d.substrateGrams}
              onValue={(substrateGrams) => change({ substrateGrams })}
              errors={errors['tub.substrateGrams'] ?? errors.substrateGrams}
            />
            <Field
              label="Water"
              numeric
              unit="g"
              value={d.waterGrams}
              onValue={(waterGrams) => change({ waterGrams })}
              errors={errors['tub.waterGrams'] ?? errors.waterGrams}
            />
          </div>
          {incubators.length > 0 && (
            <OneOf
              label="The tub stands in"
              value={d.incubator}
              options={incubators.map((i) => ({ value: i.key, word: i.name }))}
              onValue={(incubator) => change({ incubator })}
              errors={errors['tub.incubator'] ?? errors.incubator}
            />
          )}
          <Field
            label="Shelf"
            value={d.shelf}
            onValue={(shelf) => change({ shelf })}
            errors={errors['tub.shelf'] ?? errors.shelf}
            hint="As you would say it: upper, by the door."
          />
        </>
      )}
      {d.tubChoice === 'none' && (
        <p class="hint">
          Nothing is watched while they are with her. Say where they lie as soon as they are moved.
        </p>
      )}
    </>
  );
}

function tubHint(tub: Tub): { hint?: string } {
  const words = [tub.incubatorName ?? tub.incubator, tub.shelf]
    .filter((w) => w != null && w !== '')
    .join(', ');
  return words === '' ? {} : { hint: words };
}

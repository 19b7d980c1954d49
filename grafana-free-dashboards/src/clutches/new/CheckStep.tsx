import { now } from '../../live/now.ts';
import { Field } from '../../look/Field.tsx';
import { NoteField } from '../../look/NoteField.tsx';
import { dateAt } from '../../words/localdate.ts';
import { change, type Draft, draft } from './draft.ts';
import { ageWords } from './LaidStep.tsx';
import type { StepPart } from './NewClutchPage.tsx';
import type { Species, Tub } from './shapes.ts';

interface CheckStepProps extends StepPart {
  species: Species | undefined;
  tubs: Tub[];
}

/** All of it once more in plain words, with a name and a note if wanted. */
export function CheckStep({ errors, zone, at, species, tubs }: CheckStepProps) {
  const d = draft.value;
  const slack = d.slack === '0' ? '' : ` It may be ${d.slack === '1' ? 'a day' : `${d.slack} days`} off.`;
  return (
    <>
      <dl class="facts">
        <dt>Species</dt>
        <dd>{species?.name}</dd>
        <dt>Parents</dt>
        <dd>{d.sired ? `${d.dam} and ${d.sire}` : `${d.dam}; no sire, or not known`}</dd>
        {species?.largeConstrictor === true && (
          <>
            <dt>With</dt>
            <dd>{d.secondPerson}</dd>
          </>
        )}
        <dt>Laid</dt>
        <dd>
          {ageWords(d.layDate, dateAt(at, zone))}
          {slack}
        </dd>
        <dt>Eggs</dt>
        <dd>{d.eggCount}</dd>
        <dt>Now</dt>
        <dd>{placeWords(d, tubs)}</dd>
      </dl>
      <Field
        label="What you call it, if not the next number"
        value={d.label}
        onValue={(label) => change({ label })}
        errors={errors.label}
      />
      <NoteField label="A note" value={d.note} onValue={(note) => change({ note })} errors={errors.note} />
    </>
  );
}

export function placeWords(d: Draft, tubs: readonly Tub[]): string {
  if (d.tubChoice === 'none') return 'with her; nothing is watched yet';
  const there = tubs.find((t) => t.key === d.tub);
  const named = d.tubChoice === 'existing' ? (there?.name ?? d.tub) : d.tubName;
  const key = d.tubChoice === 'existing' ? there?.incubator : d.incubator;
  const incubator = now.value?.incubators.find((i) => i.key === key)?.name;
  return incubator === undefined ? `tub ${named}, in no incubator yet` : `tub ${named}, in ${incubator}`;
}

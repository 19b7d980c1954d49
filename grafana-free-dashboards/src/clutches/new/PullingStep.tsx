import { Field } from '../../look/Field.tsx';
import { change, draft } from './draft.ts';
import type { StepPart } from './NewClutchPage.tsx';
import type { Species } from './shapes.ts';

/** Said before the eggs of a large constrictor are pulled, if the service has no words of its own. */
const CAUTIONS = [
  'A brooding large constrictor is strong and defends her eggs: two trained people, never alone.',
  'Keep each egg the way up it lay: mark its top before you lift it.',
  'Eggs that stick together stay together: do not tear them apart.',
  'Wash your hands: snakes and their eggs carry Salmonella.',
];

export function PullingStep({ errors, species }: StepPart & { species: Species | undefined }) {
  return (
    <>
      <ul class="said">
        {(species?.cautions ?? CAUTIONS).map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
      <Field
        label="Who is with you"
        value={draft.value.secondPerson}
        onValue={(secondPerson) => change({ secondPerson })}
        errors={errors.secondPerson}
        hint="The second person’s name is kept with the clutch."
        required
      />
    </>
  );
}

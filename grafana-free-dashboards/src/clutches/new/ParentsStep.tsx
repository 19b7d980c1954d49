import { Field } from '../../look/Field.tsx';
import { OneOf } from '../../look/OneOf.tsx';
import { change, draft } from './draft.ts';
import type { StepPart } from './NewClutchPage.tsx';
import type { Species } from './shapes.ts';

export function ParentsStep({ errors, species }: StepPart & { species: Species[] }) {
  const d = draft.value;
  return (
    <>
      <OneOf
        label="Species"
        value={d.species}
        options={species.map((s) => ({ value: s.key, word: s.name }))}
        onValue={(key) => change({ species: key })}
        errors={errors.species}
      />
      <Field label="Dam" value={d.dam} onValue={(dam) => change({ dam })} errors={errors.dam} required />
      <OneOf
        label="Sire"
        value={d.sired ? 'known' : 'none'}
        options={[
          { value: 'known', word: 'known' },
          { value: 'none', word: 'none, or not known' },
        ]}
        onValue={(which) => change({ sired: which === 'known' })}
      />
      {d.sired && (
        <Field label="His name" value={d.sire} onValue={(sire) => change({ sire })} errors={errors.sire} />
      )}
    </>
  );
}

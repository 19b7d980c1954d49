import { useState } from 'preact/hooks';
import { Chips } from '../candling/Chips.tsx';
import { get, post, put } from '../http/api.ts';
import type { ClutchPageView, Inheritance, TintTerm, Trait } from '../http/clutchShapes.ts';
import { Field } from '../look/Field.tsx';
import { useSending } from '../look/useForm.ts';

const COPIES = ['0', '1', '2'].map((value) => ({
  value,
  word: ['none', 'one', 'two'][Number(value)] ?? value,
}));
const INHERITANCE: { value: Inheritance; word: string }[] = (
  ['recessive', 'dominant', 'incomplete dominant'] as const
).map((value) => ({ value, word: value }));
const NEW = '';

interface EditorProps {
  page: ClutchPageView;
  tints: readonly TintTerm[];
  onSaved: () => Promise<void>;
}

/** How many copies of a trait dam and sire have, and which tints are said to go with carrying it. */
export function PairingEditor({ page, tints, onSaved }: EditorProps) {
  const [traits, setTraits] = useState<Trait[] | null>(null);
  const [trait, setTrait] = useState<Trait | null>(null);
  const [dam, setDam] = useState<string | null>(null);
  const [sire, setSire] = useState<string | null>(null);
  const sending = useSending();
  const choose = (chosen: Trait): void => {
    const known = page.pairings.find((p) => p.trait === chosen.key);
    setTrait(chosen);
    setDam(known === undefined ? null : String(known.damCopies));
    setSire(known === undefined ? null : known.sireCopies === null ? 'unknown' : String(known.sireCopies));
  };
  const open = (): void => {
    if (traits !== null) return;
    void sending.send(async () => {
      const all = await get<Trait[]>('/api/traits');
      setTraits(all);
      const first = all.find((t) => t.key === page.pairings[0]?.trait);
      if (first !== undefined) choose(first);
    });
  };
  const save = (): void => {
    if (trait === null || dam === null) {
      sending.refuse(
        trait === null
          ? { trait: ['Choose a trait, or name a new one.'] }
          : { damCopies: ['Say how many copies the dam has.'] },
      );
      return;
    }
    void sending.send(async () => {
      const { key, name, inheritance, carrierTints } = trait;
      const said = { name: name.trim(), inheritance, carrierTints };
      const made =
        key === NEW ? await post<Trait>('/api/traits', said) : await put<Trait>(`/api/traits/${key}`, said);
      const at = encodeURIComponent(key === NEW ? made.key : key);
      await put(`/api/clutches/${encodeURIComponent(page.clutch.key)}/pairings/${at}`, {
        damCopies: Number(dam),
        sireCopies: sire === null || sire === 'unknown' ? null : Number(sire),
      });
      await onSaved();
      setTraits(null);
      setTrait(null);
    });
  };
  return (
    <details onToggle={(event) => event.currentTarget.open && open()}>
      <summary>{page.pairings.length === 0 ? 'Name a trait' : 'Change the pairing or the marker'}</summary>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          save();
        }}
      >
        {traits !== null && (
          <Chips
            legend="Trait"
            choices={[
              ...traits.map((t) => ({ value: t.key, word: t.name })),
              { value: NEW, word: 'a new one' },
            ]}
            chosen={trait === null ? [] : [trait.key]}
            onChoose={(key) =>
              choose(
                traits.find((t) => t.key === key) ?? {
                  key: NEW,
                  name: '',
                  inheritance: 'incomplete dominant',
                  carrierTints: [],
                },
              )
            }
          />
        )}
        {trait !== null && (
          <>
            {trait.key === NEW && (
              <Field
                label="Its name"
                value={trait.name}
                onValue={(name) => setTrait({ ...trait, name })}
                errors={sending.errors.name}
                required
              />
            )}
            <Chips
              legend="How it is inherited"
              choices={INHERITANCE}
              chosen={[trait.inheritance]}
              onChoose={(inheritance) => setTrait({ ...trait, inheritance })}
            />
            <Chips
              legend={`Copies that ${page.clutch.dam} has`}
              choices={COPIES}
              chosen={dam === null ? [] : [dam]}
              onChoose={setDam}
            />
            <Chips
              legend={`Copies that ${page.clutch.sire ?? 'the sire'} has`}
              choices={[...COPIES, { value: 'unknown', word: 'not known' }]}
              chosen={sire === null ? [] : [sire]}
              onChoose={setSire}
            />
            <Chips
              legend="Tints that are said to go with carrying it"
              choices={tints.map((t) => ({ value: t.key, word: t.word, colour: t.colour }))}
              chosen={trait.carrierTints}
              onChoose={(v) =>
                setTrait({
                  ...trait,
                  carrierTints: trait.carrierTints.includes(v)
                    ? trait.carrierTints.filter((t) => t !== v)
                    : [...trait.carrierTints, v],
                })
              }
            />
          </>
        )}
        <p class="form-words" role="alert">
          {sending.words}
          {Object.values(sending.errors)
            .flat()
            .map((w) => ` ${w}`)}
        </p>
        <button type="submit" class="main" disabled={sending.busy}>
          Save
        </button>
      </form>
    </details>
  );
}

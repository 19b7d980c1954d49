import { useState } from 'preact/hooks';
import type { EggView, OutcomeKind, PairingView, TraitSeen } from '../http/clutchShapes.ts';
import { Field } from '../look/Field.tsx';
import { Chips } from './Chips.tsx';
import { newId } from './draft.ts';
import { enter } from './outbox.ts';
import { OUTCOMES, TRAIT_SEEN } from './words.ts';

interface OutcomePartProps {
  clutch: string;
  egg: EggView;
  pairings: readonly PairingView[];
  hatching: boolean;
}

/** What came of an egg. The trait is looked at and entered before any odds of it are shown. */
export function OutcomePart({ clutch, egg, pairings, hatching }: OutcomePartProps) {
  const [kind, setKind] = useState<OutcomeKind | null>(null);
  const [seen, setSeen] = useState<Record<string, TraitSeen>>({});
  const [note, setNote] = useState('');
  const save = (): void => {
    if (kind === null) return;
    const at = new Date().toISOString();
    const plain = {
      egg: egg.number,
      kind,
      at,
      note: note.trim() === '' ? null : note.trim(),
      supersedes: null,
    };
    const traits = kind === 'out' || kind === 'dead in egg' ? Object.entries(seen) : [];
    // One outcome says one trait; a second trait is one more outcome of the same kind.
    const bodies =
      traits.length === 0
        ? [{ ...plain, trait: null, traitSeen: null }]
        : traits.map(([trait, traitSeen]) => ({ ...plain, trait, traitSeen }));
    for (const body of bodies) void enter({ clutch, kind: 'outcomes', id: newId(), body });
    setKind(null);
    setSeen({});
    setNote('');
  };
  return (
    <details class="outcome" open={hatching}>
      <summary>What came of it</summary>
      <div class="outcome-body">
        <Chips
          legend="Outcome"
          choices={OUTCOMES}
          chosen={kind === null ? [] : [kind]}
          onChoose={(v) => setKind(kind === v ? null : v)}
        />
        {(kind === 'out' || kind === 'dead in egg') &&
          pairings.map((p) => (
            <Chips
              key={p.trait}
              legend={`${p.traitName} on the young, as you see it`}
              choices={TRAIT_SEEN}
              chosen={seen[p.trait] === undefined ? [] : [seen[p.trait] as TraitSeen]}
              onChoose={(v) => {
                const { [p.trait]: before, ...others } = seen;
                setSeen(before === v ? others : { ...others, [p.trait]: v });
              }}
            />
          ))}
        {kind !== null && (
          <>
            <Field label="Note" value={note} onValue={setNote} />
            <button type="button" class="main" onClick={save}>
              Enter: egg {egg.number}, {OUTCOMES.find((o) => o.value === kind)?.word}
            </button>
          </>
        )}
      </div>
    </details>
  );
}

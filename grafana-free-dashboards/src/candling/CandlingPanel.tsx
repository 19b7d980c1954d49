import { useState } from 'preact/hooks';
import type { EggView, PairingView, TintTerm } from '../http/clutchShapes.ts';
import { Field } from '../look/Field.tsx';
import { Chips } from './Chips.tsx';
import { bodyOf, type Draft, isEmpty, newDraft } from './draft.ts';
import { dropDraft, keepDraft, keptDraft } from './draftKeeping.ts';
import { EntryList } from './EntryList.tsx';
import { OutcomePart } from './OutcomePart.tsx';
import { enter } from './outbox.ts';
import { SHELL, VEINS } from './words.ts';

interface CandlingPanelProps {
  clutch: string;
  egg: EggView;
  tints: readonly TintTerm[];
  pairings: readonly PairingView[];
  hatching: boolean;
  next: EggView | null;
  zone: string;
  round: { done: number; of: number };
  onEgg: (number: number | null) => void;
  onSaved: (saved: { id: string; egg: number; at: string }) => void;
  /** Set here: saves what is entered before another egg is taken; false when it cannot be saved as it is. */
  leaving: { current: (() => boolean) | null };
}

/** One egg in hand: what it shows, in big choices, and the next egg where the thumb rests. */
export function CandlingPanel(props: CandlingPanelProps) {
  const { clutch, egg, next, tints } = props;
  const [draft, setDraft] = useState<Draft>(() => keptDraft(clutch, egg.number) ?? newDraft(egg.number));
  const [errors, setErrors] = useState<Record<string, string[]>>({});
  const change = (part: Partial<Draft>): void => {
    const changed = { ...draft, ...part };
    setDraft(changed);
    keepDraft(clutch, changed);
  };
  const either = <K extends 'tint' | 'veins' | 'movementSeen' | 'looksLikeSlug'>(field: K, value: Draft[K]) =>
    change({ [field]: draft[field] === value ? null : value } as Partial<Draft>);

  const save = (): boolean => {
    if (isEmpty(draft)) return true;
    const ready = bodyOf(draft, new Date());
    if ('errors' in ready) {
      setErrors(ready.errors);
      return false;
    }
    dropDraft(clutch, egg.number);
    void enter({ clutch, kind: 'candlings', id: draft.id, body: ready.body });
    props.onSaved({ id: draft.id, egg: egg.number, at: ready.body.at });
    setErrors({});
    setDraft(newDraft(egg.number));
    return true;
  };
  props.leaving.current = save;
  const correct = (correction: Draft): void => {
    setDraft(correction);
    keepDraft(clutch, correction);
    document.getElementById('egg-in-hand')?.focus();
  };
  const leaveAsItWas = (): void => {
    dropDraft(clutch, egg.number);
    setDraft(newDraft(egg.number));
  };
  const empty = isEmpty(draft);
  return (
    <section class="panel" aria-labelledby="egg-in-hand">
      <header class="panel-head">
        <h2 id="egg-in-hand" class="egg-in-hand" tabIndex={-1}>
          Egg {egg.number}
          <span class="muted">
            {' '}
            {draft.supersedes === null
              ? `· ${props.round.done} of ${props.round.of} looked at`
              : '· a correction'}
          </span>
        </h2>
        <p class="status-words">{egg.statusWords}</p>
      </header>
      <Chips
        legend="Tint"
        choices={tints.map((t) => ({ value: t.key, word: t.word, colour: t.colour, meaning: t.meaning }))}
        chosen={draft.tint === null ? [] : [draft.tint]}
        onChoose={(v) => either('tint', v)}
      />
      <Chips
        legend="Veins"
        choices={VEINS}
        chosen={draft.veins === null ? [] : [draft.veins]}
        onChoose={(v) => either('veins', v)}
      />
      <Chips
        legend="Movement"
        choices={[
          { value: true, word: 'seen' },
          { value: false, word: 'watched, none' },
        ]}
        chosen={draft.movementSeen === null ? [] : [draft.movementSeen]}
        onChoose={(v) => either('movementSeen', v)}
      />
      <Chips
        legend="Shell"
        choices={SHELL}
        chosen={draft.shell}
        onChoose={(v) =>
          change({
            shell: draft.shell.includes(v) ? draft.shell.filter((s) => s !== v) : [...draft.shell, v],
          })
        }
      />
      <Chips
        legend="Looks like a slug"
        choices={[
          { value: 'no', word: 'no' },
          { value: 'unsure', word: 'unsure' },
          { value: 'yes', word: 'yes' },
        ]}
        chosen={draft.looksLikeSlug === null ? [] : [draft.looksLikeSlug]}
        onChoose={(v) => either('looksLikeSlug', v as NonNullable<Draft['looksLikeSlug']>)}
      />
      <div class="mass-and-note">
        <Field
          label="Mass"
          numeric
          unit="g"
          value={draft.mass}
          onValue={(mass) => change({ mass })}
          errors={errors.massGrams}
        />
        <Field label="Note" value={draft.note} onValue={(note) => change({ note })} />
      </div>
      <div class="thumb-bar">
        {draft.supersedes !== null ? (
          <>
            <button type="button" class="quiet" onClick={leaveAsItWas}>
              Leave it as it was
            </button>
            <button type="button" class="main" onClick={save}>
              Save the correction
            </button>
          </>
        ) : (
          <>
            <button type="button" class="quiet" onClick={() => save() && props.onEgg(null)}>
              {empty ? 'Put it back' : 'Save and stop'}
            </button>
            {next !== null && (
              <button type="button" class="main" onClick={() => save() && props.onEgg(next.number)}>
                {empty ? `Skip to egg ${next.number}` : `Next egg, ${next.number}`}
              </button>
            )}
            {next === null && !empty && (
              <button type="button" class="main" onClick={() => save() && props.onEgg(null)}>
                Save, all are done
              </button>
            )}
          </>
        )}
      </div>
      <OutcomePart {...props} />
      <EntryList
        clutch={clutch}
        egg={egg}
        zone={props.zone}
        tints={tints}
        onCorrect={correct}
        traitName={(key) => props.pairings.find((p) => p.trait === key)?.traitName ?? null}
      />
    </section>
  );
}

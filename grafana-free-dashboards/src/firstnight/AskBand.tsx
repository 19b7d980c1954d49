import { useEffect, useState } from 'preact/hooks';
import { change } from '../clutches/new/draft.ts';
import type { Species } from '../clutches/new/shapes.ts';
import { bandWords } from '../facility/BandEditor.tsx';
import { type BandTexts, LIMITS, parseBand, textsOf } from '../facility/bandForm.ts';
import { get, put, wordsOf } from '../http/api.ts';
import type { BandSettings, IncubatorView } from '../http/shapes.ts';
import { Field } from '../look/Field.tsx';
import { OneOf } from '../look/OneOf.tsx';
import { useSending } from '../look/useForm.ts';
import { quantityWord } from '../words/standing.ts';
import { unitWord } from '../words/units.ts';
import { visit } from './facts.ts';
import { NightFrame } from './NightFrame.tsx';

type Texts = Record<string, BandTexts>;

/** The species' band laid over what the incubator has: delays stay, limits come from the species. */
export function bandFor(species: Species, view: IncubatorView): Record<string, BandSettings> {
  const bands: Record<string, BandSettings> = {};
  for (const [quantity, limits] of Object.entries(species.band)) {
    const before = view.bands[quantity];
    if (limits === null || before === null || before === undefined) continue;
    const { dangerLow, warningLow, warningHigh, dangerHigh } = limits;
    bands[quantity] = { ...before, dangerLow, warningLow, warningHigh, dangerHigh };
  }
  return bands;
}

export function AskBand({ view, onDone }: { view: IncubatorView; onDone: () => Promise<void> }) {
  const [all, setAll] = useState<Species[] | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const [chosen, setChosen] = useState('');
  const [texts, setTexts] = useState<Texts | null>(null);
  const sending = useSending();
  useEffect(() => {
    get<Species[]>('/api/species').then(setAll, (cause: unknown) => setTrouble(wordsOf(cause)));
  }, []);
  const species = all?.find((s) => s.key === chosen);
  const bands = species === undefined ? null : bandFor(species, view);

  const save = (): void => {
    if (bands === null) return;
    const wanted: [string, BandSettings][] = [];
    for (const [quantity, band] of Object.entries(bands)) {
      const parsed = texts?.[quantity] === undefined ? { band } : parseBand(texts[quantity], quantity);
      if ('errors' in parsed) {
        sending.refuse(prefixed(quantity, parsed.errors));
        return;
      }
      wanted.push([quantity, parsed.band]);
    }
    void sending.send(async () => {
      for (const [quantity, band] of wanted) {
        await put(`/api/incubators/${encodeURIComponent(view.key)}/bands/${quantity}`, band);
      }
      visit.value = { ...visit.value, bandKept: true };
      // Most likely the clutch that is entered next; asked no second time.
      change({ species: chosen });
      await onDone();
    });
  };
  return (
    <NightFrame
      step="band"
      question={`Whose eggs will lie in ${view.name}?`}
      why="The band it is kept in, and that you are woken for, follows from the species."
      other={
        <button type="button" onClick={() => (visit.value = { ...visit.value, bandKept: true })}>
          Keep it as it is for now
        </button>
      }
    >
      {trouble !== null && <p class="form-words">{trouble}</p>}
      <form
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          save();
        }}
      >
        <OneOf
          label="Species"
          value={chosen}
          options={(all ?? []).map((s) => ({ value: s.key, word: s.name }))}
          onValue={(key) => {
            setChosen(key);
            setTexts(null);
          }}
        />
        {species !== undefined && bands !== null && (
          <>
            <p class="hint">{species.words}</p>
            {Object.entries(bands).map(([quantity, band]) => (
              <div key={quantity} class="band-offer">
                <p>
                  <strong class="band-name">{quantityWord(quantity)}</strong> {bandWords(band, quantity)}
                </p>
                {texts?.[quantity] !== undefined && (
                  <div class="band-limits">
                    {LIMITS.map(({ field, label }) => (
                      <Field
                        key={field}
                        label={label}
                        numeric
                        unit={unitWord(quantity, '%RH')}
                        value={texts[quantity]?.[field] ?? ''}
                        onValue={(value) => setTexts((t) => withText(t, quantity, field, value))}
                        errors={sending.errors[`${quantity}.${field}`] ?? sending.errors[field]}
                      />
                    ))}
                  </div>
                )}
              </div>
            ))}
            <p class="form-words" role="alert">
              {sending.words}
            </p>
            <div class="presses">
              <button type="submit" class="main" disabled={sending.busy}>
                {sending.busy ? 'Setting…' : 'Watch it by this band'}
              </button>
              {texts === null && (
                <button type="button" onClick={() => setTexts(mapOf(bands))}>
                  Change it
                </button>
              )}
            </div>
          </>
        )}
      </form>
    </NightFrame>
  );
}

const mapOf = (bands: Record<string, BandSettings>): Texts =>
  Object.fromEntries(Object.entries(bands).map(([quantity, band]) => [quantity, textsOf(band, quantity)]));

function withText(texts: Texts | null, quantity: string, field: string, value: string): Texts | null {
  const before = texts?.[quantity];
  return texts === null || before === undefined
    ? texts
    : { ...texts, [quantity]: { ...before, [field]: value } };
}

const prefixed = (quantity: string, errors: Record<string, string[]>): Record<string, string[]> =>
  Object.fromEntries(Object.entries(errors).map(([field, words]) => [`${quantity}.${field}`, words]));

import { useState } from 'preact/hooks';
import { put } from '../http/api.ts';
import type { BandSettings } from '../http/shapes.ts';
import { refresh } from '../live/now.ts';
import { Field } from '../look/Field.tsx';
import { useSending } from '../look/useForm.ts';
import { quantityWord } from '../words/standing.ts';
import { amount, unitWord } from '../words/units.ts';
import { type BandField, type BandTexts, DELAYS, LIMITS, parseBand, textsOf } from './bandForm.ts';

interface BandEditorProps {
  incubator: string;
  quantity: string;
  band: BandSettings | null;
  onSaved: () => Promise<void>;
}

export function BandEditor({ incubator, quantity, band, onSaved }: BandEditorProps) {
  const [texts, setTexts] = useState<BandTexts | null>(null);
  const sending = useSending();
  const unit = unitWord(quantity, quantity === 'humidity' ? '%RH' : 'Cel');
  const save = (): void => {
    if (texts === null) return;
    const parsed = parseBand(texts, quantity);
    if ('errors' in parsed) {
      sending.refuse(parsed.errors);
      return;
    }
    void sending.send(async () => {
      await put(`/api/incubators/${encodeURIComponent(incubator)}/bands/${quantity}`, parsed.band);
      await Promise.all([onSaved(), refresh()]);
      setTexts(null);
    });
  };
  const field = (name: BandField, label: string, fieldUnit: string, hint?: string) => (
    <Field
      key={name}
      label={label}
      numeric
      unit={fieldUnit}
      value={texts?.[name] ?? ''}
      onValue={(value) => setTexts((t) => (t === null ? t : { ...t, [name]: value }))}
      errors={sending.errors[name]}
      {...(hint === undefined ? {} : { hint })}
    />
  );
  return (
    <div class="band">
      <p>
        <strong class="band-name">{quantityWord(quantity)}</strong> {bandWords(band, quantity)}
      </p>
      {texts === null ? (
        <button type="button" class="quiet" onClick={() => setTexts(textsOf(band, quantity))}>
          Change<span class="unseen"> the {quantityWord(quantity)} band</span>
        </button>
      ) : (
        <form
          onSubmit={(event) => {
            event.preventDefault();
            save();
          }}
        >
          <div class="band-limits">{LIMITS.map((l) => field(l.field, l.label, unit))}</div>
          <p class="hint">An empty limit is not watched.</p>
          <details>
            <summary>How long before it counts</summary>
            <div class="band-limits">
              {field('deadband', 'Over only when inside by', unit)}
              {DELAYS.map((d) => field(d.field, d.label, 'min', d.hint))}
            </div>
          </details>
          <p class="form-words" role="alert">
            {sending.words}
          </p>
          <div class="presses">
            <button type="submit" class="main" disabled={sending.busy}>
              {sending.busy ? 'Saving…' : 'Save the band'}
            </button>
            <button type="button" class="quiet" onClick={() => setTexts(null)}>
              Leave it as it was
            </button>
          </div>
        </form>
      )}
    </div>
  );
}

export function bandWords(band: BandSettings | null, quantity: string): string {
  const unit = quantity === 'humidity' ? '%RH' : 'Cel';
  if (band === null) return 'has no band: it is shown, and never an alarm.';
  const say = (v: number): string => amount(v, quantity, unit);
  const { warningLow: low, warningHigh: high, dangerLow, dangerHigh } = band;
  const main =
    low !== null && high !== null
      ? `${say(low)} to ${say(high)}`
      : low !== null
        ? `at least ${say(low)}`
        : high !== null
          ? `at most ${say(high)}`
          : 'no warning limits';
  const danger = [
    dangerLow === null ? null : `below ${say(dangerLow)}`,
    dangerHigh === null ? null : `above ${say(dangerHigh)}`,
  ].filter((w) => w !== null);
  return danger.length === 0 ? `${main}.` : `${main}; danger ${danger.join(' or ')}.`;
}

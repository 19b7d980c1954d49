import { RedLight } from '../candling/RedLight.tsx';
import { now, refresh } from '../live/now.ts';
import { useSending } from '../look/useForm.ts';
import { zoneWord } from '../words/times.ts';
import { chooseDegree, type Degree, degree } from '../words/units.ts';
import { session, signOut } from './session.ts';

const DEGREES: { value: Degree; word: string }[] = [
  { value: 'Cel', word: '°C' },
  { value: 'degF', word: '°F' },
];

/** What this phone is set to, and who is signed in on it. */
export function PhonePage() {
  const sending = useSending();
  const who = session.value;
  const zone = now.value?.zone ?? who?.zone ?? 'UTC';
  return (
    <main id="main" class="page narrow">
      <h1>
        {who?.name == null ? 'Nobody is signed in on this phone.' : `${who.name} is signed in on this phone.`}
      </h1>
      <p class="next">
        {who?.role != null && `As ${who.role}. `}Times are those of the facility: {zoneWord(Date.now(), zone)}
        .
      </p>
      <fieldset class="choices">
        <legend>Temperatures on this phone</legend>
        {DEGREES.map(({ value, word }) => (
          <label key={value} class="choice">
            <input
              type="radio"
              name="degree"
              checked={degree.value === value}
              onChange={() => {
                chooseDegree(value);
                void refresh();
              }}
            />
            <span>{word}</span>
          </label>
        ))}
      </fieldset>
      <div class="presses">
        <RedLight />
      </div>
      {who?.demo !== true && (
        <>
          <button
            type="button"
            class="quiet"
            disabled={sending.busy}
            onClick={() => void sending.send(signOut)}
          >
            Sign out
          </button>
          <p class="form-words" role="alert">
            {sending.words}
          </p>
        </>
      )}
      <section class="cautions" aria-labelledby="cautions">
        <h2 id="cautions">What this service cannot do</h2>
        <p>
          It informs; it is no safety device. A mains heater needs its own independent over-temperature
          cut-out and residual-current protection, installed to local code by someone licensed for it.
        </p>
      </section>
    </main>
  );
}

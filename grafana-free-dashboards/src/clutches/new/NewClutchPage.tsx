import '../../look/steps.css';
import { useEffect, useState } from 'preact/hooks';
import { Link } from '../../house/Link.tsx';
import { get, post, Refusal, wordsOf } from '../../http/api.ts';
import { now, refresh, serviceNow } from '../../live/now.ts';
import { Step } from '../../look/Step.tsx';
import { useSending } from '../../look/useForm.ts';
import { CheckStep } from './CheckStep.tsx';
import {
  type ClutchStep,
  change,
  clearDraft,
  clutchSteps,
  draft,
  isLate,
  parseDraft,
  stepOfField,
} from './draft.ts';
import { EnteredClutch } from './EnteredClutch.tsx';
import { LaidStep } from './LaidStep.tsx';
import { ParentsStep } from './ParentsStep.tsx';
import { PullingStep } from './PullingStep.tsx';
import type { Entered, Species, Tub } from './shapes.ts';
import { TubStep } from './TubStep.tsx';
import { WarmthStep } from './WarmthStep.tsx';

const QUESTION: Record<ClutchStep, string> = {
  parents: 'Whose eggs are they?',
  pulling: 'Two people before she is touched.',
  laid: 'When were they laid, and how many?',
  warmth: 'How warm have they been?',
  tub: 'Where do they lie now?',
  check: 'Is it so?',
};

export function NewClutchPage() {
  const [species, setSpecies] = useState<Species[] | null>(null);
  const [tubs, setTubs] = useState<Tub[]>([]);
  const [trouble, setTrouble] = useState<string | null>(null);
  const [at, setAt] = useState(0);
  const [entered, setEntered] = useState<Entered | null>(null);
  const sending = useSending();
  const load = (): void => {
    Promise.all([get<Species[]>('/api/species'), get<Tub[]>('/api/tubs')]).then(
      ([kinds, boxes]) => {
        setSpecies(kinds);
        setTubs(boxes);
        const [only, second] = now.value?.incubators ?? [];
        if (only !== undefined && second === undefined && draft.value.incubator === '') {
          change({ incubator: only.key });
        }
        setTrouble(null);
      },
      (cause: unknown) => setTrouble(wordsOf(cause)),
    );
  };
  useEffect(load, []);

  if (species === null) {
    return (
      <main id="main" class="page narrow">
        <h1>{trouble === null ? 'One moment…' : 'A clutch cannot be entered just now.'}</h1>
        {trouble !== null && (
          <>
            <p class="next">{trouble}</p>
            <button type="button" class="main" onClick={load}>
              Try again
            </button>
          </>
        )}
      </main>
    );
  }
  if (entered !== null) return <EnteredClutch entered={entered} onAnother={() => setEntered(null)} />;

  const d = draft.value;
  const chosen = species.find((s) => s.key === d.species);
  const steps = clutchSteps(chosen);
  const step = steps[Math.min(at, steps.length - 1)] ?? 'parents';
  const zone = now.value?.zone ?? 'UTC';
  const instant = serviceNow.value;
  const last = step === 'check';

  /** Words of a screen are said before it is left; those of another are left to their own. */
  const on = (): void => {
    const parsed = parseDraft(d, chosen, instant, zone);
    const errors = 'errors' in parsed ? parsed.errors : {};
    if (!last) {
      const here = Object.fromEntries(
        Object.entries(errors).filter(([field]) => stepOfField(field) === step),
      );
      if (Object.keys(here).length > 0) {
        sending.refuse(here);
        return;
      }
      sending.clear();
      setAt(steps.indexOf(step) + 1);
      return;
    }
    if (!('body' in parsed)) {
      showWhereWrong(errors);
      return;
    }
    void sending.send(async () => {
      try {
        const made = await post<Entered>('/api/clutches', parsed.body);
        await refresh();
        clearDraft();
        setAt(0);
        setEntered(made);
      } catch (cause) {
        if (cause instanceof Refusal) goToFirst(cause.errors);
        throw cause;
      }
    });
  };
  const goToFirst = (errors: Record<string, string[]>): void => {
    const wrong = new Set(Object.keys(errors).map(stepOfField));
    const first = steps.findIndex((s) => wrong.has(s));
    if (first >= 0) setAt(first);
  };
  const showWhereWrong = (errors: Record<string, string[]>): void => {
    sending.refuse(errors);
    goToFirst(errors);
  };
  const part = { errors: sending.errors, zone, at: instant };
  return (
    <Step
      number={steps.indexOf(step) + 1}
      of={steps.length}
      question={QUESTION[step]}
      foot={
        <>
          {at > 0 && (
            <button type="button" onClick={() => setAt(steps.indexOf(step) - 1)}>
              Back
            </button>
          )}
          <Link to="/">Leave it here; what is said is kept</Link>
        </>
      }
    >
      <form
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          on();
        }}
      >
        {step === 'parents' && <ParentsStep {...part} species={species} />}
        {step === 'pulling' && <PullingStep {...part} species={chosen} />}
        {step === 'laid' && <LaidStep {...part} />}
        {step === 'warmth' && <WarmthStep {...part} late={isLate(d.layDate, instant, zone)} />}
        {step === 'tub' && <TubStep {...part} tubs={tubs} incubators={now.value?.incubators ?? []} />}
        {step === 'check' && <CheckStep {...part} species={chosen} tubs={tubs} />}
        <p class="form-words" role="alert">
          {sending.words}
        </p>
        <button type="submit" class="main" disabled={sending.busy}>
          {last ? (sending.busy ? 'Entering it…' : 'Enter the clutch') : 'Next'}
        </button>
      </form>
    </Step>
  );
}

/** What every screen of the clutch is given. */
export interface StepPart {
  errors: Record<string, string[]>;
  zone: string;
  at: number;
}

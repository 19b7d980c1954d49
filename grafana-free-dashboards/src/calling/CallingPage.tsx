import { useEffect, useState } from 'preact/hooks';
import { get, put, wordsOf } from '../http/api.ts';
import type { CallOrder } from '../http/shapes.ts';
import { now, refresh } from '../live/now.ts';
import { useSending } from '../look/useForm.ts';
import { moved, newStep, orderSentence, parseOrder, type StepTexts, textsOfStep } from './order.ts';
import { StepCard } from './StepCard.tsx';

export function CallingPage() {
  const [order, setOrder] = useState<CallOrder | null>(null);
  const [steps, setSteps] = useState<StepTexts[]>([]);
  const [changed, setChanged] = useState(false);
  const [trouble, setTrouble] = useState<string | null>(null);
  const sending = useSending();
  const load = async (): Promise<void> => {
    try {
      const answer = await get<CallOrder>('/api/call-out');
      answer.steps.sort((a, b) => a.position - b.position);
      setOrder(answer);
      setSteps(answer.steps.map(textsOfStep));
      setChanged(false);
      setTrouble(null);
    } catch (cause) {
      setTrouble(wordsOf(cause));
    }
  };
  useEffect(() => void load(), []);

  const change = (next: StepTexts[]): void => {
    setSteps(next);
    setChanged(true);
  };
  const save = (): void => {
    const parsed = parseOrder(steps);
    if ('errors' in parsed) {
      sending.refuse(parsed.errors);
      return;
    }
    void sending.send(async () => {
      await put('/api/call-out', { steps: parsed.steps });
      await Promise.all([load(), refresh()]);
    });
  };
  const callOut = now.value?.callOut;
  return (
    <main id="main" class="page narrow">
      <h1>{order === null ? (trouble ?? 'Asking who is called…') : orderSentence(order.steps)}</h1>
      <p class="next">
        {callOut !== undefined && !callOut.reachable
          ? callOut.words
          : 'Each is called again until someone presses “I am on it”; then the calling stops for all.'}
      </p>
      {order !== null && (
        <form
          noValidate
          onSubmit={(event) => {
            event.preventDefault();
            save();
          }}
        >
          <ol class="call-order">
            {steps.map((step, i) => (
              <StepCard
                key={step.row}
                step={step}
                index={i}
                last={i === steps.length - 1}
                saved={!changed}
                errors={sending.errors}
                onChange={(next) => change(steps.map((s) => (s.row === step.row ? next : s)))}
                onMove={(by) => change(moved(steps, i, by))}
                onRemove={() => change(steps.filter((s) => s.row !== step.row))}
              />
            ))}
          </ol>
          <button type="button" class="quiet" onClick={() => change([...steps, newStep(steps.at(-1))])}>
            {steps.length === 0 ? 'Add the first to be called' : 'Add one more'}
          </button>
          <p class="form-words" role="alert">
            {sending.words}
            {sending.errors.steps?.map((w) => ` ${w}`)}
          </p>
          {changed && (
            <div class="presses save-bar">
              <button type="submit" class="main" disabled={sending.busy}>
                {sending.busy ? 'Saving…' : 'Save the order'}
              </button>
              <button type="button" class="quiet" onClick={() => void load()}>
                Leave it as it was
              </button>
            </div>
          )}
        </form>
      )}
    </main>
  );
}

import { useState } from 'preact/hooks';
import { Link } from '../house/Link.tsx';
import { post } from '../http/api.ts';
import type { CallStep, Now } from '../http/shapes.ts';
import { useSending } from '../look/useForm.ts';
import { visit } from './facts.ts';
import { NightFrame } from './NightFrame.tsx';

/** What the service says of a test: whether the receiver took it, never whether a person heard it. */
interface Tested {
  delivered: boolean;
  words: string;
}

interface AskTestProps {
  steps: CallStep[];
  callOut: Now['callOut'];
  onDone: () => Promise<void>;
}

/** A test call over the same way as a real one. Taken is not heard: that only the person can say. */
export function AskTest({ steps, callOut, onDone }: AskTestProps) {
  const [tested, setTested] = useState<Tested | null>(null);
  const sending = useSending();
  const step = steps[0];
  if (step === undefined || step.id === null) return null;
  const { id, who } = step;
  const send = (): void =>
    void sending.send(async () => {
      setTested(null);
      setTested(await post<Tested>('/api/call-out/tests', { step: id }));
      await onDone();
    });
  const taken = tested?.delivered === true;
  return (
    <NightFrame
      step="test"
      question={taken ? `Has it come, ${who}?` : `Will ${who} hear it?`}
      why={
        taken
          ? `${tested.words} Look at the phone that is beside your bed: is it there, and was it loud enough?`
          : 'A test goes the way a real call would. Nothing is wrong while it rings.'
      }
      other={
        <button type="button" onClick={() => (visit.value = { ...visit.value, testLater: true })}>
          Without a test for now
        </button>
      }
    >
      {!callOut.reachable && (
        <ul class="said">
          <li>{callOut.words}</li>
        </ul>
      )}
      {tested?.delivered === false && (
        <ul class="said">
          <li>
            It did not get through. {tested.words} Change how {who} is called, then send another.
          </li>
        </ul>
      )}
      <p class="form-words" role="alert">
        {sending.words}
      </p>
      <div class="presses">
        {taken ? (
          <>
            <button
              type="button"
              class="main"
              onClick={() => (visit.value = { ...visit.value, testHeard: true })}
            >
              I got it
            </button>
            <button type="button" onClick={send} disabled={sending.busy}>
              {sending.busy ? 'Sending…' : 'It did not come: send another'}
            </button>
          </>
        ) : (
          <button type="button" class="main" onClick={send} disabled={sending.busy}>
            {sending.busy ? 'Sending…' : `Send ${who} a test`}
          </button>
        )}
        {tested !== null && (
          <Link to="/calling" class="button">
            Change how
          </Link>
        )}
      </div>
    </NightFrame>
  );
}

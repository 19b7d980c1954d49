import { useEffect, useState } from 'preact/hooks';
import { Link } from '../house/Link.tsx';
import { get, post } from '../http/api.ts';
import type { CallStep, Now } from '../http/shapes.ts';
import { useSending } from '../look/useForm.ts';
import { visit } from './facts.ts';
import { NightFrame } from './NightFrame.tsx';

/** What the service says of a test: whether the receiver took it, and whether the link in it was used. */
export interface Tested {
  id: string;
  delivered: boolean;
  answered: boolean;
  words: string;
}

const LOOK_EVERY_MS = 2_000;

interface AskTestProps {
  steps: CallStep[];
  callOut: Now['callOut'];
  onDone: () => Promise<void>;
}

/** A test call over the same way as a real one. Taken is not heard: that only the person can say. */
export function AskTest({ steps, callOut, onDone }: AskTestProps) {
  const [tested, setTested] = useState<Tested | null>(null);
  const sending = useSending();
  const taken = tested?.delivered === true;
  const heard = (): void => {
    visit.value = { ...visit.value, testHeard: true };
  };
  const waitsFor = taken ? tested.id : null;
  useEffect(() => {
    if (waitsFor === null) return;
    const look = (): void => {
      get<Tested>(`/api/call-out/tests/${encodeURIComponent(waitsFor)}`).then(
        (test) => test.answered && heard(),
        // Forgotten by the service, or out of reach for a moment: the person can still say so.
        () => undefined,
      );
    };
    const timer = setInterval(look, LOOK_EVERY_MS);
    return () => clearInterval(timer);
  }, [waitsFor]);
  const step = steps[0];
  if (step === undefined || step.id === null) return null;
  const { id, who } = step;
  const send = (): void =>
    void sending.send(async () => {
      setTested(null);
      setTested(await post<Tested>('/api/call-out/tests', { step: id }));
      await onDone();
    });
  return (
    <NightFrame
      step="test"
      question={taken ? `Has it come, ${who}?` : `Will ${who} hear it?`}
      why={
        taken
          ? 'Look at the phone beside your bed. Was it loud enough to wake you? Press the link in it, and this page goes on by itself.'
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
            <button type="button" class="main" onClick={heard}>
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

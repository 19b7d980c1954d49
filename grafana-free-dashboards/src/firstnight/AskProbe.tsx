import { useEffect, useState } from 'preact/hooks';
import { get } from '../http/api.ts';
import type { RejectedMessage } from '../http/shapes.ts';
import { moment } from '../words/times.ts';
import { askBroker, type Broker, exampleTopic, isLocal, USUAL_BROKER } from './broker.ts';
import type { NightState } from './facts.ts';
import { NightFrame } from './NightFrame.tsx';
import { PlaceProbe } from './PlaceProbe.tsx';

interface AskProbeProps {
  state: NightState;
  zone: string;
  at: number;
  onDone: () => Promise<void>;
}

/** Waits for a probe to be heard, and says where it has to speak; as soon as one is, it asks where it is. */
export function AskProbe({ state, zone, at, onDone }: AskProbeProps) {
  const [broker, setBroker] = useState<Broker>(USUAL_BROKER);
  const [rejected, setRejected] = useState<RejectedMessage[]>([]);
  const heard = state.probes.notPlaced;
  useEffect(() => void askBroker().then(setBroker), []);
  useEffect(() => {
    const look = (): void => {
      get<RejectedMessage[]>('/api/rejected-messages').then(setRejected, () => undefined);
      void onDone();
    };
    look();
    // The live events bring a probe at once; this is for the case that they are held up on the way.
    const timer = setInterval(look, 5_000);
    return () => clearInterval(timer);
  }, []);

  if (heard.length > 0) return <PlaceProbe state={state} zone={zone} at={at} onDone={onDone} />;
  const incubator = state.view?.key ?? 'incubator';
  const own = broker.host == null && isLocal(location.hostname);
  const host = own ? 'the address of this computer in your network' : (broker.host ?? location.hostname);
  const [wrong] = rejected;
  return (
    <NightFrame
      step="probe"
      question="Now switch your probe on."
      why="It appears here by itself with its first message. There is nothing to press."
    >
      <p class="waiting" role="status">
        <span class="waiting-mark" aria-hidden="true" />
        Listening…
      </p>
      <dl class="facts">
        <dt>It speaks by MQTT to</dt>
        <dd>
          {own ? host : <code>{host}</code>}, port <code>{broker.port}</code>
        </dd>
        <dt>Topic</dt>
        <dd>
          <code>{exampleTopic(broker.topic, incubator)}</code>
        </dd>
        <dt>Message</dt>
        <dd>
          <code>31.4</code> (a number in °C)
        </dd>
        {broker.user !== null && (
          <>
            <dt>User</dt>
            <dd>
              <code>{broker.user}</code>, with the password from the settings
            </dd>
          </>
        )}
      </dl>
      {broker.beyond === false || broker.beyond === null ? (
        <p class="hint">
          {broker.beyond === false
            ? 'So far it is heard only from the computer the service runs on. '
            : 'If nothing comes: from other machines it is heard only with a user and password. '}
          Set <code>Incubation__Mqtt__User</code> and <code>Incubation__Mqtt__Password</code> there, start the
          service again, and give the probe the same two.
        </p>
      ) : null}
      {wrong !== undefined && (
        <ul class="said">
          <li>
            Something was heard at {moment(Date.parse(wrong.lastAt), at, zone)} but could not be read.{' '}
            {wrong.reason} <code>{wrong.topic}</code>
          </li>
        </ul>
      )}
    </NightFrame>
  );
}

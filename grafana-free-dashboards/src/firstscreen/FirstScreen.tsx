import { AlarmList } from '../alarms/AlarmList.tsx';
import { Room } from '../facility/Room.tsx';
import { Link } from '../house/Link.tsx';
import type { Now } from '../http/shapes.ts';
import { now, serviceNow, trouble } from '../live/now.ts';
import { Headline } from './Headline.tsx';
import { ToDo } from './ToDo.tsx';

export function FirstScreen() {
  const shown = now.value;
  if (shown === null) {
    return (
      <main id="main" class="page">
        <h1>
          {trouble.value === null
            ? 'Asking how the incubators are…'
            : 'It is not known how the incubators are.'}
        </h1>
      </main>
    );
  }
  return <FirstScreenOf shown={shown} at={serviceNow.value} />;
}

export function FirstScreenOf({ shown, at }: { shown: Now; at: number }) {
  const others = shown.alarms.filter((a) => a.occurrence !== shown.headline.occurrence);
  const empty = shown.incubators.length === 0;
  return (
    <main id="main" class="page first-screen">
      <Headline shown={shown} at={at} />
      {!shown.callOut.reachable && !empty && (
        <div class="caution" role="note">
          <p>
            <strong>Nobody would be called.</strong> {shown.callOut.words}
          </p>
          <Link to="/calling" class="button quiet">
            Say who is called
          </Link>
        </div>
      )}
      <AlarmList
        alarms={others}
        title={others.length === 1 ? 'One more alarm' : `${others.length} more alarms`}
        at={at}
        zone={shown.zone}
      />
      {empty ? (
        <EmptyRoom notPlaced={shown.notPlaced} />
      ) : (
        <Room name={shown.facility} incubators={shown.incubators} />
      )}
      {!empty && shown.notPlaced > 0 && (
        <div class="caution mild" role="note">
          <p>
            {shown.notPlaced === 1
              ? 'One probe is heard but not yet placed. Nothing is judged by it.'
              : `${shown.notPlaced} probes are heard but not yet placed. Nothing is judged by them.`}
          </p>
          <Link to="/probes" class="button quiet">
            {shown.notPlaced === 1 ? 'Place it' : 'Place them'}
          </Link>
        </div>
      )}
      <ToDo items={shown.toDo} />
    </main>
  );
}

function EmptyRoom({ notPlaced }: { notPlaced: number }) {
  return (
    <section class="empty-room" aria-label="How to begin">
      <ol class="steps">
        <li>
          <strong>Name the first incubator.</strong> It starts with a band of 30.5 to 32.5 °C, which you can
          change.
        </li>
        <li>
          <strong>Let a probe speak.</strong>{' '}
          {notPlaced > 0
            ? `${notPlaced === 1 ? 'One is' : `${notPlaced} are`} heard already and can be placed.`
            : 'It publishes a number to incubation/{incubator}/{probe}/temperature by MQTT, and appears here by itself.'}
        </li>
        <li>
          <strong>Say who is called,</strong> and send a test call to be sure that it rings.
        </li>
      </ol>
      <div class="presses">
        <Link to="/first-night" class="button main">
          Begin: one question at a time
        </Link>
        {notPlaced > 0 && (
          <Link to="/probes" class="button quiet">
            See the probes
          </Link>
        )}
      </div>
    </section>
  );
}

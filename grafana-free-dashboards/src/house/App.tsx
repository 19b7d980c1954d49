import { effect } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { CallingPage } from '../calling/CallingPage.tsx';
import { showLight } from '../candling/light.ts';
import { FirstScreen } from '../firstscreen/FirstScreen.tsx';
import { titleOf } from '../firstscreen/title.ts';
import { signedOutCount } from '../http/api.ts';
import { keepLive, now, stale } from '../live/now.ts';
import { StaleBar } from '../live/StaleBar.tsx';
import { ClaimPage } from '../people/ClaimPage.tsx';
import { PhonePage } from '../people/PhonePage.tsx';
import { SignInPage } from '../people/SignInPage.tsx';
import { askSession, session, sessionTrouble } from '../people/session.ts';
import { ProbesPage } from '../probes/ProbesPage.tsx';
import { deferred } from './deferred.tsx';
import { Link } from './Link.tsx';
import { Nav } from './Nav.tsx';
import { nightPageOf } from './nightRoutes.tsx';
import { readingPageOf } from './readingRoutes.tsx';
import { followHistory, pageOf, path } from './route.ts';

// The chart is the heaviest part and not on the first screen, so it is fetched when it is looked at.
const IncubatorPage = deferred(() => import('../facility/IncubatorPage.tsx').then((m) => m.IncubatorPage));
const ClutchesPage = deferred(() => import('../clutches/ClutchesPage.tsx').then((m) => m.ClutchesPage));
const ClutchPage = deferred(() => import('../clutches/ClutchPage.tsx').then((m) => m.ClutchPage));

export function App() {
  useEffect(() => {
    showLight();
    const stopHistory = followHistory();
    const stopTitle = effect(() => {
      document.title = session.value?.state === 'signed in' ? titleOf(now.value, stale.value) : 'Incubation';
    });
    let first = true;
    const stopSession = effect(() => {
      signedOutCount.value;
      if (!first) void askSession();
      first = false;
    });
    void askSession();
    return () => {
      stopHistory();
      stopTitle();
      stopSession();
    };
  }, []);

  const who = session.value;
  if (who === null) return <Waiting words={sessionTrouble.value} />;
  if (who.state === 'unclaimed') return <ClaimPage />;
  if (who.state === 'signed out') return <SignInPage facility={who.facility} />;
  return <House demo={who.demo} />;
}

function House({ demo }: { demo: boolean }) {
  useEffect(() => keepLive(), []);
  return (
    <div class={`house ${stale.value ? 'stale' : ''}`}>
      <a class="skip" href="#main">
        To the content
      </a>
      {demo && (
        <p class="demo-bar">
          A demo: the facility is invented, the messages are real. Nobody is called beyond this computer.
        </p>
      )}
      <StaleBar />
      <CurrentPage />
      <Nav notPlaced={now.value?.notPlaced ?? 0} />
    </div>
  );
}

function CurrentPage() {
  const night = nightPageOf(path.value);
  if (night !== null) return night;
  const reading = readingPageOf(path.value);
  if (reading !== null) return reading;
  const at = pageOf(path.value);
  switch (at.page) {
    case 'first':
      return <FirstScreen />;
    case 'incubator':
      return <IncubatorPage key={at.key} incubator={at.key} />;
    case 'clutches':
      return <ClutchesPage />;
    case 'clutch':
      return <ClutchPage key={at.key} clutch={at.key} />;
    case 'probes':
      return <ProbesPage />;
    case 'calling':
      return <CallingPage />;
    case 'phone':
      return <PhonePage />;
    case 'none':
      return (
        <main id="main" class="page">
          <h1>There is no such page.</h1>
          <p>
            <Link to="/" class="button quiet">
              To the room
            </Link>
          </p>
        </main>
      );
  }
}

function Waiting({ words }: { words: string | null }) {
  return (
    <main id="main" class="page alone">
      <h1>{words === null ? 'One moment…' : 'The service does not answer.'}</h1>
      {words !== null && (
        <>
          <p class="next">{words}</p>
          <button type="button" class="main" onClick={() => void askSession()}>
            Try again
          </button>
        </>
      )}
    </main>
  );
}

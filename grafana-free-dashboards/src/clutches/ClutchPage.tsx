import './clutches.css';
import '../development/strip.css';
import './eggplan/eggplan.css';
import '../candling/candling.css';
import { useEffect, useState } from 'preact/hooks';
import { OutboxBar } from '../candling/OutboxBar.tsx';
import { keepSending } from '../candling/outbox.ts';
import { Forecast } from '../development/Forecast.tsx';
import { LifeStrip } from '../development/LifeStrip.tsx';
import { PairingPart } from '../genetics/PairingPart.tsx';
import { Link } from '../house/Link.tsx';
import { now } from '../live/now.ts';
import { session } from '../people/session.ts';
import { AlarmHint } from './AlarmHint.tsx';
import { Bench } from './Bench.tsx';
import { ClutchDetails } from './ClutchDetails.tsx';
import { PlacesPart } from './PlacesPart.tsx';
import { useClutch } from './useClutch.ts';

export function ClutchPage({ clutch: key }: { clutch: string }) {
  const data = useClutch(key);
  const [egg, setEgg] = useState<number | null>(null);
  useEffect(() => keepSending(), []);
  const { page, strip, trouble } = data;
  const zone = now.value?.zone ?? session.value?.zone ?? 'UTC';
  if (page === null) {
    return (
      <main id="main" class="page">
        <Back />
        <h1>{trouble ?? 'Asking for the clutch…'}</h1>
        {trouble !== null && (
          <div class="presses">
            <button type="button" class="quiet" onClick={() => void data.reload()}>
              Try again
            </button>
            <Link to="/clutches" class="button quiet">
              To all clutches
            </Link>
          </div>
        )}
      </main>
    );
  }
  const { clutch } = page;
  const over = clutch.state === 'finished';
  return (
    <main id="main" class={`page clutch-page ${egg === null ? '' : 'at-egg'}`}>
      <div class="aside">
        <Back />
      </div>
      <AlarmHint incubator={clutch.incubator} />
      <header class="headline aside">
        <h1>{page.sentence}</h1>
        {page.next !== null && <p class="next">{page.next}</p>}
        <div class="presses">
          <Link to={`/clutches/${encodeURIComponent(key)}/review`} class="button quiet">
            What it went through
          </Link>
        </div>
      </header>
      {trouble !== null && <p class="muted">As last heard. {trouble}</p>}
      <OutboxBar />
      {page.said.length > 0 && (
        <ul class="said aside">
          {page.said.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      )}
      {strip !== null && (
        <section class="aside" aria-label="From laying to pip">
          <LifeStrip strip={strip} zone={zone} today={over ? null : clutch.day} />
        </section>
      )}
      <Bench data={data} page={page} zone={zone} egg={egg} onEgg={setEgg} />
      <div class="parts aside">
        {page.forecast !== null && <Forecast forecast={page.forecast} words={page.forecastWords} />}
        <PairingPart page={page} tints={data.tints} onSaved={data.reload} />
        <PlacesPart page={page} zone={zone} />
        <ClutchDetails page={page} onSaved={data.reload} />
        {page.cautions.length > 0 && (
          <section class="part" aria-labelledby="cautions">
            <h2 id="cautions">Take care</h2>
            <ul class="caution-list">
              {page.cautions.map((words) => (
                <li key={words}>{words}</li>
              ))}
            </ul>
          </section>
        )}
      </div>
    </main>
  );
}

function Back() {
  return (
    <p class="back">
      <Link to="/clutches" class="back-link">
        ← All clutches
      </Link>
    </p>
  );
}

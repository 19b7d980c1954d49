import '../readings/readings.css';
import 'uplot/dist/uPlot.min.css';
import { useEffect, useState } from 'preact/hooks';
import { AirPart } from '../air/AirPart.tsx';
import { AlarmList, alarmSentence } from '../alarms/AlarmList.tsx';
import { AnswerButton } from '../alarms/AnswerButton.tsx';
import { CareButtons } from '../care/CareButtons.tsx';
import { Link } from '../house/Link.tsx';
import { get, wordsOf } from '../http/api.ts';
import type { IncubatorView } from '../http/shapes.ts';
import { now, serviceNow } from '../live/now.ts';
import { Shape } from '../look/Shape.tsx';
import { ProbeCard } from '../probes/ProbeCard.tsx';
import { Histories } from '../readings/Histories.tsx';
import { worstFirst } from '../words/standing.ts';
import { BandEditor } from './BandEditor.tsx';
import { cabinetSeverity } from './Cabinet.tsx';
import { NameAndPlace } from './NameAndPlace.tsx';
import { incubatorSentence, nextSentence } from './sentence.ts';

export function IncubatorPage({ incubator: key }: { incubator: string }) {
  const [view, setView] = useState<IncubatorView | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const load = async (): Promise<void> => {
    try {
      setView(await get<IncubatorView>(`/api/incubators/${encodeURIComponent(key)}`));
      setTrouble(null);
    } catch (cause) {
      setTrouble(wordsOf(cause));
    }
  };
  const at = now.value?.at;
  useEffect(() => void load(), [key, at]);

  const shown = now.value;
  const standing = shown?.incubators.find((i) => i.key === key);
  const name = view?.name ?? standing?.name ?? key;
  const severity = standing === undefined ? 'unknown' : cabinetSeverity(standing);
  const [worst, ...others] = worstFirst(standing?.alarms ?? []);
  const zone = shown?.zone ?? 'UTC';
  return (
    <main id="main" class="page">
      <p class="back">
        <Link to="/" class="back-link">
          ← The room
        </Link>
      </p>
      <header class={`headline ${severity}`}>
        {severity !== 'calm' && (
          <p class="tone">
            <Shape tone={severity} large />
            <span>{severity === 'unknown' ? 'Not known' : severity === 'danger' ? 'Danger' : 'Warning'}</span>
          </p>
        )}
        <h1>{standing === undefined ? name : incubatorSentence(standing)}</h1>
        <p class="next">{standing === undefined ? (trouble ?? 'Asking…') : nextSentence(standing)}</p>
        {worst !== undefined && (
          <>
            <p>{alarmSentence(worst, serviceNow.value, zone)}</p>
            <AnswerButton alarm={worst} at={serviceNow.value} zone={zone} main />
          </>
        )}
      </header>
      {standing !== undefined && (
        <AlarmList alarms={others} title="What else stands here" at={serviceNow.value} zone={zone} />
      )}
      <Histories
        incubator={key}
        quantities={standing?.quantities.map((q) => q.quantity).filter((q) => q !== 'door') ?? []}
        zone={zone}
      />
      <AirPart incubator={key} />
      {view !== null && (
        <>
          <p>
            <Link to={`/incubators/${encodeURIComponent(key)}/run-in`} class="button">
              Try it out before eggs go in
            </Link>
          </p>
          <CareButtons on="incubator" keyOf={key} />
          <section class="part" aria-labelledby="probes-in-it">
            <h2 id="probes-in-it">Probes in it</h2>
            {view.probes.length === 0 ? (
              <p>
                None yet. <Link to="/probes">See which are heard and place one.</Link>
              </p>
            ) : (
              <ul class="probe-list">
                {view.probes.map((probe) => (
                  <ProbeCard key={probe.key} probe={probe} zone={zone} at={serviceNow.value} />
                ))}
              </ul>
            )}
          </section>
          <section class="part" aria-labelledby="bands">
            <h2 id="bands">The band it is to stay in</h2>
            {Object.entries({ temperature: null, humidity: null, ...view.bands }).map(([quantity, band]) => (
              <BandEditor key={quantity} incubator={key} quantity={quantity} band={band} onSaved={load} />
            ))}
          </section>
          <NameAndPlace key={`${view.name} ${view.position}`} view={view} />
        </>
      )}
    </main>
  );
}

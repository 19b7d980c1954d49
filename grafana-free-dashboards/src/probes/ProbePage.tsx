import '../readings/readings.css';
import 'uplot/dist/uPlot.min.css';
import './probe.css';
import { Link } from '../house/Link.tsx';
import type { ProbeView } from '../http/shapes.ts';
import { now, serviceNow } from '../live/now.ts';
import { Histories } from '../readings/Histories.tsx';
import { quantityWord } from '../words/standing.ts';
import { moment } from '../words/times.ts';
import { amount } from '../words/units.ts';
import { CalibrationList } from './CalibrationList.tsx';
import { Evidence } from './Evidence.tsx';
import { PlaceForm } from './PlaceForm.tsx';
import { heardWords, placeParts, unitIn } from './ProbeCard.tsx';
import { RenameForm } from './RenameForm.tsx';
import { isOwn, marksOf } from './rank.ts';
import { SeenButton } from './SeenButton.tsx';
import { SinceLookedLine } from './SinceLookedLine.tsx';
import { TakeOut } from './TakeOut.tsx';
import { useProbes, useTubs } from './useProbes.ts';
import { measuredWords, ownFacts, probeSentence } from './words.ts';

export function ProbePage({ probe: key }: { probe: string }) {
  const { probes, trouble, load } = useProbes();
  const probe = [...(probes?.placed ?? []), ...(probes?.notPlaced ?? [])].find((p) => p.key === key);
  return (
    <main id="main" class="page">
      <p class="back">
        <Link to="/probes" class="back-link">
          ← The probes
        </Link>
      </p>
      {probe === undefined ? (
        <h1>{trouble ?? (probes === null ? 'One moment…' : `No probe ${key} was ever heard.`)}</h1>
      ) : (
        <OfProbe probe={probe} load={load} />
      )}
    </main>
  );
}

function OfProbe({ probe, load }: { probe: ProbeView; load: () => Promise<void> }) {
  const tubs = useTubs();
  const zone = now.value?.zone ?? 'UTC';
  const at = serviceNow.value;
  const main = probe.series.filter((s) => !isOwn(s));
  const marks = marksOf(probe);
  const facts = ownFacts(probe, at, zone);
  return (
    <>
      <header class="headline">
        <h1>{probeSentence(probe)}</h1>
        <p class="next">{placeWords(probe, at, zone)}</p>
      </header>
      <Evidence troubles={probe.troubles ?? []} unitOf={(q) => unitIn(probe, q)} zone={zone} at={at} />
      {marks.length > 0 && (
        <ul class="marks" aria-label="Marks">
          {marks.map((mark) => (
            <li key={mark}>{mark}</li>
          ))}
        </ul>
      )}
      <section class="part" aria-labelledby="says">
        <h2 id="says">What it says</h2>
        <ul class="probe-says">
          {main.map((series) => (
            <li key={series.quantity}>
              <span class="label">{quantityWord(series.quantity)}</span>
              <span>
                <span class={`probe-value ${series.quality}`}>
                  {amount(series.quality === 'good' ? series.value : null, series.quantity, series.unit)}
                </span>{' '}
                <span class="muted">{heardWords(series, at, zone)}</span>
              </span>
              {measuredWords(series) !== null && <span class="muted">{measuredWords(series)}</span>}
              <SinceLookedLine series={series} at={at} zone={zone} times />
            </li>
          ))}
        </ul>
        {facts.length > 0 && <p class="probe-facts">{facts.join(' · ')}</p>}
        <SeenButton probes={[probe]} word="Seen" onSeen={load} />
      </section>
      {probe.incubator === null ? (
        <p class="muted">Its course can be drawn once it is placed.</p>
      ) : (
        <Histories
          incubator={probe.incubator}
          quantities={main.map((s) => s.quantity).filter((q) => q !== 'door')}
          zone={zone}
          probe={probe.key}
        />
      )}
      <section class="part" aria-labelledby="calibrations">
        <h2 id="calibrations">Held against something known</h2>
        <CalibrationList probe={probe} zone={zone} at={at} />
        <p>
          <Link to={`/probes/${encodeURIComponent(probe.key)}/calibrate`} class="button main">
            Calibrate it
          </Link>
        </p>
      </section>
      <details class="part" open={probe.incubator === null}>
        <summary>{probe.incubator === null ? 'Place it' : 'Move or rename it'}</summary>
        <PlaceForm probe={probe} incubators={now.value?.incubators ?? []} tubs={tubs} onPlaced={load} />
        {probe.incubator !== null && <TakeOut probe={probe} onTaken={load} />}
        <RenameForm probe={probe} onNamed={load} />
      </details>
    </>
  );
}

function placeWords(probe: ProbeView, at: number, zone: string): string {
  if (probe.incubator === null) return 'It is heard, and not yet placed: nothing is judged by it.';
  const since =
    probe.placedSince === null ? '' : `, since ${moment(Date.parse(probe.placedSince), at, zone)}`;
  return `In ${[probe.incubatorName ?? probe.incubator, ...placeParts(probe)].join(', ')}${since}.`;
}

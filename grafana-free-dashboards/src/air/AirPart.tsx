import { useEffect, useState } from 'preact/hooks';
import { get } from '../http/api.ts';
import type { Air } from '../http/probeShapes.ts';
import { now } from '../live/now.ts';
import { amount, number } from '../words/units.ts';

/** What the air in an incubator does to eggs and lids, in plain words, with how far it is in doubt. */
export function AirPart({ incubator }: { incubator: string }) {
  const [air, setAir] = useState<Air | null>(null);
  const asOf = now.value?.at;
  useEffect(() => {
    let current = true;
    get<Air>(`/api/incubators/${encodeURIComponent(incubator)}/air`).then(
      (found) => current && setAir(found),
      // Without a humidity that is heard there is nothing to say of the air, and the page says so elsewhere.
      () => current && setAir(null),
    );
    return () => {
      current = false;
    };
  }, [incubator, asOf]);
  if (air === null || typeof air.dewPoint !== 'number') return null;
  const { spread } = air;
  const degrees = (v: number): string => amount(v, 'temperature', 'Cel');
  return (
    <section class="part" aria-labelledby="air">
      <h2 id="air">The air in it</h2>
      <p class="air-words">{air.words}</p>
      <dl class="air">
        <Fact
          name="Dew point"
          why="what is cooler than this gets wet"
          value={degrees(air.dewPoint)}
          doubt={spread?.dewPoint ?? null}
          say={degrees}
        />
        <Fact
          name="Vapour pressure deficit"
          why="how hard the air draws water out of the eggs"
          value={unit(air.vapourPressureDeficit, 2, 'kPa')}
          doubt={spread?.vapourPressureDeficit ?? null}
          say={(v) => unit(v, 2, 'kPa')}
        />
        <Fact
          name="Water in the air"
          why="grams in a cubic metre"
          value={unit(air.absoluteHumidity, 1, 'g/m³')}
          doubt={spread?.absoluteHumidity ?? null}
          say={(v) => unit(v, 1, 'g/m³')}
        />
      </dl>
      <p class="muted small-print">
        Reckoned from {degrees(air.celsius)} and {amount(air.humidity, 'humidity', '%RH')}
        {air.probe === null ? '' : ` of ${air.probe}`}. Near saturation a humidity sensor is in most doubt.
      </p>
    </section>
  );
}

interface FactProps {
  name: string;
  why: string;
  value: string;
  doubt: { low: number; high: number } | null;
  say: (v: number) => string;
}

function Fact({ name, why, value, doubt, say }: FactProps) {
  return (
    <div>
      <dt>
        {name}
        <small>{why}</small>
      </dt>
      <dd>
        <strong>{value}</strong>
        {doubt !== null && (
          <span class="muted">
            between {say(doubt.low)} and {say(doubt.high)}
          </span>
        )}
      </dd>
    </div>
  );
}

const unit = (v: number, places: number, word: string): string => `${number(v, places)}\u00a0${word}`;

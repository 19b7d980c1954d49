import { Fragment } from 'preact';
import { Link } from '../house/Link.tsx';
import type { IncubatorNow, QuantityNow } from '../http/shapes.ts';
import { Shape } from '../look/Shape.tsx';
import { quantityWord, type Severity, severityOf, standingWords } from '../words/standing.ts';
import { amount } from '../words/units.ts';
import { LevelView } from './LevelView.tsx';
import { ThermometerView } from './ThermometerView.tsx';
import { Tubs } from './Tubs.tsx';

export type CabinetSize = 'large' | 'medium' | 'small';

const ORDER: Severity[] = ['danger', 'warning', 'unknown', 'calm'];

/** The worst of its quantities and of its standing alarms; an incubator nothing is heard from is unknown, never calm. */
export function cabinetSeverity(incubator: IncubatorNow): Severity {
  if (incubator.quantities.length === 0) return 'unknown';
  const all: Severity[] = incubator.quantities.map(severityOf);
  for (const alarm of incubator.alarms) {
    if (alarm.state !== 'returned to normal, unacknowledged') all.push(alarm.severity);
  }
  return ORDER.find((s) => all.includes(s)) ?? 'calm';
}

const HEIGHT: Record<CabinetSize, number> = { large: 128, medium: 104, small: 64 };

export function Cabinet({ incubator, size }: { incubator: IncubatorNow; size: CabinetSize }) {
  const severity = cabinetSeverity(incubator);
  const temperature =
    incubator.quantities.find((q) => q.quantity === 'temperature') ?? incubator.quantities[0];
  const clutches = incubator.clutches ?? [];
  const others = incubator.quantities.filter((q) => q !== temperature);
  return (
    <li class="cabinet-place">
      <div class={`cabinet ${size} ${severity}`}>
        <Link to={`/incubators/${encodeURIComponent(incubator.key)}`} class="cabinet-face">
          <span class="cabinet-name">{incubator.name}</span>
          {temperature === undefined ? (
            <span class="cabinet-words">No probe is placed in it.</span>
          ) : (
            <>
              <ThermometerView now={temperature} height={HEIGHT[size]} figures={size !== 'small'} />
              <Figure now={temperature} main />
              {others.map((q) => (
                <Fragment key={q.quantity}>
                  <Figure now={q} main={false} />
                  {size !== 'small' && <LevelView now={q} />}
                </Fragment>
              ))}
            </>
          )}
        </Link>
        {clutches.length > 0 && size !== 'small' && <Tubs clutches={clutches} />}
        {clutches.length > 0 && size === 'small' && <p class="cabinet-clutches">{clutchesWords(clutches)}</p>}
      </div>
    </li>
  );
}

function clutchesWords(clutches: readonly { eggs: { laid: number } }[]): string {
  const eggs = clutches.reduce((sum, c) => sum + c.eggs.laid, 0);
  return `${clutches.length === 1 ? '1 clutch' : `${clutches.length} clutches`}, ${eggs} eggs`;
}

function Figure({ now, main }: { now: QuantityNow; main: boolean }) {
  const severity = severityOf(now);
  return (
    <span class={`figure ${main ? 'main' : ''} ${severity}`}>
      <span class="figure-value">
        <span class="unseen">{quantityWord(now.quantity)} </span>
        {amount(now.quality === 'good' ? now.value : null, now.quantity, now.unit)}
      </span>
      {severity !== 'calm' || now.standing === 'not judged' ? (
        <span class="figure-words">
          {severity !== 'calm' && <Shape tone={severity} down={now.standing.endsWith('low')} />}
          {standingWords(now)}
        </span>
      ) : (
        <span class="unseen">, {standingWords(now)}</span>
      )}
    </span>
  );
}

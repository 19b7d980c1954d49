import { Link } from '../house/Link.tsx';
import type { ClutchLine } from '../http/clutchShapes.ts';
import { Shape } from '../look/Shape.tsx';
import { ClutchBar } from './ClutchBar.tsx';
import { LittleEggs } from './LittleEggs.tsx';
import { countWords, dateWords, pipWords, stageWords, whereWords } from './words.ts';

/** A line of the list: the eggs as they glow, how far, where, and whether anyone would be called. */
export function ClutchItem({ line }: { line: ClutchLine }) {
  const over = line.state === 'finished';
  const stage = stageWords(line.stage);
  const pip = pipWords(line);
  return (
    <li>
      <Link to={`/clutches/${encodeURIComponent(line.key)}`} class={`clutch-item ${line.state}`}>
        <LittleEggs eggs={line.tints} />
        <span class="clutch-name">
          <strong>{line.label}</strong> <span class="muted">{line.speciesName}</span>
        </span>
        <span class="clutch-how">
          <span class="clutch-eggs">{countWords(line)}</span>
          <span class="muted">
            {line.dam}
            {line.sire === null ? '' : ` × ${line.sire}`}
          </span>
        </span>
        {over ? (
          <span class="clutch-far muted">
            laid {dateWords(line.layDate)} {line.layDate.slice(0, 4)}
          </span>
        ) : (
          <span class="clutch-far">
            <span class="clutch-day">
              <span>
                day {line.day}
                {stage !== null && `, ${stage} of the way`}
              </span>
              {pip !== null && <span class="pip-word">{pip}</span>}
            </span>
            <ClutchBar stage={line.stage} />
          </span>
        )}
        {!over && (
          <span class={`clutch-where ${line.watched ? '' : 'dark'}`}>
            {!line.watched && <Shape tone="unknown" />}
            <span>
              {whereWords(line)}
              {line.watched ? '' : ', not watched'}
            </span>
          </span>
        )}
      </Link>
    </li>
  );
}

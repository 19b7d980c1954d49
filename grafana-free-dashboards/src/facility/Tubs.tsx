import { ClutchBar } from '../clutches/ClutchBar.tsx';
import { LittleEggs } from '../clutches/LittleEggs.tsx';
import { countWords, pipWords } from '../clutches/words.ts';
import { Link } from '../house/Link.tsx';
import type { ClutchLine } from '../http/clutchShapes.ts';

/** The tubs on a cabinet's shelves: the eggs where they lie, in the colour they glowed, and how far they are. */
export function Tubs({ clutches }: { clutches: readonly ClutchLine[] }) {
  return (
    <ul class="tubs">
      {clutches.map((clutch) => (
        <li key={clutch.key} class="tub-place">
          <Link to={`/clutches/${encodeURIComponent(clutch.key)}`} class="tub-link">
            <LittleEggs eggs={clutch.tints} />
            <ClutchBar stage={clutch.stage} />
            <span class="tub-words">
              <span>
                <span class="unseen">Clutch </span>
                {clutch.label}
              </span>{' '}
              <span class="muted">
                day {clutch.day}
                <span class="unseen">: {heldWords(clutch)}</span>
              </span>
            </span>
          </Link>
        </li>
      ))}
    </ul>
  );
}

/** What the drawing shows, for whoever does not see it. */
function heldWords(clutch: ClutchLine): string {
  return [countWords(clutch), pipWords(clutch)].filter((w) => w !== null).join(', ');
}

import { useEffect, useRef, useState } from 'preact/hooks';
import { CandlingPanel } from '../candling/CandlingPanel.tsx';
import { nextEgg, roundOf, takenBack } from '../candling/draft.ts';
import { enter } from '../candling/outbox.ts';
import { RedLight } from '../candling/RedLight.tsx';
import { put } from '../http/api.ts';
import type { ClutchPageView, EggView } from '../http/clutchShapes.ts';
import { useSending } from '../look/useForm.ts';
import { AddEgg } from './eggplan/AddEgg.tsx';
import { EggPlan, TUB } from './eggplan/EggPlan.tsx';
import { PhotoButton, usePhoto } from './eggplan/Photo.tsx';
import { StuckButton } from './eggplan/StuckButton.tsx';
import type { ClutchData } from './useClutch.ts';
import { countWords } from './words.ts';

interface BenchProps {
  data: ClutchData;
  page: ClutchPageView;
  zone: string;
  egg: number | null;
  onEgg: (number: number | null) => void;
}

/** The tub and the egg in hand, side by side on a desk, one over the other on a phone. */
export function Bench({ data, page, zone, egg, onEgg }: BenchProps) {
  const { clutch } = page;
  const [places, setPlaces] = useState<EggView[] | null>(null);
  const [clump, setClump] = useState(false);
  const [held, setHeld] = useState<number | null>(null);
  const [enlarged, setEnlarged] = useState(false);
  const [saved, setSaved] = useState<{ id: string; egg: number } | null>(null);
  const leaving = useRef<(() => boolean) | null>(null);
  const top = useRef<HTMLElement>(null);
  const sending = useSending();
  const photo = usePhoto(clutch.key, page.photoAt, data.reload);
  const at = Date.now();
  const eggs = places ?? page.eggs;
  const inHand = page.eggs.find((e) => e.number === egg) ?? null;
  const next = nextEgg(page.eggs, egg, at);
  const round = roundOf(page.eggs, at);

  const take = (number: number | null): void => {
    if (egg !== null && number !== egg && leaving.current?.() === false) return;
    onEgg(number);
  };
  useEffect(() => {
    if (egg !== null && window.matchMedia?.('(max-width: 60rem)').matches) top.current?.scrollIntoView();
  }, [egg]);
  const savePlaces = (): void => {
    if (places === null) return;
    void sending.send(async () => {
      const plan = places.map(({ number, x, y, clump }) => ({ number, x, y, clump }));
      await put(`/api/clutches/${encodeURIComponent(clutch.key)}/plan`, { eggs: plan });
      await data.reload();
      setPlaces(null);
    });
  };
  const undo = (): void => {
    if (saved === null) return;
    const { id, body } = takenBack(saved, new Date());
    void enter({ clutch: clutch.key, kind: 'candlings', id, body });
    setSaved(null);
  };
  return (
    <section ref={top} class="bench" aria-label="The tub and the egg in hand">
      <div class="bench-plan">
        <header class="bench-head">
          <div class="aside">
            <h2>{placeWords(page)}</h2>
            <p class="muted">{countWords(clutch)}</p>
          </div>
          {places === null && (
            <div class="presses plan-presses">
              <button
                type="button"
                class="quiet small"
                aria-pressed={enlarged}
                onClick={() => setEnlarged(!enlarged)}
              >
                {enlarged ? 'The whole tub' : 'Enlarge'}
              </button>
              <RedLight />
            </div>
          )}
        </header>
        {page.eggs.length === 0 ? (
          <p>No egg is on the plan yet.</p>
        ) : (
          <EggPlan
            eggs={eggs}
            chosen={egg}
            photo={photo.shown}
            enlarged={enlarged}
            arrange={places === null ? null : { clump, held, onHold: setHeld, onMove: setPlaces }}
            onEgg={take}
          />
        )}
        <div class="presses plan-presses">
          {places === null ? (
            egg === null && (
              <details class="plan-more">
                <summary>More with the plan</summary>
                <div class="presses">
                  <button type="button" class="quiet" onClick={() => setPlaces([...page.eggs])}>
                    Arrange the eggs
                  </button>
                  <PhotoButton photo={photo} />
                  <AddEgg clutch={clutch.key} eggs={page.eggs} onSaved={data.reload} />
                </div>
              </details>
            )
          ) : (
            <>
              <button type="button" class="main" disabled={sending.busy} onClick={savePlaces}>
                Save the places
              </button>
              <button type="button" class="quiet" onClick={() => setPlaces(null)}>
                Leave it as it was
              </button>
              <button type="button" class="quiet" aria-pressed={clump} onClick={() => setClump(!clump)}>
                {clump ? 'Moving the whole clump' : 'Moving single eggs'}
              </button>
              {held !== null && (
                <StuckButton
                  eggs={places}
                  egg={held}
                  aspect={photo.shown?.aspect ?? TUB}
                  onChange={setPlaces}
                />
              )}
              <p class="hint">
                Drag each egg to where it lies, or choose it and use the arrow keys. Only the drawing is
                moved: do not turn the eggs.
              </p>
            </>
          )}
        </div>
        <p class="form-words" role="alert">
          {sending.words ?? photo.words}
          {sending.errors.eggs?.map((w) => ` ${w}`)}
        </p>
        <p class="saved-words" role="status">
          {saved !== null && (
            <>
              Egg {saved.egg} is entered.{' '}
              <button type="button" class="quiet small" onClick={undo}>
                Undo
              </button>
            </>
          )}
        </p>
      </div>
      {inHand !== null && places === null ? (
        <CandlingPanel
          key={inHand.number}
          clutch={clutch.key}
          egg={inHand}
          tints={data.tints}
          pairings={page.pairings}
          hatching={clutch.state === 'hatching'}
          next={next}
          zone={zone}
          round={round}
          onEgg={onEgg}
          onSaved={setSaved}
          leaving={leaving}
        />
      ) : (
        places === null && <BeginPart page={page} next={next} round={round} onEgg={onEgg} />
      )}
    </section>
  );
}

function BeginPart({
  page,
  next,
  round,
  onEgg,
}: {
  page: ClutchPageView;
  next: EggView | null;
  round: { done: number; of: number };
  onEgg: (number: number) => void;
}) {
  if (page.clutch.state === 'finished') {
    return (
      <div class="begin">
        <p>It is finished. Tap an egg to read what was seen of it.</p>
      </div>
    );
  }
  return (
    <div class="begin">
      {next === null ? (
        <p>Every egg has been looked at in this round. Tap one to look again.</p>
      ) : (
        <>
          <button type="button" class="main" onClick={() => onEgg(next.number)}>
            {round.done === 0 ? `Candle them, egg ${next.number} first` : `Go on with egg ${next.number}`}
          </button>
          <p class="muted">
            {round.done > 0 && `${round.done} of ${round.of} are looked at. `}
            Or tap any egg. Keep it the way up it lies, and as short under the lamp as will do.
          </p>
        </>
      )}
    </div>
  );
}

function placeWords({ placements, clutch }: ClutchPageView): string {
  const here = placements.find((p) => p.until === null) ?? placements.at(-1);
  if (here === undefined) return `${clutch.label} lies in no tub yet`;
  return [here.tubName, here.incubatorName ?? 'in no incubator', here.shelf]
    .filter((w) => w !== null)
    .join(', ');
}

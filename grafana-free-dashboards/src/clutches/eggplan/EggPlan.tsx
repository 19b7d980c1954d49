import { useId, useRef, useState } from 'preact/hooks';
import { redLight } from '../../candling/light.ts';
import type { EggView } from '../../http/clutchShapes.ts';
import { useWidth } from '../../look/useWidth.ts';
import { drawable, mixed } from '../../tint/colour.ts';
import { eggName } from '../words.ts';
import { EggShape } from './EggShape.tsx';
import { bridges, byNumber, clumpOf, eggAt, eggSize, moved, stuckTo } from './plan.ts';
import { lookOf } from './shape.ts';

interface EggPlanProps {
  eggs: readonly EggView[];
  chosen: number | null;
  photo: { src: string; aspect: number } | null;
  enlarged: boolean;
  /** Null while looking; otherwise eggs are dragged, and with `clump` what touches an egg moves with it. */
  arrange: {
    clump: boolean;
    held: number | null;
    onHold: (number: number) => void;
    onMove: (eggs: EggView[]) => void;
  } | null;
  onEgg: (number: number) => void;
}

/** A tub is drawn this much wider than deep, unless a photo of it says otherwise. */
export const TUB = 1.42;
const STEP = 0.015;
const PADDING = 6;

/** The tub from above. The drawing is for the eye; over it lies a button for every egg, named in full. */
export function EggPlan({ eggs, chosen, photo, enlarged, arrange, onEgg }: EggPlanProps) {
  const id = useId();
  const host = useRef<HTMLDivElement>(null);
  const box = useRef<HTMLElement>(null);
  const drag = useRef<{ x: number; y: number; which: Set<number>; start: EggView[] } | null>(null);
  const [dragging, setDragging] = useState(false);
  const seen = useWidth(host);
  const width = enlarged ? Math.max(seen * 2, 640) : seen;
  const aspect = photo?.aspect ?? TUB;
  const height = Math.round(width / aspect);
  const size = eggSize(eggs, aspect);
  const [rx, ry] = [size.rx * (width - 2 * PADDING), size.ry * (width - 2 * PADDING)];
  const px = (share: number): number => PADDING + share * (width - 2 * PADDING);
  const py = (share: number): number => PADDING + share * (height - 2 * PADDING);
  const shareAt = (event: { clientX: number; clientY: number }): { x: number; y: number } => {
    const at = box.current?.getBoundingClientRect();
    return at === undefined
      ? { x: 0, y: 0 }
      : {
          x: (event.clientX - at.left - PADDING) / (width - 2 * PADDING),
          y: (event.clientY - at.top - PADDING) / (height - 2 * PADDING),
        };
  };
  const under = (event: { clientX: number; clientY: number }): EggView | null => {
    const { x, y } = shareAt(event);
    return eggAt(eggs, x, y, aspect, size);
  };
  const together = (number: number): Set<number> =>
    arrange?.clump === true ? clumpOf(eggs, number, aspect, size) : stuckTo(eggs, number);

  const down = (event: PointerEvent): void => {
    if (arrange === null) return;
    const egg = under(event);
    if (egg === null) return;
    event.preventDefault();
    box.current?.setPointerCapture(event.pointerId);
    drag.current = { ...shareAt(event), which: together(egg.number), start: [...eggs] };
    arrange.onHold(egg.number);
    setDragging(true);
  };
  const move = (event: PointerEvent): void => {
    const from = drag.current;
    if (from === null || arrange === null) return;
    const to = shareAt(event);
    arrange.onMove(moved(from.start, from.which, to.x - from.x, to.y - from.y, aspect, size));
  };
  const up = (): void => {
    drag.current = null;
    setDragging(false);
  };
  const keyed = (event: KeyboardEvent, number: number): void => {
    if (arrange === null) return;
    const step = event.shiftKey ? STEP * 4 : STEP;
    const [dx, dy] = {
      ArrowLeft: [-step, 0],
      ArrowRight: [step, 0],
      ArrowUp: [0, -step],
      ArrowDown: [0, step],
    }[event.key] ?? [0, 0];
    if (dx === 0 && dy === 0) return;
    event.preventDefault();
    arrange.onMove(moved(eggs, together(number), dx ?? 0, (dy ?? 0) * aspect, aspect, size));
  };

  const colours = [
    ...new Set(eggs.filter((e) => e.colour !== null && lit(e)).map((e) => drawable(e.colour))),
  ];
  return (
    <div ref={host} class={`plan-host ${enlarged ? 'enlarged' : ''}`}>
      <section
        ref={box}
        class={`plan ${arrange === null ? '' : 'arranging'} ${dragging ? 'holding' : ''}`}
        aria-label="The tub from above"
        style={{ width: `${width}px`, height: `${height}px` }}
        onPointerDown={down}
        onPointerMove={move}
        onPointerUp={up}
        onPointerCancel={up}
      >
        <svg width={width} height={height} viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
          <defs>
            {colours.map((c) => (
              <radialGradient key={c} id={`${id}-${c.slice(1)}`} cx="0.45" cy="0.42" r="0.62">
                <stop offset="0" stop-color={mixed(c, '#ffffff', 0.06)} />
                <stop offset="0.62" stop-color={c} />
                <stop offset="1" stop-color={mixed(c, '#14110d', 0.32)} />
              </radialGradient>
            ))}
          </defs>
          <rect class="tub" x="1" y="1" width={width - 2} height={height - 2} rx="22" />
          {photo !== null && !redLight.value && (
            <image
              href={photo.src}
              x="1"
              y="1"
              width={width - 2}
              height={height - 2}
              preserveAspectRatio="none"
              class="plan-photo"
            />
          )}
          {bridges(eggs).map(([a, b]) => (
            <line
              key={`${a.number} ${b.number}`}
              class="stuck"
              x1={px(a.x)}
              y1={py(a.y)}
              x2={px(b.x)}
              y2={py(b.y)}
              stroke-width={rx * 0.9}
            />
          ))}
          {eggs.map((egg) => (
            <EggShape
              key={egg.number}
              egg={egg}
              x={px(egg.x)}
              y={py(egg.y)}
              rx={rx}
              ry={ry}
              id={id}
              chosen={egg.number === (arrange === null ? chosen : arrange.held)}
            />
          ))}
        </svg>
        {byNumber(eggs).map((egg) => (
          <button
            key={egg.number}
            type="button"
            class="egg-press"
            aria-label={eggName(egg)}
            aria-pressed={egg.number === chosen}
            style={{
              left: `${px(egg.x) - rx}px`,
              top: `${py(egg.y) - ry}px`,
              width: `${rx * 2}px`,
              height: `${ry * 2}px`,
            }}
            onFocus={() => arrange?.onHold(egg.number)}
            onKeyDown={(event) => keyed(event, egg.number)}
            onClick={(event) => {
              if (arrange !== null) return;
              // Where buttons overlap in a clump, the closest egg is meant and not the uppermost button.
              const meant = event.detail > 0 ? (under(event) ?? egg) : egg;
              onEgg(meant.number);
            }}
          />
        ))}
      </section>
    </div>
  );
}

const lit = (egg: EggView): boolean => lookOf(egg.status).glows || egg.status === 'not looked at';

import { useId, useRef } from 'preact/hooks';
import { eggPath } from '../clutches/eggplan/plan.ts';
import type { Strip } from '../http/clutchShapes.ts';
import { useWidth } from '../look/useWidth.ts';
import { drawable } from '../tint/colour.ts';
import { degree } from '../words/units.ts';
import { within } from './labels.ts';
import { StageBar } from './StageBar.tsx';
import {
  candlingsOf,
  excursionLabels,
  excursionsOf,
  heldLimits,
  LETTER,
  layoutOf,
  ribbonOf,
  ribbonPath,
  type Scales,
  type StripLayout,
  scalesOf,
} from './strip.ts';
import { degrees, excursionLabel, excursionSentence, stripWords } from './stripWords.ts';

interface LifeStripProps {
  strip: Strip;
  zone: string;
  /** Day of the clutch now, or null when it is finished. */
  today: number | null;
}

const SHOWN_EXCURSIONS = 3;

/** A clutch from lay date to pip on one line. Everything drawn is also said in words under it. */
export function LifeStrip({ strip, zone, today }: LifeStripProps) {
  const host = useRef<HTMLDivElement>(null);
  const width = useWidth(host);
  degree.value;
  const excursions = [...strip.excursions].sort((a, b) => b.degreeHours - a.degreeHours);
  const [first, rest] = [excursions.slice(0, SHOWN_EXCURSIONS), excursions.slice(SHOWN_EXCURSIONS)];
  const item = (e: Strip['excursions'][number]) => (
    <li key={`${e.from} ${e.side}`} class={`out-item ${e.side}`}>
      <span aria-hidden="true">{e.side === 'above' ? '▲' : '▼'}</span>
      <span>{excursionSentence(e, zone)}</span>
    </li>
  );
  return (
    <figure class="life-strip">
      <div ref={host} class="life-strip-host">
        <Drawing strip={strip} zone={zone} today={today} width={width} />
      </div>
      <figcaption>{stripWords(strip, zone)}</figcaption>
      {first.length > 0 && <ul class="out-list">{first.map(item)}</ul>}
      {rest.length > 0 && (
        <details>
          <summary>
            {rest.length === 1
              ? 'One more time out of its band'
              : `${rest.length} more times out of its band`}
          </summary>
          <ul class="out-list">{rest.map(item)}</ul>
        </details>
      )}
    </figure>
  );
}

export function Drawing({ strip, zone, today, width }: LifeStripProps & { width: number }) {
  const id = useId();
  const layout = layoutOf(width);
  const scales = scalesOf(strip, layout);
  const now = scales.x(Date.parse(strip.now));
  const todayWords = `today, day ${today}`;
  return (
    <svg
      width={width}
      height={layout.height}
      viewBox={`0 0 ${width} ${layout.height}`}
      role="img"
      aria-label={stripWords(strip, zone)}
    >
      <Hatches id={id} />
      <BandLines strip={strip} scales={scales} layout={layout} />
      <Gaps strip={strip} scales={scales} layout={layout} id={id} />
      <Ribbon strip={strip} scales={scales} layout={layout} id={id} />
      <Candlings strip={strip} scales={scales} layout={layout} />
      <StageBar strip={strip} scales={scales} layout={layout} zone={zone} done={today === null} />
      {today !== null && (
        <>
          <line class="today-line" x1={now} x2={now} y1={22} y2={layout.barY + 10} />
          <text
            class="strip-words today"
            x={within(now, todayWords.length * LETTER, 0, width) ?? now}
            y={15}
            text-anchor="middle"
          >
            {todayWords}
          </text>
        </>
      )}
    </svg>
  );
}

interface PartProps {
  strip: Strip;
  scales: Scales;
  layout: StripLayout;
}

function Hatches({ id }: { id: string }) {
  const hatch = (kind: string, turn: number) => (
    <pattern
      id={`${id}-${kind}`}
      width="5"
      height="5"
      patternUnits="userSpaceOnUse"
      patternTransform={`rotate(${turn})`}
    >
      <rect class={`hatch-ground ${kind}`} width="5" height="5" />
      <rect class={`hatch-line ${kind}`} width="2" height="5" />
    </pattern>
  );
  return (
    <defs>
      {hatch('above', 45)}
      {hatch('below', -45)}
      {hatch('gap', 30)}
    </defs>
  );
}

function BandLines({ strip, scales, layout }: PartProps) {
  const limits = [strip.band?.warningHigh, strip.band?.warningLow].filter((v) => v != null);
  const held = heldLimits(strip);
  if (held.length > 0) {
    return (
      <>
        {held.map(({ key, from, to, limit }) => (
          <line
            key={key}
            class="band-line"
            x1={scales.x(from)}
            x2={to >= Date.parse(strip.now) ? layout.right : scales.x(to)}
            y1={scales.y(limit)}
            y2={scales.y(limit)}
          />
        ))}
        {limits.map((limit) => (
          <text key={limit} class="strip-words" x={layout.left - 6} y={scales.y(limit) + 4} text-anchor="end">
            {degrees(limit)}
          </text>
        ))}
      </>
    );
  }
  return (
    <>
      {limits.map((limit) => (
        <g key={limit}>
          <line
            class="band-line"
            x1={layout.left}
            x2={layout.right}
            y1={scales.y(limit)}
            y2={scales.y(limit)}
          />
          <text class="strip-words" x={layout.left - 6} y={scales.y(limit) + 4} text-anchor="end">
            {degrees(limit)}
          </text>
        </g>
      ))}
    </>
  );
}

function Gaps({ strip, scales, layout, id }: PartProps & { id: string }) {
  const wide = strip.gaps
    .map((g) => ({ key: g.from, x: scales.x(Date.parse(g.from)), to: scales.x(Date.parse(g.to)) }))
    .filter((g) => g.to - g.x >= 1.5);
  const middle = (layout.ribbonTop + layout.ribbonBottom) / 2;
  return (
    <>
      {wide.map((g) => (
        <g key={g.key}>
          <rect
            class="gap-box"
            x={g.x}
            y={middle - 16}
            width={g.to - g.x}
            height={32}
            fill={`url(#${id}-gap)`}
          />
          {g.to - g.x > 84 && (
            <text class="strip-words" x={(g.x + g.to) / 2} y={middle + 32} text-anchor="middle">
              no readings
            </text>
          )}
        </g>
      ))}
    </>
  );
}

function Ribbon({ strip, scales, layout, id }: PartProps & { id: string }) {
  const paths = ribbonOf(strip, scales).map(ribbonPath);
  const { warningLow, warningHigh } = strip.band ?? {};
  const drawn = excursionsOf(strip, scales);
  const labels = excursionLabels(drawn, layout, (e) => excursionLabel(e, layout.width >= 640));
  const all = paths.join('');
  return (
    <>
      <path class="ribbon" d={all} />
      {(['above', 'below'] as const).map((side) => {
        const limit = side === 'above' ? warningHigh : warningLow;
        const these = drawn.filter((d) => d.excursion.side === side);
        if (these.length === 0 || limit == null) return null;
        const [top, bottom] = side === 'above' ? [0, scales.y(limit)] : [scales.y(limit), layout.candlingY];
        return (
          <g key={side}>
            <clipPath id={`${id}-clip-${side}`}>
              {these.map((d) => (
                <rect key={d.excursion.from} x={d.from} y={top} width={d.to - d.from} height={bottom - top} />
              ))}
            </clipPath>
            <path
              class={`out ${side}`}
              d={all}
              fill={`url(#${id}-${side})`}
              clip-path={`url(#${id}-clip-${side})`}
            />
          </g>
        );
      })}
      {labels.map((label) => (
        <text
          key={`${label.x} ${label.text}`}
          class={`strip-words out-words ${label.kind}`}
          x={label.x}
          y={label.y}
          text-anchor="middle"
        >
          {label.text}
        </text>
      ))}
      {strip.alarms.map((a) => {
        const x = scales.x(Date.parse(a.at));
        const y = layout.ribbonBottom + 22;
        return (
          <path key={a.occurrence} class={`alarm-mark ${a.severity}`} d={`M${x} ${y - 8}l5 9h-10z`}>
            <title>{a.words}</title>
          </path>
        );
      })}
    </>
  );
}

function Candlings({ strip, scales, layout }: PartProps) {
  return (
    <>
      {candlingsOf(strip, scales).map((look) =>
        look.colours.map((colour, i) => (
          <path
            key={`${look.x} ${colour}`}
            class="egg-body"
            d={eggPath(look.x + (i - (look.colours.length - 1) / 2) * 7, layout.candlingY, 5, 6.4)}
            fill={drawable(colour)}
          />
        )),
      )}
    </>
  );
}

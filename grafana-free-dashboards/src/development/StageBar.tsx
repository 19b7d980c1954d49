import type { Strip } from '../http/clutchShapes.ts';
import { type Label, placed, within } from './labels.ts';
import { BAR_HEIGHT, hillOf, LETTER, momentOfShare, type Scales, type StripLayout } from './strip.ts';
import { pipLabel } from './stripWords.ts';

interface StageBarProps {
  strip: Strip;
  scales: Scales;
  layout: StripLayout;
  zone: string;
  done: boolean;
}

/** How far the clutch is, under its days: the bar runs with time, the words under it say the share of the way. */
export function StageBar({ strip, scales, layout, zone, done }: StageBarProps) {
  const hill = hillOf(strip, scales, layout);
  const now = done ? scales.x(scales.to) : scales.x(Date.parse(strip.now));
  const labels = stageLabels(strip, scales, layout, zone);
  return (
    <>
      <rect
        class="stage-rest"
        x={layout.left}
        y={layout.barY}
        width={layout.right - layout.left}
        height={BAR_HEIGHT}
        rx="3"
      />
      <rect
        class="stage-done"
        x={layout.left}
        y={layout.barY}
        width={Math.max(2, now - layout.left)}
        height={BAR_HEIGHT}
        rx="3"
      />
      {hill?.bars.map((bar) => (
        <rect key={bar.x} class="hill" x={bar.x} y={bar.y} width={bar.width} height={bar.height} />
      ))}
      {labels.map((label) => (
        <text
          key={label.text}
          class={`strip-words ${label.kind}`}
          x={label.x}
          y={layout.wordsY}
          text-anchor="middle"
        >
          {label.text}
        </text>
      ))}
    </>
  );
}

/** The pip window first, then the lay date, then the quarters that still find room. */
export function stageLabels(strip: Strip, scales: Scales, layout: StripLayout, zone: string): Label[] {
  const hill = hillOf(strip, scales, layout);
  const pip = pipLabel(strip, zone);
  const wish = (text: string, x: number, kind: string) => {
    const width = text.length * LETTER;
    return { text, x: within(x, width, 0, layout.width) ?? x, y: layout.wordsY, width, kind };
  };
  const quarters = [0.5, 0.25, 0.75].flatMap((share) => {
    const at = momentOfShare(strip.stage, share);
    return at === null ? [] : [wish(`${Math.round(share * 100)} %`, scales.x(at), 'quarter')];
  });
  return placed(
    [
      ...(hill === null || pip === null ? [] : [wish(pip, (hill.from + hill.to) / 2, 'pip-words')]),
      wish('laid', layout.left, 'laid'),
      ...quarters,
    ],
    0,
    layout.width,
  );
}

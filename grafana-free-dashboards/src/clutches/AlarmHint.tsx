import { Link } from '../house/Link.tsx';
import { now } from '../live/now.ts';
import { Shape } from '../look/Shape.tsx';
import { worstFirst } from '../words/standing.ts';

/** Whoever candles in the dark must still see that something is wrong: the worst alarm nobody has answered, one tap from its page. */
export function AlarmHint({ incubator }: { incubator: string | null }) {
  const open = worstFirst(now.value?.alarms ?? []).filter((a) => a.state === 'unacknowledged');
  const shown = open.find((a) => a.incubator === incubator) ?? open[0];
  if (shown === undefined) return null;
  const [tone, word] =
    shown.severity === 'danger' ? (['danger', 'Danger'] as const) : (['warning', 'Warning'] as const);
  return (
    <Link to={`/incubators/${encodeURIComponent(shown.incubator)}`} class={`alarm-hint ${tone}`}>
      <Shape tone={tone} />
      <span>
        <strong>{word}.</strong> {shown.words} {open.length > 1 && `And ${open.length - 1} more.`}
      </span>
    </Link>
  );
}

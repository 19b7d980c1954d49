import type { IncubatorNow } from '../http/shapes.ts';
import { Cabinet, type CabinetSize } from './Cabinet.tsx';

export function sizeFor(count: number): CabinetSize {
  if (count <= 2) return 'large';
  return count <= 8 ? 'medium' : 'small';
}

/** The incubators where they stand. Their order is that of the room and never follows the alarms. */
export function Room({ name, incubators }: { name: string; incubators: readonly IncubatorNow[] }) {
  const size = sizeFor(incubators.length);
  const standing = [...incubators].sort((a, b) => a.position - b.position || a.name.localeCompare(b.name));
  return (
    <section aria-labelledby="room-name" class="room">
      <h2 id="room-name">{name}</h2>
      <ul class={`floor ${size}`}>
        {standing.map((incubator) => (
          <Cabinet key={incubator.key} incubator={incubator} size={size} />
        ))}
      </ul>
    </section>
  );
}

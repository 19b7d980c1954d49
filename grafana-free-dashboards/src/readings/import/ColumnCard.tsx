import { useId } from 'preact/hooks';
import { quantityWord } from '../../words/standing.ts';
import { ProbeChoice } from './ProbeChoice.tsx';
import { saysIt, withColumn } from './plan.ts';
import type { Plan, Role } from './shapes.ts';
import { ROLES } from './words.ts';

const QUANTITIES = [
  'temperature',
  'humidity',
  'room-temperature',
  'battery',
  'battery-voltage',
  'signal',
  'signal-quality',
  'door',
];
const UNITS: Record<string, readonly string[]> = {
  temperature: ['°C', '°F', 'K'],
  'room-temperature': ['°C', '°F', 'K'],
  humidity: ['%RH'],
  battery: ['%'],
  'battery-voltage': ['V', 'mV'],
  signal: ['dBm'],
  'signal-quality': ['%'],
};

interface ColumnCardProps {
  plan: Plan;
  index: number;
  name: string;
  cells: readonly string[];
  known: readonly { key: string; name: string | null }[];
  errors: string[] | undefined;
  onPlan: (plan: Plan) => void;
}

/** One column: what stands in it, and what it holds. */
export function ColumnCard({ plan, index, name, cells, known, errors, onPlan }: ColumnCardProps) {
  const column = plan.columns[index];
  if (column === undefined) return null;
  const wrong = errors !== undefined && errors.length > 0;
  const units = UNITS[column.quantity ?? ''] ?? [];
  return (
    <li class={`import-column ${column.role === 'ignore' ? 'left-out' : ''} ${wrong ? 'wrong' : ''}`}>
      <h3>{name}</h3>
      <p class="import-cells">{cells.length === 0 ? 'empty' : cells.join(' · ')}</p>
      <Choice
        label="It holds"
        value={column.role}
        options={ROLES}
        onValue={(role) => onPlan(withColumn(plan, index, { role: role as Role }))}
      />
      {column.role === 'value' && (
        <>
          {!saysIt(plan, 'quantity') && (
            <Choice
              label="What was measured"
              value={column.quantity ?? ''}
              options={[
                { value: '', word: 'Say what…' },
                ...[...new Set([...QUANTITIES, column.quantity ?? ''])]
                  .filter((q) => q !== '')
                  .map((value) => ({ value, word: quantityWord(value) })),
              ]}
              onValue={(quantity) =>
                onPlan(withColumn(plan, index, { quantity: quantity === '' ? null : quantity, unit: null }))
              }
            />
          )}
          {!saysIt(plan, 'unit') && units.length > 1 && (
            <Choice
              label="In"
              value={column.unit ?? units[0] ?? ''}
              options={[...new Set([...units, ...(column.unit === null ? [] : [column.unit])])].map(
                (value) => ({
                  value,
                  word: value,
                }),
              )}
              onValue={(unit) => onPlan(withColumn(plan, index, { unit }))}
            />
          )}
          {!saysIt(plan, 'probe') && (
            <ProbeChoice
              label="Of which probe"
              value={column.probe}
              known={known}
              onValue={(probe) => onPlan(withColumn(plan, index, { probe }))}
            />
          )}
        </>
      )}
      {wrong && <p class="wrong-words">{errors?.join(' ')}</p>}
    </li>
  );
}

interface ChoiceProps {
  label: string;
  value: string;
  options: readonly { value: string; word: string }[];
  onValue: (value: string) => void;
}

function Choice({ label, value, options, onValue }: ChoiceProps) {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => onValue(event.currentTarget.value)}>
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.word}
          </option>
        ))}
      </select>
    </div>
  );
}

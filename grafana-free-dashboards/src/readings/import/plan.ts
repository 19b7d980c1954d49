import type { Column, ImportView, NamedProbe, Plan } from './shapes.ts';

/** As many columns as the file has: one that nobody spoke of holds nothing that is wanted. */
export function planOf(view: ImportView): Plan {
  const columns = view.columns.map(
    (_, i): Column => view.guess.columns[i] ?? { role: 'ignore', probe: null, quantity: null, unit: null },
  );
  return { ...view.guess, columns };
}

export function withColumn(plan: Plan, index: number, change: Partial<Column>): Plan {
  return {
    ...plan,
    columns: plan.columns.map((column, i) => (i === index ? { ...column, ...change } : column)),
  };
}

export function withProbe(plan: Plan, name: string, key: string | null): Plan {
  const others = plan.probes.filter((probe) => probe.name !== name);
  return { ...plan, probes: key === null ? others : [...others, { name, key }] };
}

/** Names in the file that stand for no probe yet, the commonest first. */
export function unknownNames(view: ImportView): { name: string; count: number }[] {
  const told = new Set(view.guess.probes.map((probe: NamedProbe) => probe.name));
  return (view.dryRun?.probes ?? []).filter((probe) => probe.key === null && !told.has(probe.name));
}

/** A few cells of a column to know it by. */
export function cellsOf(view: ImportView, index: number): string[] {
  const found: string[] = [];
  for (const row of view.sample) {
    const cell = (row[index] ?? '').trim();
    if (cell !== '' && !found.includes(cell)) found.push(cell);
    if (found.length === 3) break;
  }
  return found;
}

/** Whether some column says it for every line. */
export const saysIt = (plan: Plan, role: Column['role']): boolean =>
  plan.columns.some((c) => c.role === role);

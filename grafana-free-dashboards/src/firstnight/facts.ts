import { signal } from '@preact/signals';
import type { ClutchBrief } from '../clutches/new/shapes.ts';
import { get } from '../http/api.ts';
import type { CallOrder, CallStep, IncubatorView, Now, Probes } from '../http/shapes.ts';
import { NEW_VISIT, type NightFacts, type NightVisit } from './steps.ts';

/** Lasts as long as the page is open: nothing of it is needed to go on elsewhere. */
export const visit = signal<NightVisit>(NEW_VISIT);

export interface NightState {
  facts: NightFacts;
  probes: Probes;
  steps: CallStep[];
  /** The incubator that the first night is about, with its bands. */
  view: IncubatorView | null;
}

/** The band that a new incubator begins with; one that differs has been looked at by somebody. */
const BEGINS_WITH = { dangerLow: 29.5, warningLow: 30.5, warningHigh: 32.5, dangerHigh: 33.5 };

export async function askNight(now: Now): Promise<NightState> {
  const [probes, order, clutches] = await Promise.all([
    get<Probes>('/api/probes'),
    get<CallOrder>('/api/call-out'),
    get<ClutchBrief[]>('/api/clutches?state=all'),
  ]);
  const steps = order.steps.filter((s) => s.enabled).sort((a, b) => a.position - b.position);
  const incubators = [...now.incubators]
    .sort((a, b) => a.position - b.position)
    .map((i) => ({ key: i.key, name: i.name, hasProbe: probes.placed.some((p) => p.incubator === i.key) }));
  const chosen = incubators.find((i) => i.hasProbe) ?? incubators[0];
  const view =
    chosen === undefined
      ? null
      : await get<IncubatorView>(`/api/incubators/${encodeURIComponent(chosen.key)}`);
  return {
    probes,
    steps,
    view,
    facts: {
      incubators,
      waiting: probes.notPlaced.length,
      clutches: clutches.length,
      callSteps: steps.length,
      reachable: now.callOut.reachable,
      // The service remembers a test only for the one who waits for it.
      testAnswered: null,
      bandChanged: bandChanged(view),
    },
  };
}

export function bandChanged(view: IncubatorView | null): boolean {
  const band = view?.bands.temperature;
  if (view === null || band === undefined) return false;
  if (band === null) return true;
  return (Object.keys(BEGINS_WITH) as (keyof typeof BEGINS_WITH)[]).some((k) => band[k] !== BEGINS_WITH[k]);
}

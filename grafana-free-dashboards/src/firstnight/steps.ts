/** What the facility already is, as far as the first night asks for it. Null: not known yet. */
export interface NightFacts {
  /** From the left; the first of them with a probe, or else the first, is the one of the first night. */
  incubators: { key: string; name: string; hasProbe: boolean }[];
  waiting: number;
  clutches: number;
  callSteps: number;
  reachable: boolean;
  /** Whether a test call was answered, if the service keeps that. */
  testAnswered: boolean | null;
  /** Whether the band is no longer the one every new incubator begins with. */
  bandChanged: boolean;
}

/** What was decided in this visit and leaves no trace in the facility: "as it is", "later", "it rang". */
export interface NightVisit {
  bandKept: boolean;
  clutchLater: boolean;
  callLater: boolean;
  testHeard: boolean;
  testLater: boolean;
}

export const NEW_VISIT: NightVisit = {
  bandKept: false,
  clutchLater: false,
  callLater: false,
  testHeard: false,
  testLater: false,
};

export type NightStep = 'incubator' | 'probe' | 'band' | 'clutch' | 'call' | 'test' | 'done';

export const NIGHT_STEPS: readonly NightStep[] = [
  'incubator',
  'probe',
  'band',
  'clutch',
  'call',
  'test',
  'done',
];

export function nightIncubator(facts: NightFacts): NightFacts['incubators'][number] | undefined {
  return facts.incubators.find((i) => i.hasProbe) ?? facts.incubators[0];
}

/**
 * The first thing that is still open, read from the facility itself: whoever leaves and comes back, on this phone or on
 * another, goes on where the facility stands. Who comes as far as the call-out order has been past band and clutch.
 */
export function nightStep(facts: NightFacts, visit: NightVisit): NightStep {
  if (facts.incubators.length === 0) return 'incubator';
  if (!facts.incubators.some((i) => i.hasProbe)) return 'probe';
  const called = facts.callSteps > 0;
  const hasClutch = facts.clutches > 0;
  if (!called && !hasClutch && !facts.bandChanged && !visit.bandKept) return 'band';
  if (!called && !hasClutch && !visit.clutchLater) return 'clutch';
  if (!called && !visit.callLater) return 'call';
  if (called && facts.testAnswered !== true && !visit.testHeard && !visit.testLater) return 'test';
  return 'done';
}

export interface StillMissing {
  words: string;
  href: string;
  press: string;
}

/** What is not yet so, said plainly; empty when all is. */
export function stillMissing(facts: NightFacts, visit: NightVisit): StillMissing[] {
  const missing: StillMissing[] = [];
  const without = facts.incubators.filter((i) => !i.hasProbe);
  if (facts.callSteps === 0 || !facts.reachable) {
    missing.push({
      words:
        facts.callSteps === 0
          ? 'Nobody is called: an alarm would only be seen on this page.'
          : 'Somebody is on the call-out order, but cannot be reached the way it is set.',
      href: '/calling',
      press: 'Say who is called',
    });
  } else if (facts.testAnswered !== true && !visit.testHeard) {
    missing.push({
      words: 'No test call is known to have been heard.',
      href: '/calling',
      press: 'Send a test',
    });
  }
  if (facts.callSteps === 1) {
    missing.push({
      words: 'Only one person is called. If that phone is off, nobody else is.',
      href: '/calling',
      press: 'Add a second',
    });
  }
  for (const incubator of without) {
    missing.push({ words: `No probe is placed in ${incubator.name}.`, href: '/probes', press: 'Place one' });
  }
  if (facts.clutches === 0) {
    missing.push({ words: 'No clutch is entered yet.', href: '/clutches/new', press: 'Enter one' });
  }
  return missing;
}

import { describe, expect, it } from 'vitest';
import { exampleTopic, isLocal } from './broker.ts';
import { NEW_VISIT, type NightFacts, nightIncubator, nightStep, stillMissing } from './steps.ts';

const EMPTY: NightFacts = {
  incubators: [],
  waiting: 0,
  clutches: 0,
  callSteps: 0,
  reachable: false,
  testAnswered: null,
  bandChanged: false,
};
const LINDEN = { key: 'linden', name: 'Linden', hasProbe: false };
const WITH_PROBE = { ...EMPTY, incubators: [{ ...LINDEN, hasProbe: true }] };

describe('the step of the first night', () => {
  it('follows from what the facility already is', () => {
    expect(nightStep(EMPTY, NEW_VISIT)).toBe('incubator');
    expect(nightStep({ ...EMPTY, incubators: [LINDEN] }, NEW_VISIT)).toBe('probe');
    expect(nightStep({ ...EMPTY, incubators: [LINDEN], waiting: 1 }, NEW_VISIT)).toBe('probe');
    expect(nightStep(WITH_PROBE, NEW_VISIT)).toBe('band');
    expect(nightStep({ ...WITH_PROBE, bandChanged: true }, NEW_VISIT)).toBe('clutch');
    expect(nightStep({ ...WITH_PROBE, clutches: 1 }, NEW_VISIT)).toBe('call');
    expect(nightStep({ ...WITH_PROBE, callSteps: 1, reachable: true }, NEW_VISIT)).toBe('test');
    expect(nightStep({ ...WITH_PROBE, callSteps: 1, reachable: true, testAnswered: true }, NEW_VISIT)).toBe(
      'done',
    );
  });

  it('is never one that was passed, when the visit is lost after the call-out order was set', () => {
    const resumed = { ...WITH_PROBE, callSteps: 2, reachable: true };
    for (const clutches of [0, 3]) {
      for (const bandChanged of [true, false]) {
        expect(nightStep({ ...resumed, clutches, bandChanged }, NEW_VISIT)).toBe('test');
      }
    }
  });

  it('always comes to an end when everything is put off, whatever the facility is', () => {
    const putOff = { bandKept: true, clutchLater: true, callLater: true, testHeard: false, testLater: true };
    for (const clutches of [0, 1]) {
      for (const callSteps of [0, 1]) {
        for (const testAnswered of [null, true, false]) {
          expect(nightStep({ ...WITH_PROBE, clutches, callSteps, testAnswered }, putOff)).toBe('done');
        }
      }
    }
  });

  it('asks for a test anew when the service says that none was answered', () => {
    const facts = { ...WITH_PROBE, callSteps: 1, reachable: true, testAnswered: false };
    expect(nightStep(facts, NEW_VISIT)).toBe('test');
    expect(nightStep(facts, { ...NEW_VISIT, testHeard: true })).toBe('done');
  });

  it('is about the incubator that has a probe', () => {
    const facts = { ...EMPTY, incubators: [LINDEN, { key: 'rowan', name: 'Rowan', hasProbe: true }] };
    expect(nightIncubator(facts)?.key).toBe('rowan');
    expect(nightStep(facts, NEW_VISIT)).toBe('band');
  });
});

describe('what is still missing', () => {
  it('is said plainly, the gravest first', () => {
    const words = stillMissing(WITH_PROBE, NEW_VISIT).map((m) => m.words);
    expect(words[0]).toBe('Nobody is called: an alarm would only be seen on this page.');
    expect(words.at(-1)).toBe('No clutch is entered yet.');
  });

  it('tells a call-out order that reaches nobody from one that was never set', () => {
    const [first] = stillMissing({ ...WITH_PROBE, callSteps: 1, reachable: false }, NEW_VISIT);
    expect(first?.words).toContain('cannot be reached');
  });

  it('counts a test that was heard in this visit, and names a second person', () => {
    const facts = { ...WITH_PROBE, clutches: 1, callSteps: 1, reachable: true };
    const heard = stillMissing(facts, { ...NEW_VISIT, testHeard: true }).map((m) => m.press);
    expect(heard).toEqual(['Add a second']);
    expect(stillMissing(facts, NEW_VISIT).map((m) => m.press)).toContain('Send a test');
    expect(stillMissing({ ...facts, callSteps: 2, testAnswered: true }, NEW_VISIT)).toEqual([]);
  });
});

describe('where a probe has to speak', () => {
  it('is said with an example for each part of the topic', () => {
    expect(exampleTopic('incubation/{incubator}/{probe}/{quantity}', 'linden')).toBe(
      'incubation/linden/linden-1/temperature',
    );
    expect(exampleTopic('eggs/{quantity}/{probe}', 'linden')).toBe('eggs/temperature/linden-1');
  });

  it('is not the name under which only this computer knows the service', () => {
    expect(['localhost', '127.0.0.1', 'a.localhost'].every(isLocal)).toBe(true);
    expect(isLocal('eggs.home.arpa')).toBe(false);
  });
});

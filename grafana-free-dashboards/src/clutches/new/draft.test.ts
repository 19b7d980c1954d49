import { beforeEach, describe, expect, it } from 'vitest';
import { SPECIES } from '../../../mock/night.ts';
import { degree } from '../../words/units.ts';
import { clutchSteps, type Draft, EMPTY_DRAFT, isLate, parseDraft, stepOfField } from './draft.ts';

const AT = Date.parse('2026-11-25T23:30:00Z');
const ZONE = 'Europe/Vienna';
const [BALL, BURMESE] = SPECIES;

const good = (part: Partial<Draft> = {}): Draft => ({
  ...EMPTY_DRAFT,
  species: 'python-regius',
  dam: ' Juno ',
  sire: 'Moss',
  layDate: '2026-11-26',
  eggCount: '9',
  tubName: '7',
  substrate: 'vermiculite',
  ...part,
});

function read(part: Partial<Draft>, species = BALL) {
  const parsed = parseDraft(good(part), species, AT, ZONE);
  return 'body' in parsed
    ? { body: parsed.body, errors: {} as Record<string, string[]> }
    : { body: null, errors: parsed.errors };
}

beforeEach(() => {
  degree.value = 'Cel';
});

describe('a clutch as entered', () => {
  it('is sent with what was said and without what was not', () => {
    expect(read({}).body).toEqual({
      species: 'python-regius',
      dam: 'Juno',
      sire: 'Moss',
      layDate: '2026-11-26',
      layDateSlackDays: 0,
      eggCount: 9,
      tub: { name: '7', substrate: 'vermiculite' },
    });
  });

  it('has its field errors on the screen where they can be mended', () => {
    const { errors } = read({
      species: '',
      dam: '',
      sire: '',
      layDate: '2026-02-30',
      eggCount: '2.5',
      tubName: '',
    });
    expect(Object.keys(errors).sort()).toEqual(['dam', 'eggCount', 'layDate', 'sire', 'species', 'tub.name']);
    expect(Object.keys(errors).map(stepOfField).sort()).toEqual([
      'laid',
      'laid',
      'parents',
      'parents',
      'parents',
      'tub',
    ]);
    expect(stepOfField('secondPerson')).toBe('pulling');
    expect(stepOfField('tub.waterGrams')).toBe('tub');
    expect(stepOfField('femaleCelsius')).toBe('warmth');
    expect(stepOfField('something new')).toBe('check');
  });

  it('of a large constrictor needs a second person, and of nobody else', () => {
    expect(read({}, BURMESE).errors.secondPerson).toBeDefined();
    expect(read({ secondPerson: ' Matteo ' }, BURMESE).body?.secondPerson).toBe('Matteo');
    expect(read({ secondPerson: 'Matteo' }, BALL).body).not.toHaveProperty('secondPerson');
    expect(clutchSteps(BURMESE)).toContain('pulling');
    expect(clutchSteps(BALL)).not.toContain('pulling');
  });

  it('without a sire says none', () => {
    expect(read({ sired: false, sire: 'left over' }).body).not.toHaveProperty('sire');
  });

  it('is late from the second day on, by the calendar of the facility', () => {
    // 00:30 on the 26th in Vienna, still the 25th in UTC.
    expect(isLate('2026-11-24', AT, ZONE)).toBe(true);
    expect(isLate('2026-11-24', AT, 'Etc/UTC')).toBe(false);
    expect(read({ layDate: '2026-10-27', assumed: '31,5' }).body?.assumedCelsius).toBe(31.5);
    expect(read({ layDate: '2026-11-26', assumed: '31.5' }).body).not.toHaveProperty('assumedCelsius');
  });

  it('after its season is sent as finished only when that is said and it may be so', () => {
    expect(read({ layDate: '2026-06-01', over: true }).body?.finished).toBe(true);
    expect(read({ layDate: '2026-11-01', over: true }).body).not.toHaveProperty('finished');
  });

  it('takes temperatures in the degrees of this phone and sends °C', () => {
    degree.value = 'degF';
    expect(read({ female: '88.7' }).body?.femaleCelsius).toBe(31.5);
    degree.value = 'Cel';
    expect(read({ female: 'warm' }).errors.femaleCelsius).toEqual(['A number is needed here, such as 31.5.']);
  });

  it('that was found later has the instant of the clock of the facility', () => {
    const found = read({ seen: 'found', foundDate: '2026-11-25', foundTime: '07:40' });
    expect(found.body?.foundAt).toBe('2026-11-25T06:40:00Z');
    expect(read({ seen: 'found', foundDate: '', foundTime: '' }).errors.foundAt).toBeDefined();
  });

  it('lies in a new tub, in one that is there, or still with her', () => {
    const tub = { waterGrams: '450', substrateGrams: '500', incubator: 'linden', shelf: ' upper ' };
    expect(read(tub).body?.tub).toEqual({
      name: '7',
      substrate: 'vermiculite',
      substrateGrams: 500,
      waterGrams: 450,
      incubator: 'linden',
      shelf: 'upper',
    });
    expect(read({ tubChoice: 'existing', tub: 'tub-2' }).body?.tub).toEqual({ key: 'tub-2' });
    expect(read({ tubChoice: 'existing' }).errors.tub).toBeDefined();
    expect(read({ tubChoice: 'none', tubName: '' }).body?.tub).toBeNull();
    expect(read({ waterGrams: 'much' }).errors['tub.waterGrams']).toBeDefined();
  });
});

import { signal } from '@preact/signals';
import { keep, kept } from '../../words/kept.ts';
import { dayOfIncubation, instantOf, parseDate } from '../../words/localdate.ts';
import { unshown } from '../../words/units.ts';
import type { Species } from './shapes.ts';

export type Slack = '0' | '1' | '3' | '7';
export type TubChoice = 'new' | 'existing' | 'none';

/** A clutch as it is being entered: figures are texts until they are read. */
export interface Draft {
  species: string;
  dam: string;
  /** Whether there was a sire that is known. */
  sired: boolean;
  sire: string;
  secondPerson: string;
  layDate: string;
  /** Put on record after its season: then the lay date may be as long ago as it was. */
  over: boolean;
  slack: Slack;
  eggCount: string;
  seen: 'laid' | 'found' | '';
  foundDate: string;
  foundTime: string;
  female: string;
  assumed: string;
  tubChoice: TubChoice;
  tub: string;
  tubName: string;
  substrate: string;
  substrateGrams: string;
  waterGrams: string;
  incubator: string;
  shelf: string;
  label: string;
  note: string;
}

export const EMPTY_DRAFT: Draft = {
  species: '',
  dam: '',
  sired: true,
  sire: '',
  secondPerson: '',
  layDate: '',
  over: false,
  slack: '0',
  eggCount: '',
  seen: '',
  foundDate: '',
  foundTime: '',
  female: '',
  assumed: '',
  tubChoice: 'new',
  tub: '',
  tubName: '',
  substrate: '',
  substrateGrams: '',
  waterGrams: '',
  incubator: '',
  shelf: '',
  label: '',
  note: '',
};

const KEY = 'incubation.clutch-draft';

/** Kept on this phone while it is entered, so that a call, a snake or an empty battery loses nothing. */
export const draft = signal<Draft>(readKept());

export function change(part: Partial<Draft>): void {
  draft.value = { ...draft.value, ...part };
  keep(KEY, JSON.stringify(draft.value));
}

export function clearDraft(): void {
  draft.value = EMPTY_DRAFT;
  keep(KEY, '');
}

function readKept(): Draft {
  try {
    const text = kept(KEY);
    const read = text === null || text === '' ? {} : (JSON.parse(text) as Record<string, unknown>);
    const draft: Record<string, unknown> = { ...EMPTY_DRAFT };
    for (const [name, empty] of Object.entries(EMPTY_DRAFT)) {
      if (typeof read[name] === typeof empty) draft[name] = read[name];
    }
    return draft as unknown as Draft;
  } catch {
    return EMPTY_DRAFT;
  }
}

export type ClutchStep = 'parents' | 'pulling' | 'laid' | 'warmth' | 'tub' | 'check';

/** Pulling the eggs of a large constrictor has a screen of its own; nobody else is asked. */
export function clutchSteps(species: Species | undefined): ClutchStep[] {
  return species?.largeConstrictor === true
    ? ['parents', 'pulling', 'laid', 'warmth', 'tub', 'check']
    : ['parents', 'laid', 'warmth', 'tub', 'check'];
}

/** The screen on which a field of the service stands, so that its words are seen where they can be mended. */
export function stepOfField(field: string): ClutchStep {
  const name = field.replace(/^tub\..*/, 'tub');
  if (['species', 'dam', 'sire'].includes(name)) return 'parents';
  if (name === 'secondPerson') return 'pulling';
  if (['layDate', 'layDateSlackDays', 'eggCount', 'finished'].includes(name)) return 'laid';
  if (['foundAt', 'femaleCelsius', 'assumedCelsius'].includes(name)) return 'warmth';
  return name === 'tub' ? 'tub' : 'check';
}

/** Entered late: the days before are known only by what the keeper believes. */
export function isLate(layDate: string, at: number, zone: string): boolean {
  return parseDate(layDate) !== null && dayOfIncubation(layDate, at, zone) >= 2;
}

/** After so many days a clutch may well be over; the service refuses it from 120 on unless it is said to be. */
const MAYBE_OVER_DAYS = 90;

export function isLong(layDate: string, at: number, zone: string): boolean {
  return parseDate(layDate) !== null && dayOfIncubation(layDate, at, zone) >= MAYBE_OVER_DAYS;
}

export type Parsed = { body: Record<string, unknown> } | { errors: Record<string, string[]> };

/** Reads the draft. Only what is missing or unreadable is refused here; what is allowed is the service's to say. */
export function parseDraft(d: Draft, species: Species | undefined, at: number, zone: string): Parsed {
  const errors: Record<string, string[]> = {};
  const wrong = (field: string, words: string): undefined => {
    errors[field] = [words];
    return undefined;
  };
  const figure = (text: string, field: string, example: string): number | undefined => {
    if (text.trim() === '') return undefined;
    const value = Number(text.trim().replace(',', '.').replace('\u2212', '-'));
    return Number.isFinite(value) ? value : wrong(field, `A number is needed here, such as ${example}.`);
  };
  const celsius = (text: string, field: string): number | undefined => {
    const value = figure(text, field, '31.5');
    return value === undefined ? undefined : unshown(value, 'temperature');
  };

  if (d.species === '') wrong('species', 'Choose the species.');
  if (d.dam.trim() === '') wrong('dam', 'Who laid them? “unknown” will do.');
  if (d.sired && d.sire.trim() === '') wrong('sire', 'Name the sire, or say that there was none.');
  const layDate = parseDate(d.layDate);
  if (layDate === null) wrong('layDate', 'On which day? Choose one.');
  const eggs = d.eggCount.trim();
  if (!/^\d{1,6}$/.test(eggs)) wrong('eggCount', 'How many? A whole number, slugs counted too.');
  if (species?.largeConstrictor === true && d.secondPerson.trim() === '') {
    wrong('secondPerson', 'Who is with you? A large constrictor takes two.');
  }
  let foundAt: string | undefined;
  if (d.seen === 'found') {
    const ms = instantOf(d.foundDate, d.foundTime, zone);
    if (ms === null) wrong('foundAt', 'On which day and at what time?');
    else foundAt = new Date(ms).toISOString().replace('.000Z', 'Z');
  }
  const tub = tubOf(d, wrong, (text, field) => figure(text, field, '450'));
  const femaleCelsius = celsius(d.female, 'femaleCelsius');
  const assumedCelsius = isLate(d.layDate, at, zone) ? celsius(d.assumed, 'assumedCelsius') : undefined;
  if (Object.keys(errors).length > 0) return { errors };
  return {
    body: {
      ...(d.label.trim() === '' ? {} : { label: d.label.trim() }),
      species: d.species,
      dam: d.dam.trim(),
      ...(d.sired ? { sire: d.sire.trim() } : {}),
      layDate,
      layDateSlackDays: Number(d.slack),
      ...(d.over && isLong(d.layDate, at, zone) ? { finished: true } : {}),
      eggCount: Number(eggs),
      ...(foundAt === undefined ? {} : { foundAt }),
      ...(femaleCelsius === undefined ? {} : { femaleCelsius }),
      ...(assumedCelsius === undefined ? {} : { assumedCelsius }),
      ...(species?.largeConstrictor === true ? { secondPerson: d.secondPerson.trim() } : {}),
      ...(d.note.trim() === '' ? {} : { note: d.note.trim() }),
      tub,
    },
  };
}

function tubOf(
  d: Draft,
  wrong: (field: string, words: string) => undefined,
  grams: (text: string, field: string) => number | undefined,
): unknown {
  if (d.tubChoice === 'none') return null;
  if (d.tubChoice === 'existing') {
    if (d.tub === '') wrong('tub', 'Which tub? Choose one.');
    return { key: d.tub };
  }
  if (d.tubName.trim() === '') wrong('tub.name', 'What is written on the tub?');
  if (d.substrate.trim() === '') wrong('tub.substrate', 'What do the eggs lie on?');
  const substrateGrams = grams(d.substrateGrams, 'tub.substrateGrams');
  const waterGrams = grams(d.waterGrams, 'tub.waterGrams');
  return {
    name: d.tubName.trim(),
    substrate: d.substrate.trim(),
    ...(substrateGrams === undefined ? {} : { substrateGrams }),
    ...(waterGrams === undefined ? {} : { waterGrams }),
    ...(d.incubator === '' ? {} : { incubator: d.incubator }),
    ...(d.shelf.trim() === '' ? {} : { shelf: d.shelf.trim() }),
  };
}

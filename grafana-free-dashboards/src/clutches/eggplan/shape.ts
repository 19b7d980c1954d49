import type { EggStatus } from '../../http/clutchShapes.ts';

/** How an egg of a status is drawn. Each differs by its form and not only by its light. */
export interface EggLook {
  /** Filled with the colour it glowed. */
  glows: boolean;
  outline: 'none' | 'plain' | 'dashed' | 'dotted';
  /** What is drawn over the shell. */
  mark: 'none' | 'stroke' | 'slit' | 'open' | 'question';
}

const LOOKS: Record<EggStatus, EggLook> = {
  'not looked at': { glows: false, outline: 'plain', mark: 'none' },
  developing: { glows: true, outline: 'none', mark: 'none' },
  doubtful: { glows: true, outline: 'dotted', mark: 'question' },
  slug: { glows: false, outline: 'dashed', mark: 'none' },
  dead: { glows: false, outline: 'plain', mark: 'stroke' },
  pipped: { glows: true, outline: 'plain', mark: 'slit' },
  hatched: { glows: false, outline: 'plain', mark: 'open' },
};

export function lookOf(status: EggStatus): EggLook {
  return LOOKS[status] ?? LOOKS['not looked at'];
}

export const STATUS_WORD: Record<EggStatus, string> = {
  'not looked at': 'not candled yet',
  developing: 'alive',
  doubtful: 'doubtful',
  slug: 'slug',
  dead: 'dead',
  pipped: 'pipped',
  hatched: 'out',
};

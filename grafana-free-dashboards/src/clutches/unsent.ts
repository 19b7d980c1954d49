import type { Unsent } from '../candling/outbox.ts';
import type { CandlingBody, EggView, TintTerm } from '../http/clutchShapes.ts';

/** The eggs with what was entered on this phone and is on its way. Its status is not guessed: the service derives it. */
export function withUnsent(
  eggs: readonly EggView[],
  outbox: readonly Unsent[],
  clutch: string,
  tints: readonly TintTerm[],
): EggView[] {
  const looks = outbox.filter((u) => u.clutch === clutch && u.kind === 'candlings');
  if (looks.length === 0) return [...eggs];
  return eggs.map((egg) => {
    let shown = egg;
    for (const { body } of looks.filter((u) => u.body.egg === egg.number)) {
      const look = body as CandlingBody;
      const term = tints.find((t) => t.key === look.tint);
      shown = {
        ...shown,
        ...(look.tint === null
          ? {}
          : { tint: look.tint, tintWord: term?.word ?? look.tint, colour: term?.colour ?? shown.colour }),
        veins: look.veins ?? shown.veins,
        looksLikeSlug: look.looksLikeSlug ?? shown.looksLikeSlug,
        massGrams: look.massGrams ?? shown.massGrams,
        lastAt: look.at,
        entries: shown.entries + 1,
      };
    }
    return shown;
  });
}

import { CallingPage } from '../calling/CallingPage.tsx';
import { deferred } from './deferred.tsx';

const FirstNightPage = deferred(() =>
  import('../firstnight/FirstNightPage.tsx').then((m) => m.FirstNightPage),
);
const NewClutchPage = deferred(() =>
  import('../clutches/new/NewClutchPage.tsx').then((m) => m.NewClutchPage),
);
const MovePage = deferred(() => import('../clutches/move/MovePage.tsx').then((m) => m.MovePage));
const ReviewPage = deferred(() => import('../review/ReviewPage.tsx').then((m) => m.ReviewPage));

export type NightRoute =
  | { page: 'first night' }
  | { page: 'new clutch' }
  | { page: 'move' | 'review'; key: string }
  | { page: 'call-out' };

/** Pages that are seldom seen, and so are fetched when they are; null when the path is none of them. */
export function nightRouteOf(at: string): NightRoute | null {
  const parts = at.split('/').filter((p) => p !== '');
  const [first, second, third] = parts;
  if (first === 'first-night' && parts.length === 1) return { page: 'first night' };
  // The service's to-do list calls the page by the name of what is set on it.
  if (first === 'call-out' && parts.length === 1) return { page: 'call-out' };
  if (first !== 'clutches' || second === undefined) return null;
  if (second === 'new' && parts.length === 2) return { page: 'new clutch' };
  if (parts.length === 3 && (third === 'move' || third === 'review'))
    return { page: third, key: decoded(second) };
  return null;
}

export function nightPageOf(at: string) {
  const route = nightRouteOf(at);
  if (route === null) return null;
  switch (route.page) {
    case 'first night':
      return <FirstNightPage />;
    case 'new clutch':
      return <NewClutchPage />;
    case 'call-out':
      return <CallingPage />;
    case 'move':
      return <MovePage key={route.key} clutch={route.key} />;
    case 'review':
      return <ReviewPage key={route.key} clutch={route.key} />;
  }
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

import { NewIncubatorPage } from '../facility/NewIncubatorPage.tsx';
import { deferred } from './deferred.tsx';

const ProbePage = deferred(() => import('../probes/ProbePage.tsx').then((m) => m.ProbePage));
const CalibratePage = deferred(() =>
  import('../probes/calibrate/CalibratePage.tsx').then((m) => m.CalibratePage),
);
const RunInPage = deferred(() => import('../facility/runin/RunInPage.tsx').then((m) => m.RunInPage));
const KeepingPage = deferred(() => import('../readings/keeping/KeepingPage.tsx').then((m) => m.KeepingPage));
const ImportsPage = deferred(() => import('../readings/import/ImportsPage.tsx').then((m) => m.ImportsPage));
const ImportPage = deferred(() => import('../readings/import/ImportPage.tsx').then((m) => m.ImportPage));

export type ReadingRoute =
  | { page: 'probe' | 'calibrate' | 'run-in'; key: string }
  | { page: 'keeping' | 'imports' }
  | { page: 'import'; key: string }
  | { page: 'new incubator' };

/** Pages about probes and the keeping of their readings; null when the path is none of them. */
export function readingRouteOf(at: string): ReadingRoute | null {
  const parts = at.split('/').filter((p) => p !== '');
  const [first, second, third] = parts;
  if (parts.length === 1 && first === 'keeping') return { page: 'keeping' };
  // Not under /incubators: an incubator may be called "New".
  if (parts.length === 1 && first === 'new-incubator') return { page: 'new incubator' };
  if (second === undefined) return null;
  if (first === 'readings' && second === 'import' && parts.length === 2) return { page: 'imports' };
  if (first === 'readings' && second === 'import' && parts.length === 3 && third !== undefined)
    return { page: 'import', key: decoded(third) };
  if (first === 'probes' && parts.length === 2) return { page: 'probe', key: decoded(second) };
  if (first === 'probes' && parts.length === 3 && third === 'calibrate')
    return { page: 'calibrate', key: decoded(second) };
  if (first === 'incubators' && parts.length === 3 && third === 'run-in')
    return { page: 'run-in', key: decoded(second) };
  return null;
}

export function readingPageOf(at: string) {
  const route = readingRouteOf(at);
  switch (route?.page) {
    case undefined:
      return null;
    case 'probe':
      return <ProbePage key={route.key} probe={route.key} />;
    case 'calibrate':
      return <CalibratePage key={route.key} probe={route.key} />;
    case 'run-in':
      return <RunInPage key={route.key} incubator={route.key} />;
    case 'keeping':
      return <KeepingPage />;
    case 'imports':
      return <ImportsPage />;
    case 'import':
      return <ImportPage key={route.key} id={route.key} />;
    case 'new incubator':
      return <NewIncubatorPage />;
  }
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

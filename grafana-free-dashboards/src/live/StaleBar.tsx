import { clock } from '../words/times.ts';
import { now, refresh, stale, trouble } from './now.ts';

/** Says that what is shown is old, since when, and why; nothing on the page looks well while it is there. */
export function StaleBar() {
  if (!stale.value) return null;
  const shown = now.value;
  return (
    <div class="stale-bar" role="status">
      <p>
        <strong>
          {shown === null
            ? 'Not connected.'
            : `As of ${clock(Date.parse(shown.at), shown.zone)}, not connected.`}
        </strong>{' '}
        {trouble.value ?? 'Nothing has been heard from the service for a while.'} Alarms may stand that are
        not shown here.
      </p>
      <button type="button" class="quiet" onClick={() => void refresh()}>
        Try now
      </button>
    </div>
  );
}

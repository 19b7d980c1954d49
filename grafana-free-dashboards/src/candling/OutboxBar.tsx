import { flush, outbox, outboxTrouble, putAway, waiting } from './outbox.ts';

/** What has not reached the service is always in sight. */
export function OutboxBar() {
  const refused = outbox.value.filter((u) => u.refused !== null);
  if (outbox.value.length === 0) return null;
  return (
    <div class="outbox" role="status">
      {waiting.value > 0 && (
        <p>
          <strong>{waiting.value} not sent yet.</strong> {outboxTrouble.value ?? 'Sending…'} They are kept on
          this phone.{' '}
          {outboxTrouble.value !== null && (
            <button type="button" class="quiet small" onClick={() => void flush()}>
              Try now
            </button>
          )}
        </p>
      )}
      {refused.map((u) => (
        <p key={u.id}>
          <strong>
            {u.clutch}, egg {u.body.egg}: not taken.
          </strong>{' '}
          {u.refused}{' '}
          <button type="button" class="quiet small" onClick={() => putAway(u.id)}>
            I have read it, put it away
          </button>
        </p>
      ))}
    </div>
  );
}

import type { RejectedMessage } from '../http/shapes.ts';
import { moment } from '../words/times.ts';

export function RejectedMessages(props: { messages: readonly RejectedMessage[]; zone: string; at: number }) {
  const { messages, zone, at } = props;
  return (
    <section class="part" aria-labelledby="rejected">
      <h2 id="rejected">Messages that could not be read</h2>
      {messages.length === 0 ? (
        <p class="muted">None.</p>
      ) : (
        <ul class="rejected">
          {messages.map((m) => (
            <li key={`${m.topic} ${m.reason}`}>
              <p>
                <strong>{m.reason}</strong>
              </p>
              <p class="muted">
                <code>{m.topic}</code>{' '}
                {m.payloadStart !== '' && <code class="payload">{m.payloadStart}</code>}
              </p>
              <p class="muted">
                {m.count === 1 ? 'Once' : `${m.count} times`}, last {moment(Date.parse(m.lastAt), at, zone)}.
              </p>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

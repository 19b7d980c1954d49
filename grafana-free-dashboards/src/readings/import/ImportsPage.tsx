import '../../look/steps.css';
import './import.css';
import { useEffect, useRef, useState } from 'preact/hooks';
import { Link } from '../../house/Link.tsx';
import { go } from '../../house/route.ts';
import { get, wordsOf } from '../../http/api.ts';
import { now, serviceNow } from '../../live/now.ts';
import { useSending } from '../../look/useForm.ts';
import { moment } from '../../words/times.ts';
import { bytesWords } from '../keeping/words.ts';
import type { ImportLine } from './shapes.ts';
import { sendFile } from './upload.ts';
import { readings, STATES } from './words.ts';

/** Where a file of readings is chosen, and those that were brought in before. */
export function ImportsPage() {
  const [lines, setLines] = useState<ImportLine[] | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  useEffect(() => {
    get<ImportLine[]>('/api/imports').then(setLines, (cause) => setTrouble(wordsOf(cause)));
  }, []);
  const zone = now.value?.zone ?? 'UTC';
  return (
    <main id="main" class="page narrow">
      <p class="back">
        <Link to="/keeping" class="back-link">
          ← Where readings are kept
        </Link>
      </p>
      <h1>Bring in readings from a file.</h1>
      <p class="next">
        From a logger, a spreadsheet, or an export of this service: lines of values between commas, semicolons
        or tabs. You look it over and try it out first; nothing is stored before that. What comes from a file
        fills the history, and never calls anybody.
      </p>
      <ChooseFile />
      {trouble !== null && <p class="form-words">{trouble}</p>}
      {lines !== null && lines.length > 0 && (
        <section aria-labelledby="earlier">
          <h2 id="earlier">Files so far</h2>
          <ul class="import-list">
            {lines.map((line) => (
              <li key={line.id}>
                <Link to={`/readings/import/${line.id}`}>
                  <strong>{line.fileName}</strong>
                  <span>
                    {STATES[line.state] ?? line.state}
                    {line.taken > 0 && `, ${readings(line.taken)}`}
                  </span>
                  <span class="muted">
                    {bytesWords(line.bytes)}, sent by {line.by}{' '}
                    {moment(Date.parse(line.startedAt), serviceNow.value, zone)}
                  </span>
                </Link>
              </li>
            ))}
          </ul>
        </section>
      )}
    </main>
  );
}

function ChooseFile() {
  const [share, setShare] = useState<number | null>(null);
  const input = useRef<HTMLInputElement>(null);
  const sending = useSending();
  const send = (file: File | undefined): void => {
    if (file === undefined) return;
    setShare(0);
    void sending.send(async () => {
      try {
        const view = await sendFile(file, setShare);
        go(`/readings/import/${view.id}`);
      } finally {
        setShare(null);
        // The same file can be chosen again after it was mended.
        if (input.current !== null) input.current.value = '';
      }
    });
  };
  return (
    <div class="import-choose">
      <label class="button main">
        {sending.busy ? 'Sending…' : 'Choose a file'}
        <input
          ref={input}
          class="unseen"
          type="file"
          accept=".csv,.tsv,.txt,text/csv,text/plain,text/tab-separated-values"
          disabled={sending.busy}
          onChange={(event) => send(event.currentTarget.files?.[0])}
        />
      </label>
      {share !== null && (
        <div class="import-progress">
          <progress max={100} value={Math.floor(share * 100)} aria-label="How much of the file is sent" />
          <p>{share < 1 ? `${Math.floor(share * 100)}\u00a0% sent` : 'Looking at it…'}</p>
        </div>
      )}
      <p class="form-words" role="status">
        {sending.words}
      </p>
    </div>
  );
}

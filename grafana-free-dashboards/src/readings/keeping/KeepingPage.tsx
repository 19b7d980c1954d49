import '../../look/steps.css';
import './keeping.css';
import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { Link } from '../../house/Link.tsx';
import { get, wordsOf } from '../../http/api.ts';
import type { Keeping } from '../../http/probeShapes.ts';
import type { Tone } from '../../http/shapes.ts';
import { now, serviceNow } from '../../live/now.ts';
import { Shape } from '../../look/Shape.tsx';
import { quantityWord } from '../../words/standing.ts';
import { moment } from '../../words/times.ts';
import { bound } from '../../words/units.ts';
import { bytesWords, countWords, isWell, keepingSentence, orUnknown, sourceTone } from './words.ts';

/** Where readings are kept, and whether all that keeps them is well. */
export function KeepingPage() {
  const [keeping, setKeeping] = useState<Keeping | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const asOf = now.value?.at;
  useEffect(() => {
    get<Keeping>('/api/readings/keeping').then(
      (found) => {
        setKeeping(found);
        setTrouble(null);
      },
      (cause) => setTrouble(wordsOf(cause)),
    );
  }, [asOf]);
  return (
    <main id="main" class="page">
      <p class="back">
        <Link to="/probes" class="back-link">
          ← The probes
        </Link>
      </p>
      <h1>{keeping === null ? (trouble ?? 'One moment…') : keepingSentence(keeping)}</h1>
      {keeping !== null && trouble !== null && <p class="form-words">{trouble}</p>}
      {keeping !== null && <OfKeeping keeping={keeping} />}
      <p>
        <Link to="/readings/import" class="button">
          Bring in readings from a file
        </Link>
      </p>
    </main>
  );
}

function OfKeeping({ keeping }: { keeping: Keeping }) {
  const { store, spool, source, copy, clock, retention } = keeping;
  const zone = now.value?.zone ?? 'UTC';
  const at = serviceNow.value;
  const when = (iso: string | null): string => (iso === null ? 'never' : moment(Date.parse(iso), at, zone));
  return (
    <ul class="keeping">
      <Part
        title="How they come in"
        tone={sourceTone(source.state)}
        words={source.words}
        facts={[
          ['From', source.kind === 'embedded' ? 'the broker in this service' : 'a broker of your own'],
          ...(source.since === null ? [] : [['Connected since', when(source.since)] as const]),
          ['Own heartbeat heard back', when(source.heartbeatAt)],
        ]}
      />
      <Part
        title="On this disk"
        tone={isWell(store.kind) ? 'calm' : store.kind === 'refusing' ? 'danger' : 'warning'}
        words={store.words}
        facts={[
          ['Takes', orUnknown(store.bytes, bytesWords)],
          ['Goes back to', store.oldest === null ? 'no reading yet' : when(store.oldest)],
          ['Probe days packed', orUnknown(store.sealedDays, countWords)],
          ['Probe days still open', orUnknown(store.rawDays, countWords)],
        ]}
      />
      <Part
        title="When the disk is full"
        tone={spool.usedBytes > 0 ? 'warning' : spool.bytes === 0 ? 'unknown' : 'calm'}
        words={
          spool.usedBytes > 0
            ? 'Readings wait in the spool file, safe from a power cut, and go to their place when the disk is back.'
            : spool.bytes === 0
              ? 'There is no spool file: a full disk refuses readings at once.'
              : 'A spool file stands ready; nothing waits in it.'
        }
        facts={[['In use', `${bytesWords(spool.usedBytes)} of ${bytesWords(spool.bytes)}`]]}
      />
      <Part
        title="Read through and checked"
        tone={store.lastCheck === null ? 'unknown' : store.lastCheck.ok ? 'calm' : 'warning'}
        words={store.lastCheck?.words ?? 'Not yet; it is done once a day.'}
        facts={store.lastCheck === null ? [] : [['Last', when(store.lastCheck.at)]]}
      />
      <Part
        title="How long they are kept"
        words={
          retention.length === 0
            ? 'All of them for good.'
            : 'All for good but these, and of these the days of every clutch too.'
        }
      >
        {retention.length > 0 && (
          <dl class="facts">
            {retention.map((r) => (
              <Pair key={r.quantity} name={quantityWord(r.quantity)} value={`${r.days} days`} />
            ))}
          </dl>
        )}
      </Part>
      {copy === null ? (
        <Part
          title="A copy elsewhere"
          words="None is set. A copy is no backup, and nothing here waits for one."
        />
      ) : (
        <Part
          title={`A copy in ${copy.kind}`}
          tone={!isWell(copy.state) || copy.refused > 0 ? 'warning' : 'calm'}
          words={copy.words}
          facts={[
            ['Waiting', countWords(copy.behind)],
            ...(copy.behindDays === 0 ? [] : [['Whole days waiting', countWords(copy.behindDays)] as const]),
            ...(copy.oldestWaiting === null
              ? []
              : [['The oldest of them', when(copy.oldestWaiting)] as const]),
            ['Refused, set aside', countWords(copy.refused)],
          ]}
        />
      )}
      <Part title="The clock" tone={clock.trusted ? 'calm' : 'warning'} words={clock.words} />
    </ul>
  );
}

interface PartProps {
  title: string;
  words: string;
  tone?: Tone;
  facts?: readonly (readonly [string, string])[];
  children?: ComponentChildren;
}

function Part({ title, words, tone = 'calm', facts = [], children }: PartProps) {
  return (
    <li class={`kept-part ${tone}`}>
      <h2>
        {tone !== 'calm' && <Shape tone={tone} />} {title}
        {tone !== 'calm' && <span class="unseen">, needs a look</span>}
      </h2>
      <p>{bound(words)}</p>
      {facts.length > 0 && (
        <dl class="facts">
          {facts.map(([name, value]) => (
            <Pair key={name} name={name} value={value} />
          ))}
        </dl>
      )}
      {children}
    </li>
  );
}

function Pair({ name, value }: { name: string; value: string }) {
  return (
    <>
      <dt>{name}</dt>
      <dd>{value}</dd>
    </>
  );
}

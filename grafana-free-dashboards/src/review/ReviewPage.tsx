import './review.css';
import './print.css';
import '../care/care.css';
import { useEffect, useState } from 'preact/hooks';
import { CareList } from '../care/CareList.tsx';
import { type CareEntry, careDuring, type Stay } from '../care/entries.ts';
import type { ClutchBrief } from '../clutches/new/shapes.ts';
import { Link } from '../house/Link.tsx';
import { get, wordsOf } from '../http/api.ts';
import { now, serviceNow } from '../live/now.ts';
import { dateWords } from '../words/localdate.ts';
import { dayAndClock, zoneWord } from '../words/times.ts';
import { bound, degree } from '../words/units.ts';
import { Comparison } from './Comparison.tsx';
import { alarmLine, StretchItem } from './StretchItem.tsx';
import { StripView } from './StripView.tsx';
import type { Review, Strip } from './shapes.ts';
import { firstSentence, fromTo, gapsSentence, hatchDates, lengthWords, outcomeLines } from './words.ts';

const STRIP_BUCKETS = 1200;
const CARE_LINES = 200;

export function ReviewPage({ clutch: key }: { clutch: string }) {
  const [review, setReview] = useState<Review | null>(null);
  const [strip, setStrip] = useState<Strip | null>(null);
  const [others, setOthers] = useState<ClutchBrief[]>([]);
  const [care, setCare] = useState<CareEntry[]>([]);
  const [against, setAgainst] = useState('');
  const [trouble, setTrouble] = useState<string | null>(null);
  const address = `/api/clutches/${encodeURIComponent(key)}`;
  const scale = degree.value;
  useEffect(() => {
    let left = false;
    const query = against === '' ? '' : `&against=${encodeURIComponent(against)}`;
    get<Review>(`${address}/review?temperature=${scale}${query}`).then(
      (answer) => {
        if (left) return;
        setReview(answer);
        setTrouble(null);
      },
      (cause: unknown) => {
        if (!left) setTrouble(wordsOf(cause));
      },
    );
    return () => {
      left = true;
    };
  }, [address, against, scale]);
  useEffect(() => {
    // Without its drawing, and without others to choose from, the review still says all it has to say.
    get<Strip>(`${address}/strip?buckets=${STRIP_BUCKETS}`).then(setStrip, () => undefined);
    get<ClutchBrief[]>('/api/clutches?state=all').then(
      (all) => setOthers(all.filter((c) => c.key !== key)),
      () => undefined,
    );
    get<{ placements: Stay[] }>(address)
      .then((page) => careDuring(page.placements, CARE_LINES))
      .then(setCare, () => undefined);
  }, [address, key]);

  const zone = now.value?.zone ?? 'UTC';
  if (review === null) {
    return (
      <main id="main" class="page narrow">
        <h1>{trouble ?? 'Looking through the record…'}</h1>
        {trouble !== null && (
          <p>
            <Link to="/" class="button">
              To the room
            </Link>
          </p>
        )}
      </main>
    );
  }
  return (
    <ReviewOf
      review={review}
      strip={strip}
      others={others}
      care={care}
      against={against}
      trouble={trouble}
      onAgainst={setAgainst}
      zone={zone}
      at={serviceNow.value}
    />
  );
}

interface ReviewOfProps {
  review: Review;
  strip: Strip | null;
  others: readonly ClutchBrief[];
  care: readonly CareEntry[];
  against: string;
  trouble: string | null;
  onAgainst: (key: string) => void;
  zone: string;
  at: number;
}

export function ReviewOf(props: ReviewOfProps) {
  const { review, strip, zone, at } = props;
  const { clutch } = review;
  const dates = hatchDates(review.outcomes, zone);
  const { first, rest } = firstSentence(bound(review.sentence));
  return (
    <main id="main" class="page review">
      <p class="back no-print">
        <Link to={`/clutches/${encodeURIComponent(clutch.key)}`} class="back-link">
          ← {clutch.label}
        </Link>
      </p>
      <header class="review-head">
        <p class="muted">
          Review of {clutch.label}, {clutch.species}. Dam {clutch.dam}
          {clutch.sire === null ? ', no sire or not known' : `, sire ${clutch.sire}`}. Laid{' '}
          {dateWords(clutch.layDate)}.
        </p>
        <h1>{first}</h1>
        {rest !== '' && <p class="next">{rest}</p>}
        <button type="button" class="no-print" onClick={() => window.print()}>
          Print it
        </button>
      </header>
      {props.trouble !== null && <p class="form-words">{props.trouble}</p>}
      {strip !== null && (
        <StripView
          strip={strip}
          from={Date.parse(strip.from)}
          to={Date.parse(strip.to)}
          stretches={review.stretches}
          height={110}
          ends={zone}
          label={`Temperature from laying on, ${review.stretches.length} stretches out of band`}
        />
      )}
      <section class="part" aria-labelledby="outcomes">
        <h2 id="outcomes">What came of the eggs</h2>
        <ul class="outcomes">
          {outcomeLines(review.outcomes).map(({ word, n }) => (
            <li key={word}>
              <strong>{n}</strong> {word}
            </li>
          ))}
        </ul>
        {dates !== '' && <p>{dates}</p>}
      </section>
      <section class="part" aria-labelledby="stretches">
        <h2 id="stretches">
          {review.stretches.length === 0
            ? 'No stretch out of band was recorded'
            : 'Out of band, in order of time'}
        </h2>
        <ol class="stretches">
          {review.stretches.map((stretch, i) => (
            <StretchItem
              key={`${stretch.from} ${stretch.side}`}
              stretch={stretch}
              number={i + 1}
              strip={strip}
              zone={zone}
            />
          ))}
        </ol>
      </section>
      <section class="part" aria-labelledby="gaps">
        <h2 id="gaps">{gapsSentence(review.gaps)}</h2>
        {review.gaps.length > 0 && (
          <ul class="gaps">
            {review.gaps.map((gap) => (
              <li key={gap.from}>
                {fromTo(gap.from, gap.to, zone)}, {lengthWords(gap.from, gap.to)}
                {gap.alarms?.map((alarm) => `; ${alarmLine(alarm, zone)}`)}
              </li>
            ))}
          </ul>
        )}
      </section>
      {(review.speakers?.length ?? 0) > 0 && (
        <section class="part" aria-labelledby="speakers">
          <h2 id="speakers">Probes that spoke for it</h2>
          <ul class="gaps">
            {review.speakers?.map((s) => (
              <li key={`${s.probe} ${s.from}`}>
                {s.probe}, {s.where}, {s.near}: {fromTo(s.from, s.to, zone)}
              </li>
            ))}
          </ul>
        </section>
      )}
      <Comparison review={review} others={props.others} chosen={props.against} onChoose={props.onAgainst} />
      <section class="part" aria-labelledby="care">
        <h2 id="care">Care log of its tub</h2>
        <CareList entries={props.care} at={at} zone={zone} dated />
      </section>
      <p class="caveat">{review.caveat}</p>
      <p class="muted small-print">
        As of {dayAndClock(at, zone)}; all times {zoneWord(at, zone)}.
      </p>
    </main>
  );
}

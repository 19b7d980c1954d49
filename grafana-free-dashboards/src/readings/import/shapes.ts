export type Separator = 'comma' | 'semicolon' | 'tab';
export type Encoding = 'utf8' | 'windows1252';
export type TimeForm =
  | 'rfc3339'
  | 'yearFirst'
  | 'dayFirst'
  | 'monthFirst'
  | 'unixSeconds'
  | 'unixMilliseconds';
export type RepeatedHour = 'refuse' | 'first' | 'second';
export type Role = 'ignore' | 'time' | 'date' | 'clock' | 'probe' | 'quantity' | 'unit' | 'value' | 'marks';

export interface Column {
  role: Role;
  probe: string | null;
  quantity: string | null;
  unit: string | null;
}

/** Which probe a name in the file stands for; no key leaves its readings out. */
export interface NamedProbe {
  name: string;
  key: string;
}

export interface Plan {
  separator: Separator;
  decimalComma: boolean;
  header: boolean;
  encoding: Encoding;
  timeForm: TimeForm | null;
  repeatedHour: RepeatedHour;
  zone: string;
  columns: Column[];
  probes: NamedProbe[];
}

export interface Refused {
  line: number;
  column: number;
  reason: string;
  text: string;
}

export interface Outcome {
  state: 'running' | 'stopped' | 'done' | 'failed';
  words: string;
  doneBytes: number;
  lines: number;
  taken: number;
  refused: number;
  earliest: string | null;
  latest: string | null;
  reasons: { reason: string; count: number; firstLine: number }[];
  first: Refused[];
  probes: { name: string; key: string | null; count: number }[];
}

export type State = 'waiting' | 'running' | 'stopped' | 'done' | 'failed';

export interface ImportView {
  id: string;
  fileName: string;
  state: State;
  running: 'dry run' | 'run' | null;
  bytes: number;
  fileIsHere: boolean;
  confirmed: boolean;
  guess: Plan;
  columns: string[];
  sample: string[][];
  questions: string[];
  dryRun: Outcome | null;
  run: Outcome | null;
  linesPerSecond: number | null;
  secondsLeft: number | null;
  sameAs: string | null;
  by: string;
  startedAt: string;
  endedAt: string | null;
}

export interface ImportLine {
  id: string;
  fileName: string;
  state: State;
  bytes: number;
  doneBytes: number;
  taken: number;
  refused: number;
  by: string;
  startedAt: string;
  endedAt: string | null;
  fileIsHere: boolean;
}

import type { Person, Place } from '../shared/entries';

/** What the service sends: the views of src/app/views.h, field for field, and the entries of docs/ledger.md. */

export interface HouseholdView {
  name: string;
  place: string;
  altitude_ft: number | null;
  units: 'us' | 'metric';
  zone: string;
  /** Local time of the household, "YYYY-MM-DDThh:mm". */
  now: string;
  /** The same moment, UTC: entries are made by this clock (shared/clock.ts). */
  now_utc: string;
  sequence: number;
  empty: boolean;
}

export interface StartQuestion {
  key: string;
  question: string;
  help: string;
  answer: string;
  skipped: boolean;
}

export interface DaysLeftView {
  low: number;
  likely: number;
  high: number;
  words: string;
}

export interface StripMark {
  /** Days from now. */
  from: number;
  to: number;
  title: string;
  kind: 'stage' | 'pick' | 'hold';
}

export interface StripView {
  lot: string;
  name: string;
  amount: string;
  place: string;
  place_key: string;
  condition: string;
  form: string;
  crop: string;
  mass_kg: number;
  standing: boolean;
  hazard_by: string | null;
  days_left: DaysLeftView;
  usable: number[];
  usable_low: number[];
  usable_high: number[];
  step_days: number;
  marks: StripMark[];
  loss_per_day: string;
  loss_kg_per_day: number;
  cost_of_waiting: number;
  cost_words: string;
  next_move: string;
  next_at: string;
  let_go_reason: string;
  caution: string;
  /** Drawn by this device: a change of it still waits to be sent. */
  waiting?: boolean;
}

export type Attention = 'hands_on' | 'nearby' | 'unattended';

export interface TaskView {
  start: string;
  end: string;
  title: string;
  why: string;
  hands: string[];
  attention: Attention;
  lot: string;
  batch: string;
  route: string;
  stage: string;
  other: string;
  state: 'planned' | 'underway' | 'put_down';
}

export interface NextView {
  title: string;
  why: string;
  detail: string;
  action: string;
  button: string;
  lot: string;
  batch: string;
  route: string;
  place: string;
  other: string;
  parcel: string;
  kg: number;
  hands: string;
  minutes: string;
}

export interface TimerView {
  id: string;
  name: string;
  batch: string;
  batch_name: string;
  due: string;
  seconds_left: number;
  /** Whose time it is, where it is the person's own. */
  note?: string;
}

export interface RunningView {
  batch: string;
  name: string;
  stage: string;
  title: string;
  state: string;
  since: string;
  progress: number;
}

export interface ObjectiveView {
  put_by: number;
  still_sound: number;
  materials: number;
  energy: number;
  effort: number;
  lateness: number;
  change: number;
  total: number;
}

export interface ClashView {
  kind: 'work' | 'hours' | 'lot' | 'picking';
  what: string;
  way_out: string;
  about: string[];
}

/** Book and kitchen differ, and a person must say what is right. */
export interface DiscrepancyView {
  /** Id of the entry that raised it. */
  about: string;
  code: string;
  what: string;
  said: string;
  at: string;
  who: string;
  /** What the book has of the same thing, newest first. */
  before: HistoryLine[];
  lot: string;
  batch: string;
  parcel: string;
}

export interface DayView {
  household: HouseholdView;
  next: NextView;
  timers: TimerView[];
  running: RunningView[];
  today: TaskView[];
  strips: StripView[];
  notices: string[];
  discrepancies: DiscrepancyView[];
  clashes: ClashView[];
  objective: ObjectiveView;
  plan_stale: boolean;
  seconds_to_plan: number;
}

export interface AheadDay {
  date: string;
  weekday: string;
  tasks: TaskView[];
  weather: string;
  hours_planned: number;
  hours_free: number;
}

export interface AheadView {
  household: HouseholdView;
  days: AheadDay[];
  strips: StripView[];
  objective: ObjectiveView;
}

export interface HistoryLine {
  at: string;
  words: string;
  entry: string;
  undone: boolean;
}

/** What a butchering day comes to. */
export interface ButcheringLine {
  key: string;
  what: string;
  amount: string;
  then: string;
  source: string;
}

export interface ButcheringView {
  crop: string;
  words: string;
  count: number;
  whole: number;
  each_kg: number;
  dressed_kg: number;
  clock: string;
  killed: string;
  use_by: string;
  /** Row of what stands alive that they come from; empty for none. */
  standing: string;
  freeze_kg: number;
  freeze_days: number;
  too_much_to_freeze: boolean;
  lines: ButcheringLine[];
  cautions: string[];
}

/** One figure of a route beside the published one: minutes, or packs when `stage` is empty. */
export interface LearnedLine {
  route: string;
  crop: string;
  stage: string;
  route_name: string;
  what: string;
  published: string;
  source: string;
  checked: string;
  yours: string;
  sure: string;
  from: string;
  kg: number;
  published_value: number;
  value: number;
  low: number;
  high: number;
  batches: number;
  left_out: number;
  lent: number;
  used: boolean;
}

export interface LearnedView {
  household: HouseholdView;
  words: string;
  enough: number;
  lines: LearnedLine[];
}

export interface RouteChoice {
  route: string;
  name: string;
  method: string;
  product: string;
  quality: number;
  accepted: boolean;
  why_not: string;
  packs: string;
  hours: string;
  worth: string;
  process_line: string;
  kg_most: number;
  planned: boolean;
}

export interface LotView {
  strip: StripView;
  routes: RouteChoice[];
  history: HistoryLine[];
  facts: string[];
  why: string[];
  lie_apart: string[];
  best_place: string;
}

export interface Why {
  lot: string;
  sentences: string[];
  waiting: { days: number; cost: number; noise: number }[];
  binding: string;
  next_best: string;
  next_best_loss: number;
  would_save: string;
}

export interface StepView {
  stage: string;
  title: string;
  text: string;
  caution: string;
  attention: Attention;
  state: 'done' | 'underway' | 'put_down' | 'next' | 'later';
  expected: string;
  started: string;
  finished: string;
  can_pause: boolean;
  shows_process: boolean;
  /** What good looks like at the end of it. */
  looks_right: string;
  /** Canner load, from 1; 0 is the whole batch, or its only load. */
  load: number;
  /** Said before it starts where it cannot be put down. */
  put_down_words: string;
  gather: string[];
  /** Offered timers: `due` is empty, `seconds_left` is the length. */
  timers: TimerView[];
  hands: string[];
}

export interface ProcessView {
  method: string;
  jar: string;
  time: string;
  pressure: string;
  headspace: string;
  added_acid: string;
  altitude_band: string;
  source: string;
  place: string;
  edition: string;
  requirements: string[];
}

/** What to do about a fault while its time lies in this span. */
export interface TroubleSpan {
  from_min: number;
  to_min: number | null;
  then: string;
  source: string;
  outcomes: string[];
}
/** What can have gone wrong; `asks` is empty where the time does not matter. */
export interface TroubleView {
  fault: string;
  what: string;
  asks: string;
  see: string;
  spans: TroubleSpan[];
}
/** Packs that the settings of now put in doubt. */
export interface DoubtView {
  parcel: string;
  name: string;
  why: string;
}

/** What a batch leaves beside its packs, as a lot of its own. */
export interface AlsoMadeView {
  food: string;
  form: string;
  name: string;
  amount: string;
  kg: number;
  place_key: string;
}

/** A step that must begin before a moment. */
export interface DeadlineView {
  what: string;
  by: string;
  overdue: boolean;
  when_overdue: string;
  minutes_left: number;
}

export interface BatchView {
  household: HouseholdView;
  id: string;
  name: string;
  route: string;
  state: 'underway' | 'put_down' | 'resting' | 'finished' | 'abandoned';
  kg_in: number;
  packs_expected: number;
  amount: string;
  pack: string;
  product_food: string;
  product_form: string;
  store_in: string;
  store_key: string;
  eat_by: string;
  steps: StepView[];
  current: number;
  process: ProcessView | null;
  timers: TimerView[];
  cautions: string[];
  defer_to: string;
  troubles: TroubleView[];
  went_wrong: string[];
  processed: string;
  not_food: string;
  in_doubt: DoubtView[];
  lots: string[];
  seal_check_due: boolean;
  seal_check_from: string;
  packed_parcel: string;
  next_code: string;
  also: AlsoMadeView[];
  /** Soonest first. */
  deadlines: DeadlineView[];
  /** Local; the next step must wait until then. Empty: it may begin. */
  not_before: string;
}

export interface PackView {
  parcel: string;
  code: string;
  name: string;
  food: string;
  form: string;
  pack: string;
  place: string;
  place_key: string;
  put_by: string;
  eat_by: string;
  batch: string;
  lots: string;
  packs: number;
  mass_kg: number;
  seals_unchecked: boolean;
  eat_first: boolean;
  note: string;
  process_line: string;
  do_not_eat: string;
  /** Drawn by this device: a change of them still waits to be sent. */
  waiting?: boolean;
}

export interface LarderShelf {
  place: string;
  place_key: string;
  packs: PackView[];
  /** What can befall the place itself, such as a freezer without power. */
  troubles: TroubleView[];
  /** Where something can befall it: ids of all that lies there. */
  holds: string[];
}

export interface LarderView {
  household: HouseholdView;
  shelves: LarderShelf[];
  eat_first: PackView[];
  totals: string[];
}

export interface CropChoice {
  key: string;
  name: string;
  foraged: boolean;
  animal: boolean;
  containers: string[];
  container_kg: number[];
}

export interface PlaceChoice {
  key: string;
  name: string;
  kind: string;
}

/** A crop brought in lately, and what was said of it then. */
export interface RecentCrop {
  crop: string;
  place: string;
  condition: string;
  as_said: string;
}

export interface Snapshot {
  household: HouseholdView;
  crops: CropChoice[];
  /** Newest first; not in a look kept from before it was sent. */
  recent?: RecentCrop[];
  places: PlaceChoice[];
  conditions: string[];
  people: string[];
  people_keys: string[];
  codes: string[];
}

export interface BringInDraft {
  crop: string;
  crop_name: string;
  form: string;
  amount_said: string;
  condition: string;
  place: string;
  place_name: string;
  mass_kg: number;
  mass_words: string;
  how_found: string;
  when: string;
}

/** One thing a person can do to help; chosen by the household, never here. */
export interface HelpTask {
  key: string;
  title: string;
  text: string;
  caution: string;
  why: string;
  action: 'stage' | 'move' | 'other_work';
  batch: string;
  stage: string;
  state: string;
  lot: string;
  place: string;
  other: string;
}

export interface HelpView {
  household: HouseholdView;
  person: string;
  name: string;
  tasks: HelpTask[];
  none: string;
}

/** Why the service would not do a thing, and what to do instead. */
export interface Refusal {
  code: string;
  message: string;
  instead: string[];
}

export interface Received {
  id: string;
  stored: boolean;
  refusal: Refusal | null;
}

/** What a household has set down about itself, each part in the very form its entry takes. */
export interface SettingsView {
  values: Record<string, string>;
  people: Person[];
  places: Place[];
  equipment: { key: string; count: number }[];
  stock: { item: string; amount: number }[];
}

/** A QR code as an SVG path in a square of `size`. */
export interface QrView {
  size: number;
  path: string;
}

/** What a device needs to know to be paired. */
export interface PairingView {
  shared: boolean;
  /** Over TLS. */
  secure: boolean;
  paired: boolean;
  /** Its name, once paired. */
  device: string;
  secure_address: string;
  fingerprint: string;
}

export interface PairingCode {
  code: string;
  seconds: number;
}

export interface PairedDevice {
  id: string;
  name: string;
  /** UTC. */
  paired: string;
  seen: string;
  secure: boolean;
}

export interface WayIn {
  address: string;
  by_name: boolean;
  /** The name is known to be answered to on the network. */
  announced: boolean;
  qr: QrView;
}

export interface SetUpView {
  fingerprint: string;
  until: string;
  /** Where a phone fetches the certificate; null when the household is not shared without TLS. */
  certificate: { address: string; qr: QrView } | null;
  ways: WayIn[];
  /** Addresses without TLS. */
  live: string[];
}

export interface DevicesView {
  shared: boolean;
  /** Id of the device that asks; empty on the household's computer. */
  this_device: string;
  devices: PairedDevice[];
  /** How another is set up: on the household's computer only. */
  set_up: SetUpView | null;
}

import type {
  AheadView,
  BatchView,
  DayView,
  HistoryLine,
  HouseholdView,
  LarderView,
  LearnedView,
  LotView,
  PackView,
  SettingsView,
  Snapshot,
  StartQuestion,
  StripMark,
  StripView,
  TaskView,
  Why,
} from '../src/api/types';

/** An invented household on an invented day, shaped like src/app/views.h: only for tests of how pages look. */

export const household: HouseholdView = {
  name: 'Hollow Road',
  place: 'Hollow Road',
  altitude_ft: 1250,
  units: 'us',
  zone: 'America/Chicago',
  now: '2026-09-16T07:40',
  now_utc: new Date().toISOString(),
  sequence: 412,
  empty: false,
};

/** A share that stays whole, then falls over `fall` days around `half`. */
const fading = (half: number, fall: number): number[] =>
  Array.from({ length: 57 }, (_, i) => Math.round(1000 / (1 + Math.exp((i * 0.5 - half) / (fall / 4)))) / 1000);

function strip(
  part: Partial<StripView> & { lot: string; name: string },
  low: number,
  likely: number,
  high: number,
): StripView {
  return {
    amount: '',
    place: 'kitchen counter',
    place_key: 'counter',
    condition: 'ripe',
    form: 'fresh',
    crop: part.lot,
    mass_kg: 10,
    standing: false,
    hazard_by: null,
    days_left: { low, likely, high, words: `${Math.round(low)} to ${Math.round(high)} days left` },
    usable: fading(likely, likely * 0.7),
    usable_low: fading(low, low * 0.7),
    usable_high: fading(high, high * 0.7),
    step_days: 0.5,
    marks: [],
    loss_per_day: 'about 2 lb a day',
    loss_kg_per_day: 0.9,
    cost_of_waiting: 4.1,
    cost_words: 'about $4 a day',
    next_move: 'Let it wait',
    next_at: '',
    let_go_reason: '',
    caution: '',
    ...part,
  };
}

const mark = (from: number, to: number, title: string, kind: StripMark['kind'] = 'stage'): StripMark => ({
  from,
  to,
  title,
  kind,
});

const chicken = strip(
  {
    lot: 'chicken',
    name: 'Chicken backs and bones',
    amount: '18 lb',
    place: 'fridge',
    place_key: 'fridge',
    condition: '',
    hazard_by: '2026-09-17T18:00',
    next_move: 'Simmer to broth',
    next_at: '2026-09-16T09:15',
    cost_words: 'about $21 a day',
    marks: [mark(0.07, 0.12, 'Roast and cover'), mark(0.12, 0.6, 'Simmer')],
  },
  1.4,
  1.4,
  1.4,
);
const plums = strip(
  {
    lot: 'plums',
    name: 'Damson plums, soft',
    amount: '1 peck',
    condition: 'soft',
    next_move: 'Cook down for jam',
    next_at: '2026-09-16T13:00',
    cost_words: 'about $9 a day',
    cost_of_waiting: 9.2,
    marks: [mark(0.22, 0.36, 'Jam')],
  },
  1,
  1.8,
  3,
);
const pears = strip(
  {
    lot: 'pears',
    name: 'Pears, firm',
    amount: '2 bu',
    condition: 'firm',
    next_move: 'Move to the cellar',
    next_at: '2026-09-16T08:00',
    cost_words: 'about $8 a day',
    marks: [mark(0.1, 0.12, 'Move to the cellar', 'hold'), mark(8.1, 8.4, 'Can as halves')],
  },
  7,
  10,
  14,
);
const grapes = strip(
  {
    lot: 'grapes',
    name: 'Grapes',
    amount: 'about 40 lb',
    place: 'north fence',
    standing: true,
    next_move: 'Pick',
    next_at: '2026-09-18T08:00',
    cost_words: 'about $3 a day',
    marks: [mark(2, 2.2, 'Pick', 'pick'), mark(3.1, 3.5, 'Juice')],
  },
  4,
  6,
  9,
);
const mushrooms = strip(
  {
    lot: 'mushrooms',
    name: 'Hen of the woods',
    amount: '3 lb',
    place: 'fridge',
    next_move: 'Dry',
    next_at: '2026-09-16T19:00',
    cost_words: 'about $3 a day',
    caution: 'Foraged: be certain what it is.',
    marks: [mark(0.47, 0.9, 'Dry')],
  },
  2,
  3,
  4,
);
const cucumbers = strip(
  {
    lot: 'cucumbers',
    name: 'Cucumbers, going over',
    amount: '1/2 bu',
    condition: 'going over',
    cost_words: 'about $1 a day',
    let_go_reason: 'Pickling asks for firm ones, and both free hours today are worth more on the plums.',
  },
  0.5,
  1,
  2,
);
const squash = strip(
  {
    lot: 'squash',
    name: 'Winter squash',
    amount: '60 lb',
    place: 'porch',
    days_left: { low: 80, likely: 110, high: 140, words: '3 to 5 months left' },
    usable: Array(57).fill(0.98),
    usable_low: Array(57).fill(0.95),
    usable_high: Array(57).fill(1),
    cost_words: '',
    next_move: 'Cure, then cellar',
    next_at: '2026-09-21T17:00',
    marks: [mark(5.4, 12, 'Cure')],
  },
  80,
  110,
  140,
);

function task(start: string, end: string, title: string, part: Partial<TaskView> = {}): TaskView {
  return {
    start: `2026-09-16T${start}`,
    end: `2026-09-16T${end}`,
    title,
    why: '',
    hands: ['Mary'],
    attention: 'hands_on',
    lot: '',
    batch: '',
    route: '',
    stage: '',
    other: '',
    state: 'planned',
    ...part,
  };
}

const today: TaskView[] = [
  task('07:40', '08:00', 'Move pears to the cellar', { lot: 'pears', hands: ['Tom'] }),
  task('08:00', '09:10', 'Split kindling', { hands: ['Tom'], other: 'kindling', why: 'Dry only until Thursday.' }),
  task('09:15', '09:45', 'Roast bones, cover with water', {
    lot: 'chicken',
    why: 'Must be cooked by tomorrow evening.',
  }),
  task('09:45', '21:30', 'Broth simmers in the slow cooker', { lot: 'chicken', hands: [], attention: 'unattended' }),
  task('13:00', '14:10', 'Stone and cook plums', {
    lot: 'plums',
    why: 'Soft: jam takes them as they are.',
    hands: ['Mary', 'Ann'],
  }),
  task('14:10', '14:50', 'Process 7 half-pints', { lot: 'plums', attention: 'nearby' }),
  task('14:50', '20:00', 'Jars cool', { lot: 'plums', hands: [], attention: 'unattended' }),
  task('19:00', '19:30', 'Slice mushrooms, load the dryer', { lot: 'mushrooms' }),
];

export const day: DayView = {
  household,
  next: {
    title: 'Move 2 bu of pears to the cellar',
    why: 'Twenty minutes now buys them about a month.',
    detail: 'At 52 °F they ripen about a fifth as fast as on the counter; the canner is free on Thursday week.',
    action: 'move',
    button: 'Moved',
    lot: 'pears',
    batch: '',
    route: '',
    place: 'cellar',
    other: '',
    parcel: '',
    kg: 45,
    hands: 'Tom',
    minutes: '20 min',
  },
  timers: [
    {
      id: '11',
      name: 'Cool under cover',
      batch: 'b1',
      batch_name: 'Applesauce',
      due: '2026-09-16T08:05',
      seconds_left: 1507,
    },
  ],
  running: [
    {
      batch: 'b1',
      name: 'Applesauce, 7 quarts',
      stage: 'process',
      title: 'Process in the boiling-water canner',
      state: 'underway',
      since: '2026-09-16T07:10',
      progress: 0.7,
    },
  ],
  today,
  strips: [chicken, plums, pears, grapes, mushrooms, cucumbers, squash],
  notices: ['Frost is likely on Friday night: 31 °F.', '12 quart lids are left; this week’s plan takes 14.'],
  discrepancies: ['Shelf: 9 quarts of beans counted, 10 by the book.'],
  clashes: [
    {
      kind: 'work',
      what: 'Roof needs two people for 6 h by Saturday; only Ida is free then.',
      way_out: 'Ask one more person, or do it in pieces.',
      about: ['roof'],
    },
  ],
  objective: {
    put_by: 214,
    still_sound: 60,
    materials: 18,
    energy: 3,
    effort: 31,
    lateness: 2,
    change: 0,
    total: 220,
  },
  plan_stale: false,
  seconds_to_plan: 0.8,
};

export const ahead: AheadView = {
  household,
  days: [
    {
      date: '2026-09-16',
      weekday: 'Wednesday',
      tasks: today,
      weather: '48 to 71 °F, dry',
      hours_planned: 4.5,
      hours_free: 6,
    },
    {
      date: '2026-09-17',
      weekday: 'Thursday',
      tasks: [task('16:00', '17:30', 'Pick grapes', { lot: 'grapes', hands: ['Tom', 'Ann'] })],
      weather: '52 to 70 °F, rain in the evening',
      hours_planned: 1.5,
      hours_free: 4,
    },
    { date: '2026-09-18', weekday: 'Friday', tasks: [], weather: '31 to 60 °F', hours_planned: 0, hours_free: 4 },
  ],
  strips: day.strips,
  objective: day.objective,
};

export const lot: LotView = {
  strip: pears,
  routes: [
    {
      route: 'pear/canned_halves',
      name: 'can as halves in light syrup',
      method: 'canned',
      product: 'canned halves',
      quality: 0.95,
      accepted: true,
      why_not: '',
      packs: 'about 18 quart jars',
      hours: '3 h 10 min of hands',
      worth: 'worth about $61',
      process_line:
        'Boiling-water canner, quarts, 30 min at 1,001 to 3,000 ft (USDA AIB-539 Guide 2, edition read 1994)',
      kg_most: 20,
      planned: true,
    },
    {
      route: 'pear/dried',
      name: 'dry as slices',
      method: 'dried',
      product: 'dried slices',
      quality: 0.8,
      accepted: true,
      why_not: '',
      packs: 'about 9 lb',
      hours: '2 h of hands',
      worth: 'worth about $40',
      process_line: '',
      kg_most: 8,
      planned: false,
    },
    {
      route: 'pear/butter',
      name: 'cook down to butter',
      method: 'canned',
      product: 'butter',
      quality: 0.9,
      accepted: false,
      why_not: 'It takes ripe or soft pears; these are firm.',
      packs: '',
      hours: '',
      worth: '',
      process_line: '',
      kg_most: 0,
      planned: false,
    },
  ],
  history: [
    {
      at: '2026-09-15T18:20',
      words: '2 bu of pears brought in, firm, to the kitchen counter',
      entry: 'e1',
      undone: false,
    },
  ],
  facts: ['At 32 °F, 2 to 7 months; at 68 °F, about 10 days from firm to ripe (USDA Handbook 66).'],
  why: [],
  lie_apart: ['Cabbage and carrots, which pears spoil with ethylene'],
  best_place: 'cellar',
};

export const why: Why = {
  lot: 'pears',
  sentences: ['Pears wait well once they are cold.', 'The canner is worth more on the tomatoes until Thursday week.'],
  waiting: [
    { days: 1, cost: 0.4, noise: 0.3 },
    { days: 2, cost: 1.9, noise: 0.3 },
    { days: 3, cost: 4.2, noise: 0.4 },
  ],
  binding: 'the canner on Saturday afternoon',
  next_best: 'dry as slices',
  next_best_loss: 21,
  would_save: '',
};

const step = {
  caution: '',
  attention: 'hands_on' as const,
  expected: '',
  started: '',
  finished: '',
  can_pause: false,
  shows_process: false,
  looks_right: '',
  load: 0,
  put_down_words: '',
  gather: [],
  timers: [],
  hands: [],
};

export const batch: BatchView = {
  household,
  id: 'b1',
  name: 'Pears, canned as halves',
  route: 'pear/canned_halves',
  state: 'underway',
  kg_in: 9.5,
  packs_expected: 7,
  amount: '21 lb',
  pack: 'quart jar',
  product_food: 'pear',
  product_form: 'canned halves',
  store_in: 'pantry shelf',
  store_key: 'shelf',
  eat_by: '2027-09-16',
  steps: [
    {
      ...step,
      stage: 'peel',
      title: 'Peel, core and halve',
      text: 'Peel and halve 21 lb. Drop into cold water with 3 tsp of ascorbic acid in the gallon.',
      state: 'done',
      expected: '1 h 20 min',
      can_pause: true,
      hands: ['Mary', 'Tom'],
      gather: ['7 quart jars', '7 lids', '1.2 lb sugar'],
    },
    {
      ...step,
      stage: 'process',
      title: 'Process in the boiling-water canner',
      text: 'Fill hot, headspace 1/2 in. Wipe rims, set lids. Lower the jars, cover by an inch, bring back to a full boil, then start the timer.',
      caution: 'Boiling water and hot jars: adults only at the stove, children out of the kitchen.',
      attention: 'nearby',
      state: 'underway',
      expected: '50 min',
      shows_process: true,
      looks_right: 'The boil never stops and the water stays an inch over the lids to the last minute.',
      put_down_words: 'Once begun, this cannot be put down: have the time, or somebody to take over.',
      timers: [{ id: '', name: 'Process', batch: 'b1', batch_name: 'Pears', due: '', seconds_left: 1800 }],
      hands: ['Mary'],
    },
    {
      ...step,
      stage: 'cool',
      title: 'Cool',
      text: 'Lift out. Let stand untouched 12 to 24 hours.',
      attention: 'unattended',
      state: 'later',
      expected: '12 h',
    },
  ],
  current: 1,
  process: {
    method: 'Boiling-water canner, hot pack',
    jar: 'quart',
    time: '30 min',
    pressure: '',
    headspace: '1/2 in',
    added_acid: '',
    altitude_band: '1,001 to 3,000 ft',
    source: 'USDA AIB-539 Guide 2',
    place: 'Table for pears',
    edition: 'edition read 1994',
    requirements: ['Not for Asian pears without added lemon juice'],
  },
  timers: [],
  cautions: ['Hot syrup burns: keep small children out of the kitchen.'],
  defer_to: 'Follow your canner’s manual first, and your extension service.',
  troubles: [
    {
      fault: 'boil_stopped',
      what: 'The boil stopped',
      asks: 'How many minutes ago did it happen?',
      see: 'The water no longer boiled all over.',
      spans: [
        {
          from_min: 0,
          to_min: 120,
          then: 'Bring it back to a hard boil and start the whole time again from zero.',
          source: 'USDA AIB-539 Guide 1, using boiling-water canners',
          outcomes: ['process_again'],
        },
        {
          from_min: 120,
          to_min: 1440,
          then: 'Lift the jars out and chill them: eat within days, or freeze.',
          source: 'common practice',
          outcomes: ['chill'],
        },
        {
          from_min: 1440,
          to_min: null,
          then: 'Throw it out untasted, and keep it from animals.',
          source: 'USDA-FSIS, food out of the cold',
          outcomes: ['discard'],
        },
      ],
    },
    {
      fault: 'mould_in_jar',
      what: 'Mould in a canned jar',
      asks: '',
      see: 'Growth on the food, or under the lid.',
      spans: [
        {
          from_min: 0,
          to_min: null,
          then: 'Do not taste it. Throw it out untasted, and keep it from animals.',
          source: 'USDA AIB-539 Guide 1',
          outcomes: ['discard'],
        },
      ],
    },
  ],
  went_wrong: [],
  processed: '',
  not_food: '',
  in_doubt: [],
  lots: ['Pears, firm'],
  seal_check_due: false,
  seal_check_from: '',
  packed_parcel: '',
  also: [],
  next_code: '7K3QD-4',
  deadlines: [],
  not_before: '',
};

function pack(parcel: string, name: string, part: Partial<PackView> = {}): PackView {
  return {
    parcel,
    code: `${parcel.toUpperCase()}QD-4`,
    name,
    food: name,
    form: 'canned',
    pack: 'quart jar',
    place: 'pantry shelf',
    place_key: 'shelf',
    put_by: '2025-09-20',
    eat_by: '2026-09-20',
    batch: '',
    lots: 'pears',
    packs: 9,
    mass_kg: 8,
    seals_unchecked: false,
    eat_first: false,
    note: '',
    process_line: '',
    do_not_eat: '',
    ...part,
  };
}
const beans = pack('7k3', 'Green beans', { eat_first: true });
export const larder: LarderView = {
  household,
  shelves: [
    {
      place: 'Pantry shelf',
      place_key: 'shelf',
      packs: [
        beans,
        pack('8m1', 'Applesauce', {
          packs: 7,
          seals_unchecked: true,
          eat_by: '2027-09-16',
          put_by: '2026-09-16',
          process_line: 'Processed as published in USDA AIB-539 Guide 2.',
        }),
      ],
      troubles: [],
      holds: [],
    },
    {
      place: 'Freezer',
      place_key: 'freezer',
      packs: [
        pack('9p2', 'Chicken broth', {
          pack: 'pint box',
          place: 'freezer',
          place_key: 'freezer',
          packs: 11,
          eat_by: '2027-01-10',
        }),
      ],
      troubles: [
        {
          fault: 'freezer_warm',
          what: 'The freezer was left open or had no power',
          asks: 'For how many minutes was it above 40 °F?',
          see: 'What is soft, or no longer has ice in it.',
          spans: [
            {
              from_min: 0,
              to_min: 120,
              then: 'Close it. What still has ice crystals freezes again.',
              source: 'USDA-FSIS, freezing and food safety',
              outcomes: ['go_on', 'discard'],
            },
            {
              from_min: 120,
              to_min: null,
              then: 'Throw it out untasted, and keep it from animals.',
              source: 'USDA-FSIS, freezing and food safety',
              outcomes: ['discard'],
            },
          ],
        },
      ],
      holds: ['9p2', 'tomatoes-whole'],
    },
  ],
  eat_first: [beans],
  totals: ['Green beans: 9 quart jars, about 3 weeks of what you eat', 'Applesauce: 7 quart jars, about 2 months'],
};

export const history: HistoryLine[] = [
  { at: '2026-09-16T07:10', words: 'Begun: Process in the boiling-water canner', entry: 'e9', undone: false },
  { at: '2026-09-15T18:22', words: 'Plums moved to the fridge', entry: 'e8', undone: true },
  ...lot.history,
];

export const learned: LearnedView = {
  household,
  words: 'From your own finished batches; from 3 on the plan goes by yours. Heat processes are never learned.',
  enough: 3,
  lines: [
    {
      route: 'bean_snap/frozen',
      crop: 'bean_snap',
      stage: 'snap_beans',
      route_name: 'green beans: blanch and freeze',
      what: 'Snap',
      published: '26 min for 9 lb',
      source: 'minutes common practice',
      checked: 'common practice',
      yours: '39 min for 9 lb (4.3 min a pound)',
      sure: '8 in 10 between 31 min and 49 min',
      from: '3 batches; 1 left out (put down, open through a night, or far off)',
      kg: 4,
      published_value: 26,
      value: 39,
      low: 31,
      high: 49,
      batches: 3,
      left_out: 1,
      lent: 0,
      used: true,
    },
  ],
};

export const snapshot: Snapshot = {
  household,
  crops: [
    'apple',
    'acorn squash',
    'beet',
    'bean, green',
    'carrot',
    'cucumber',
    'grape',
    'pear',
    'plum',
    'potato',
    'tomato',
  ].map((name) => ({
    key: name.replaceAll(/[^a-z]+/g, '_'),
    name,
    foraged: false,
    animal: false,
    containers: ['bushel', 'peck'],
    container_kg: [22.7, 5.7],
  })),
  places: [
    { key: 'counter', name: 'kitchen counter', kind: 'counter' },
    { key: 'cellar', name: 'cellar', kind: 'cellar' },
    { key: 'fridge', name: 'fridge', kind: 'fridge' },
    { key: 'shelf', name: 'pantry shelf', kind: 'shelf' },
  ],
  conditions: ['underripe', 'firm', 'ripe', 'soft', 'going over'],
  people: ['Mary', 'Tom', 'Ann'],
  people_keys: ['mary', 'tom', 'ann'],
  codes: ['7K3QD-4'],
};

export const settings: SettingsView = {
  values: { name: 'Hollow Road', altitude_ft: '1250.0', units: 'us', zone: 'America/Chicago' },
  people: [
    {
      key: 'mary',
      name: 'Mary',
      age_years: 41,
      skills: ['cooks', 'pressure_canning'],
      free: [{ weekday: 0, from_min: 960, to_min: 1200 }],
      usable_min_per_h: 45,
      most_min_per_day: 600,
      needs_minding: false,
    },
    {
      key: 'tom',
      name: 'Tom',
      age_years: 15,
      skills: [],
      free: [],
      usable_min_per_h: 45,
      most_min_per_day: 600,
      needs_minding: false,
    },
  ],
  places: [{ key: 'cellar', name: 'cellar', kind: 'cellar', temp_c: 11, humidity_pct: 80, capacity: 0 }],
  equipment: [{ key: 'boiling_water_canner', count: 1 }],
  stock: [{ item: 'jar_quart', amount: 24 }],
};

export const start: StartQuestion[] = [
  {
    key: 'altitude',
    question: 'How high above sea level is your kitchen?',
    help: 'For example 1,250 ft. Published heat processes depend on it.',
    answer: '',
    skipped: false,
  },
  {
    key: 'hands',
    question: 'Who helps, and how old are they?',
    help: 'For example: Mary 41 pressure, Tom 15.',
    answer: '',
    skipped: false,
  },
];

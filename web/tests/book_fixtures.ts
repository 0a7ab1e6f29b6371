import type { CropSheet, ProcessAnswer, RecipeList, RecipeSheet } from '../src/api/kitchen_book';

/** Invented answers of /process and /recipes: their figures are nobody's. */

export const process: ProcessAnswer = {
  ok: true,
  choices: ['pint', 'quart'].map((jar) => ({
    id: 'pears_hot',
    title: 'Pear, halves (hot pack)',
    style_of_pack: 'hot',
    method: 'boiling_water',
    added_acid: '',
    requires: ['compare_with_current_edition'],
    source: 'Invented Guide 2',
    source_place: 'Table 1',
    edition_read: '1994',
    said: {
      method: 'boiling-water canner',
      jar,
      time: '99 minutes',
      pressure: '',
      headspace: '1/2 in',
      altitude: '1,001 to 3,000 ft',
      first: ['Compare with the current edition before you begin.'],
    },
  })),
};

const listed = {
  key: 'salsa',
  name: 'pear salsa',
  kind: 'salsa',
  crops: ['pears'],
  crop_keys: ['pear'],
  by_weight: true,
};

export const recipes: RecipeList = {
  answer: 'list',
  recipes: [listed, { ...listed, key: 'jelly', name: 'pear jelly', kind: 'jelly', by_weight: false }],
  syrups: [
    { strength: 'light', sugar_pct: 20, makes_for: '7 quarts', said: '9 cups of water', source: 'Invented Guide 2' },
  ],
  brines: [{ degrees: 20, salt_pct: 5.28, source: 'by definition' }],
};

export const recipe: RecipeSheet = {
  answer: 'recipe',
  key: 'salsa',
  name: 'pear salsa',
  kind: 'salsa',
  pectin: '',
  base: 'pears',
  how: '1 bushel counts as 50 lb (invented)',
  pots: 2,
  pots_said: '2 pots of 25 lb each, one after the other: a larger pot boils down too slowly.',
  bound: 'At most 30 lb of pears in one pot: a larger pot boils down too slowly.',
  left_over: '',
  yield: 'about 12 to 14 pint jars',
  lines: [
    { item: 'pears', said: '25 lb', base: true, optional: false },
    { item: '5% vinegar', said: '2½ cups', base: false, optional: false },
    { item: 'ginger', said: '1 tbsp', base: false, optional: true },
  ],
  steps: [{ text: 'Chop the pears.', source: 'common practice' }],
  ferment: [{ temperature: '70 to 75 °F', days: '21 to 28 days', source: 'Invented Guide 6' }],
  checks: [{ days: 'day 1', text: 'All is under the brine.', source: 'Invented Guide 6' }],
  allowed: [
    { what: 'spices and dried herbs', why: 'they change the taste and not the acid', instead: '', source: 'Guide' },
  ],
  not_allowed: [{ what: 'less acid', why: 'the acid keeps it', instead: 'keep the printed acid', source: 'Guide' }],
  change: null,
  gel: { said: 'Done at 214 °F by thermometer.', source: 'Invented Guide 7' },
  ask: { food: 'pear', form: 'salsa', id: 'pears_hot' },
  process,
  cautions: ['Vinegar of 5 percent only.'],
  notes: '',
  source: 'Invented Guide 3',
};

export const leafletJelly: RecipeSheet = {
  ...recipe,
  key: 'jelly',
  name: 'pear jelly',
  process: {
    ok: false,
    code: 'makers_leaflet',
    message: 'No heat process is published for it.',
    instead: ['follow the pectin maker’s leaflet'],
  },
};

export const crop: CropSheet = {
  answer: 'crop',
  crop: 'pear',
  name: 'pears',
  recipes: [listed],
  acid_per_jar: [{ jar: 'pint', said: '1 tbsp of bottled lemon juice', source: 'Invented Guide 2' }],
  drying: [{ what: 'slices 10 mm', value: '8 to 16 hours; leathery', source: 'Invented', checked: 'from memory' }],
  freezing: [{ what: 'slices', value: 'good for 8 to 12 months', source: 'Invented', checked: 'read' }],
  syrups: recipes.syrups,
};

/** What /process and /recipes send: src/process/answer.h and src/kitchen/recipe_sheet.h, field for field. */

export interface ProcessChoice {
  id: string;
  title: string;
  style_of_pack: string;
  method: string;
  added_acid: string;
  requires: string[];
  source: string;
  source_place: string;
  edition_read: string;
  said: {
    method: string;
    jar: string;
    time: string;
    pressure: string;
    headspace: string;
    altitude: string;
    first: string[];
  };
}
export type ProcessAnswer =
  { ok: true; choices: ProcessChoice[] } | { ok: false; code: string; message: string; instead: string[] };

export interface Sourced {
  source: string;
}
export interface RecipeChange extends Sourced {
  what: string;
  why: string;
  instead: string;
}
export interface RecipeSheet extends Sourced {
  answer: 'recipe';
  key: string;
  name: string;
  kind: string;
  pectin: string;
  base: string;
  how: string;
  pots: number;
  pots_said: string;
  bound: string;
  left_over: string;
  yield: string;
  lines: { item: string; said: string; base: boolean; optional: boolean }[];
  steps: (Sourced & { text: string })[];
  ferment: (Sourced & { temperature: string; days: string })[];
  checks: (Sourced & { days: string; text: string })[];
  allowed: RecipeChange[];
  not_allowed: RecipeChange[];
  change: Omit<RecipeChange, 'instead'> | null;
  gel: (Sourced & { said: string }) | null;
  ask: { food: string; form: string; id: string } | null;
  process: ProcessAnswer | null;
  cautions: string[];
  notes: string;
}
export interface ListedRecipe {
  key: string;
  name: string;
  kind: string;
  crops: string[];
  crop_keys: string[];
  by_weight: boolean;
}
export interface SyrupLine extends Sourced {
  strength: string;
  sugar_pct: number;
  makes_for: string;
  said: string;
}
export interface CropSheet {
  answer: 'crop';
  crop: string;
  name: string;
  recipes: ListedRecipe[];
  acid_per_jar: (Sourced & { jar: string; said: string })[];
  drying: (Sourced & { what: string; value: string; checked: string })[];
  freezing: (Sourced & { what: string; value: string; checked: string })[];
  syrups: SyrupLine[];
}
export interface RecipeList {
  answer: 'list';
  recipes: ListedRecipe[];
  syrups: SyrupLine[];
  brines: (Sourced & { degrees: number; salt_pct: number })[];
}
export interface BrineSheet extends Sourced {
  said: string;
  basis: string;
  salometer: string;
}

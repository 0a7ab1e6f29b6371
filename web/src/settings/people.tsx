import { useState } from 'preact/hooks';

import { act } from '../shared/act';
import type { FreeTime, Person } from '../shared/entries';
import { Check, Fold, Form, NumberField, TextField } from '../shared/form';
import { readNumber } from '../shared/format';
import { t } from '../shared/texts';
import { freshKey } from './keys';

const nobody: Person = {
  key: '',
  name: '',
  age_years: 30,
  skills: [],
  free: Array.from({ length: 7 }, (_, weekday) => ({ weekday, from_min: 16 * 60, to_min: 20 * 60 })),
  usable_min_per_h: 45,
  most_min_per_day: 600,
  needs_minding: false,
};
const kSkills = ['cooks', 'pressure_canning', 'butchering'] as const;

/** The hands: who, how old, what they can do, when they have time. */
export function People({ people }: { people: Person[] }) {
  return (
    <section aria-labelledby="people">
      <h2 id="people">{t.settings.people}</h2>
      {people.map((person) => (
        <Fold key={person.key} title={t.settings.personLine(person.name, person.age_years)}>
          <PersonForm person={person} taken={people.map((one) => one.key)} />
        </Fold>
      ))}
      <Fold title={t.settings.addPerson}>
        <PersonForm key={people.length} person={nobody} taken={people.map((one) => one.key)} />
      </Fold>
    </section>
  );
}

function PersonForm({ person, taken }: { person: Person; taken: string[] }) {
  const [name, setName] = useState(person.name);
  const [age, setAge] = useState(String(person.age_years));
  const [skills, setSkills] = useState(person.skills);
  const [minding, setMinding] = useState(person.needs_minding);
  const [free, setFree] = useState(person.free);
  const years = readNumber(age);
  const ready = name.trim() !== '' && years !== null && years < 120;
  const save = (): void => {
    if (years === null) return;
    const key = person.key || freshKey(name, taken);
    const changed: Person = {
      ...person,
      key,
      name: name.trim(),
      age_years: Math.round(years),
      skills,
      free,
      needs_minding: minding,
    };
    void act([{ kind: 'person_set', what: { person: changed } }], t.settings.saved(name));
  };
  const remove = (): void =>
    void act([{ kind: 'person_removed', what: { key: person.key } }], t.settings.removed(person.name));
  return (
    <Form onSend={save} button={t.settings.save} ready={ready}>
      <TextField label={t.settings.personName} value={name} onChange={setName} />
      <NumberField label={t.settings.age} value={age} onChange={setAge} />
      {kSkills.map((skill) => (
        <Check
          key={skill}
          label={t.settings.skills[skill]}
          checked={skills.includes(skill)}
          onChange={(on) => setSkills(on ? [...skills, skill] : skills.filter((one) => one !== skill))}
        />
      ))}
      <Check label={t.settings.minding} checked={minding} onChange={setMinding} />
      <FreeDays free={free} onChange={setFree} />
      {person.key !== '' && (
        <button type="button" class="quiet" onClick={remove}>
          {t.settings.remove(person.name)}
        </button>
      )}
    </Form>
  );
}

const clock = (minutes: number): string =>
  `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;

function minutes(text: string): number | null {
  const match = /^(\d{2}):(\d{2})$/.exec(text);
  return match ? Number(match[1]) * 60 + Number(match[2]) : null;
}

/** One stretch of free time for each day of the week; rows for single dates are kept as they are. */
function FreeDays({ free, onChange }: { free: FreeTime[]; onChange: (free: FreeTime[]) => void }) {
  const set = (weekday: number, by: Partial<FreeTime>): void => {
    const at = free.findIndex((one) => one.weekday === weekday && !one.date);
    const before = free[at] ?? { weekday, from_min: 0, to_min: 0 };
    const after = { ...before, ...by };
    onChange(at < 0 ? [...free, after] : free.map((one, i) => (i === at ? after : one)));
  };
  return (
    <fieldset class="free-days">
      <legend>{t.settings.free}</legend>
      {t.weekdays.map((name, weekday) => {
        const row = free.find((one) => one.weekday === weekday && !one.date) ?? { from_min: 0, to_min: 0 };
        const field = (which: 'from_min' | 'to_min', label: string) => (
          <input
            type="time"
            aria-label={label}
            value={clock(Math.min(1439, row[which]))}
            onChange={(event) => {
              const value = minutes((event.target as HTMLInputElement).value);
              if (value !== null) set(weekday, { [which]: value });
            }}
          />
        );
        return (
          <div key={name}>
            <span>{name}</span>
            {field('from_min', t.settings.freeFrom(name))}
            {field('to_min', t.settings.freeTo(name))}
          </div>
        );
      })}
      <p class="help">{t.settings.freeHelp}</p>
    </fieldset>
  );
}

import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';

import { readNumber } from './format';
import { t } from './texts';

interface FieldProps {
  label: string;
  help?: string;
  value: string;
  onChange: (value: string) => void;
}

export function TextField(
  props: FieldProps & { type?: 'text' | 'search'; rows?: number; enterKey?: 'done' | 'go' | 'search' },
) {
  const id = useId();
  const { label, help, value, onChange, type = 'text', rows = 1, enterKey } = props;
  const shared = {
    id,
    value,
    autocomplete: 'off' as const,
    enterKeyHint: enterKey,
    'aria-describedby': help ? `${id}help` : undefined,
    onInput: (event: Event) => onChange((event.target as HTMLInputElement).value),
  };
  return (
    <div class="field">
      <label for={id}>{label}</label>
      {rows > 1 ? (
        <textarea rows={rows} {...shared} />
      ) : type === 'search' ? (
        <input type="search" {...shared} />
      ) : (
        <input type="text" {...shared} />
      )}
      {help && (
        <p class="help" id={`${id}help`}>
          {help}
        </p>
      )}
    </div>
  );
}

/** A number with thumb-sized less and more. */
export function NumberField(props: FieldProps & { unit?: string; step?: number }) {
  const id = useId();
  const { label, help, value, onChange, unit = '', step = 1 } = props;
  const change = (by: number): void => {
    const next = Math.max(0, Math.round(((readNumber(value) ?? 0) + by) * 100) / 100);
    onChange(String(next));
  };
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <div class="number">
        <button type="button" class="step" onClick={() => change(-step)} aria-label={t.form.less(label)}>
          −
        </button>
        <input
          id={id}
          inputMode="decimal"
          autocomplete="off"
          value={value}
          aria-describedby={help ? `${id}help` : undefined}
          onInput={(event) => onChange((event.target as HTMLInputElement).value)}
        />
        <button type="button" class="step" onClick={() => change(step)} aria-label={t.form.more(label)}>
          +
        </button>
        {unit !== '' && <span class="unit">{unit}</span>}
      </div>
      {help && (
        <p class="help" id={`${id}help`}>
          {help}
        </p>
      )}
    </div>
  );
}

export interface Option {
  key: string;
  name: string;
}

export function Select(props: FieldProps & { options: Option[]; none?: string }) {
  const id = useId();
  const { label, help, value, onChange, options, none } = props;
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <select
        id={id}
        value={value}
        aria-describedby={help ? `${id}help` : undefined}
        onChange={(event) => onChange((event.target as HTMLSelectElement).value)}
      >
        {none !== undefined && <option value="">{none}</option>}
        {options.map((option) => (
          <option key={option.key} value={option.key}>
            {option.name}
          </option>
        ))}
      </select>
      {help && (
        <p class="help" id={`${id}help`}>
          {help}
        </p>
      )}
    </div>
  );
}

/** One of a few, each a word large enough for a wet thumb. */
export function Choice(props: Omit<FieldProps, 'help'> & { options: Option[] }) {
  const id = useId();
  const { label, value, onChange, options } = props;
  return (
    <fieldset class="choice">
      <legend>{label}</legend>
      <div class="choice-words">
        {options.map((option) => (
          <label key={option.key}>
            <input
              type="radio"
              name={id}
              value={option.key}
              checked={option.key === value}
              onChange={() => onChange(option.key)}
            />
            <span>{option.name}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

export function Check(props: { label: string; checked: boolean; onChange: (checked: boolean) => void }) {
  return (
    <label class="check">
      <input
        type="checkbox"
        checked={props.checked}
        onChange={(event) => props.onChange((event.target as HTMLInputElement).checked)}
      />
      <span>{props.label}</span>
    </label>
  );
}

/** A form that sends by Enter as by its button, and never reloads the page. */
export function Form(props: { onSend: () => void; button: string; ready?: boolean; children: ComponentChildren }) {
  return (
    <form
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        if (props.ready !== false) props.onSend();
      }}
    >
      {props.children}
      <button type="submit" class="main" disabled={props.ready === false}>
        {props.button}
      </button>
    </form>
  );
}

/** Something to do that opens its form in place. */
export function Fold(props: { title: string; children: ComponentChildren; open?: boolean }) {
  return (
    <details class="fold" open={props.open ?? false}>
      <summary>{props.title}</summary>
      <div class="fold-body">{props.children}</div>
    </details>
  );
}

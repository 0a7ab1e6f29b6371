import type { ProcessChoice } from '../api/kitchen_book';
import { t } from '../shared/texts';
import './process.css';

/** Choices of one recipe and pack share a card. */
function cards(choices: ProcessChoice[]): ProcessChoice[][] {
  const groups = new Map<string, ProcessChoice[]>();
  for (const choice of choices) {
    const key = `${choice.id.split('_opt_')[0] ?? ''} ${choice.style_of_pack}`;
    groups.set(key, [...(groups.get(key) ?? []), choice]);
  }
  return [...groups.values()];
}

const different = (words: string[]): string[] => [...new Set(words.filter((word) => word !== ''))];

/** The published rows, set apart like recipe cards; nothing on them is computed. */
export function ProcessCards({ choices }: { choices: ProcessChoice[] }) {
  const all = cards(choices);
  return (
    <>
      {all.map((card) => (
        <Card key={`${card[0]?.id ?? ''}${card[0]?.style_of_pack ?? ''}`} card={card} />
      ))}
      <p class="small-print">{t.process.deferTo}</p>
    </>
  );
}

function Card({ card }: { card: ProcessChoice[] }) {
  const first = card[0];
  if (!first) return null;
  const sources = different(card.map((row) => t.process.sourceOf(row.source, row.source_place, row.edition_read)));
  return (
    <section class="process process-answer">
      <h3>{first.title}</h3>
      <ul class="process-rows">
        {card.map((row) => (
          <li key={`${row.id} ${row.said.jar} ${row.said.method} ${row.said.pressure}`}>
            <strong>
              {row.said.time}
              {row.said.pressure !== '' && `, ${row.said.pressure}`}
            </strong>
            <span>
              {t.process.row(row.said.jar, row.said.method)}
              <span class="soft"> {t.process.headspaceAnd(row.said.headspace, row.said.altitude)}</span>
            </span>
          </li>
        ))}
      </ul>
      {different(card.map((row) => row.added_acid)).map((acid) => (
        <p key={acid}>
          {t.process.acidWord}: {acid}.
        </p>
      ))}
      <ul class="plain">
        {different(card.flatMap((row) => row.said.first)).map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      {sources.map((line) => (
        <p key={line} class="small-print">
          {t.process.asPublished(line)}
        </p>
      ))}
    </section>
  );
}

import type { LearnedLine, LearnedView } from '../api/types';
import { Loaded } from '../shared/page';
import { t } from '../shared/texts';
import { useView } from '../shared/views';

/** Own figures beside the published ones, a table for each route. */
export function Learned() {
  const seen = useView<LearnedView>('/learned');
  return (
    <section aria-labelledby="learned">
      <h2 id="learned">{t.learned.title}</h2>
      <Loaded seen={seen}>
        {(view) =>
          view.lines.length === 0 ? (
            <p>{t.learned.none}</p>
          ) : (
            <>
              <p class="soft">{view.words}</p>
              {byRoute(view.lines).map((lines) => (
                <Table key={lines[0]?.route} lines={lines} />
              ))}
            </>
          )
        }
      </Loaded>
    </section>
  );
}

export function byRoute(lines: LearnedLine[]): LearnedLine[][] {
  const routes = new Map<string, LearnedLine[]>();
  for (const line of lines) routes.set(line.route, [...(routes.get(line.route) ?? []), line]);
  return [...routes.values()];
}

function Table({ lines }: { lines: LearnedLine[] }) {
  return (
    <table class="learned">
      <caption>{lines[0]?.route_name}</caption>
      <thead>
        <tr>
          <th scope="col">{t.learned.what}</th>
          <th scope="col">{t.learned.published}</th>
          <th scope="col">{t.learned.yours}</th>
          <th scope="col">{t.learned.sure}</th>
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => (
          <tr key={line.stage}>
            <th scope="row">{line.what}</th>
            <td data-label={t.learned.published}>
              {line.published}
              <br />
              <small>
                {line.checked}: {line.source}
              </small>
            </td>
            <td data-label={t.learned.yours}>
              {line.yours}
              {line.used && (
                <>
                  <br />
                  <small>{t.learned.used}</small>
                </>
              )}
            </td>
            <td data-label={t.learned.sure}>
              {line.sure}
              <br />
              <small>{line.from}</small>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

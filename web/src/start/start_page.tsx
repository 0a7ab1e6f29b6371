import { useEffect, useState } from 'preact/hooks';

import { answerStart, get } from '../api/client';
import type { Refusal, StartQuestion } from '../api/types';
import { Form, TextField } from '../shared/form';
import { Rejected } from '../shared/outbox';
import { Heading, No } from '../shared/page';
import { become } from '../shared/router';
import { t } from '../shared/texts';
import { outbox, refresh, useDay } from '../shared/views';

/** At most six questions, one at a time, each of which can be passed over. */
export function StartPage() {
  const [questions, setQuestions] = useState<StartQuestion[] | null>(null);
  const [at, setAt] = useState(0);
  const [failed, setFailed] = useState(false);
  useEffect(() => {
    get<StartQuestion[]>('/start')
      .then(setQuestions)
      .catch(() => setFailed(true));
  }, []);
  useEffect(() => {
    if (questions && at >= questions.length) {
      refresh();
      become('/bring-in');
    }
  }, [at, questions]);

  const zone = useDeviceZone();
  const question = questions?.[at];
  return (
    <div class="start">
      <Heading title={t.start.heading}>
        <p>{t.start.intro}</p>
      </Heading>
      {failed && <p>{t.offline.needs}</p>}
      {question && (
        <Question
          key={question.key}
          question={question}
          place={t.start.of(at + 1, questions.length)}
          onBack={at > 0 ? () => setAt(at - 1) : null}
          onNext={() => setAt(at + 1)}
        />
      )}
      {zone !== '' && <p class="soft">{t.start.clock(zone)}</p>}
      <p>
        <a href="/">{t.start.skipAll}</a>
      </p>
    </div>
  );
}

/** A new household takes this device's time zone, which it says on the page; the settings can change it. */
function useDeviceZone(): string {
  const household = useDay().data?.household ?? null;
  const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
  const wanted = household !== null && household.empty && (household.zone === 'UTC' || household.zone === '');
  useEffect(() => {
    if (wanted && zone !== 'UTC') {
      void outbox.record([{ kind: 'settings_changed', what: { values: { zone } } }], t.settings.zone).then(refresh);
    }
  }, [wanted, zone]);
  return household?.zone === zone || wanted ? zone : '';
}

interface Props {
  question: StartQuestion;
  place: string;
  onBack: (() => void) | null;
  onNext: () => void;
}

function Question({ question, place, onBack, onNext }: Props) {
  const [answer, setAnswer] = useState(question.answer);
  const [no, setNo] = useState<Refusal | null>(null);
  const [busy, setBusy] = useState(false);
  const send = async (words: string): Promise<void> => {
    setBusy(true);
    setNo(null);
    try {
      await answerStart(question.key, words);
      onNext();
    } catch (error) {
      setNo(error instanceof Rejected ? error.refusal : { code: 'offline', message: t.offline.needs, instead: [] });
    }
    setBusy(false);
  };
  return (
    <>
      <Form onSend={() => void send(answer.trim())} button={t.start.answer} ready={answer.trim() !== '' && !busy}>
        <p class="soft">{place}</p>
        <TextField
          label={question.question}
          help={question.help}
          value={answer}
          onChange={setAnswer}
          rows={question.key === 'waiting' ? 4 : 1}
        />
        <div aria-live="polite">{no && <No no={no} />}</div>
      </Form>
      <p class="start-skip">
        <button type="button" class="plain-button" disabled={busy} onClick={onNext}>
          {t.start.skip}
        </button>
        {onBack && (
          <button type="button" class="quiet" onClick={onBack}>
            {t.batch.back}
          </button>
        )}
      </p>
    </>
  );
}

import { useState } from 'preact/hooks';

import { readLine } from '../api/client';
import type { BringInDraft, Snapshot } from '../api/types';
import { Form, TextField } from '../shared/form';
import { Rejected } from '../shared/outbox';
import { Heading, Loaded, No } from '../shared/page';
import { t } from '../shared/texts';
import { useView } from '../shared/views';
import { Confirm } from './confirm';
import { guessLine, type Guess } from './read_line';
import { Taps } from './taps';
import './bring_in.css';

const nothing: Guess = { crop: null, count: 1, container: '', kg: 0, condition: '', place: '' };

export function BringInPage() {
  const seen = useView<Snapshot>('/snapshot');
  return (
    <>
      <Heading title={t.nav.bringIn} />
      <Loaded seen={seen}>{(snapshot) => <BringIn snapshot={snapshot} />}</Loaded>
    </>
  );
}

function BringIn({ snapshot }: { snapshot: Snapshot }) {
  const [draft, setDraft] = useState<BringInDraft | null>(null);
  const [guess, setGuess] = useState<Guess>(nothing);
  const [round, setRound] = useState(0);
  if (draft) {
    return (
      <Confirm
        draft={draft}
        foraged={snapshot.crops.find((crop) => crop.key === draft.crop)?.foraged ?? false}
        onBack={() => setDraft(null)}
        onDone={() => {
          setGuess(nothing);
          setDraft(null);
          setRound(round + 1);
        }}
      />
    );
  }
  const fallBack = (line: string): void => {
    setGuess({ ...nothing, ...guessLine(line, snapshot) });
    setRound(round + 1);
  };
  return (
    <div class="bring-in">
      <LineForm onDraft={setDraft} onOffline={fallBack} />
      <p class="or">{t.bringIn.or}</p>
      <Taps
        key={round}
        snapshot={snapshot}
        start={guess}
        onDraft={setDraft}
        onKept={() => {
          setGuess(nothing);
          setRound(round + 1);
        }}
      />
      <p>
        <a href="/butchering">{t.butchering.link}</a>
      </p>
    </div>
  );
}

function LineForm(props: { onDraft: (draft: BringInDraft) => void; onOffline: (line: string) => void }) {
  const [line, setLine] = useState('');
  const [no, setNo] = useState<{ message: string; instead: string[] } | null>(null);
  const [busy, setBusy] = useState(false);
  const send = async (): Promise<void> => {
    setBusy(true);
    setNo(null);
    try {
      props.onDraft(await readLine(line));
    } catch (error) {
      if (error instanceof Rejected) {
        setNo(error.refusal);
      } else {
        setNo({ message: t.bringIn.offlineLine, instead: [] });
        props.onOffline(line);
      }
    }
    setBusy(false);
  };
  return (
    <Form onSend={() => void send()} button={t.bringIn.read} ready={line.trim() !== '' && !busy}>
      <TextField enterKey="done" label={t.bringIn.line} help={t.bringIn.lineHelp} value={line} onChange={setLine} />
      <div aria-live="polite">{no && <No no={no} />}</div>
    </Form>
  );
}

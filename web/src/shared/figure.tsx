import { useId, useState } from 'preact/hooks';

/** A figure that can be tapped for how it was found. */
export function Figure({ words, how }: { words: string; how: string[] }) {
  const [open, setOpen] = useState(false);
  const id = useId();
  return (
    <>
      <button type="button" class="figure" aria-expanded={open} aria-controls={id} onClick={() => setOpen(!open)}>
        {words}
      </button>
      <span id={id} class="figure-how" hidden={!open}>
        {how.map((line) => (
          <span key={line}>{line}</span>
        ))}
      </span>
    </>
  );
}

/** Words that may be far too long for their place: three lines of them, and the rest for whoever asks. */
import { useLayoutEffect, useRef, useState } from 'react';
import './clamped.css';
import { Button } from './controls.tsx';

type Props = Readonly<{
  words: string;
  /** Where the words lead, if anywhere. */
  href?: string;
}>;

export function Clamped({ words, href }: Props) {
  const box = useRef<HTMLSpanElement>(null);
  const [long, setLong] = useState(false);
  const [all, setAll] = useState(false);
  // biome-ignore lint/correctness/useExhaustiveDependencies: measured anew for other words
  useLayoutEffect(() => {
    setAll(false);
    const element = box.current;
    setLong(element !== null && element.scrollHeight > element.clientHeight + 4);
  }, [words]);
  return (
    <>
      <span ref={box} className={all ? 'clamped clamped-open' : 'clamped'}>
        {href === undefined ? words : <a href={href}>{words}</a>}
      </span>
      {long && (
        <Button look="quiet" className="clamped-more" aria-expanded={all} onClick={() => setAll(!all)}>
          {all ? 'Show less' : 'Show all'}
        </Button>
      )}
    </>
  );
}

/** The survey by part, written short at the keyboard or chosen from lists; each finding can be changed where it stands. */
import { type KeyboardEvent, useId, useRef, useState } from 'react';
import { damages, type Finding as FindingOf, parts, type Severity, severityWords } from '../../core/book/book.ts';
import { findingInWords, readFinding } from '../../core/book/finding-words.ts';
import type { BookOpened, NotedFinding } from '../../core/contract/shelf.ts';
import { client, readTrouble } from '../app/client.ts';
import { Button } from '../parts/controls.tsx';
import { Photographs } from '../parts/photographs.tsx';
import { SavedSelect, SavedText } from '../parts/saved.tsx';
import { Completeness } from './completeness.tsx';
import { useAnswer } from './keep.ts';

export function Survey({ opened }: Readonly<{ opened: BookOpened }>) {
  const [changing, setChanging] = useState<string | null>(null);
  return (
    <section className="pane-part" id="pane-survey">
      <h3>Survey</h3>
      {opened.findings.length === 0 && <p className="soft">Nothing is noted yet.</p>}
      <ul className="findings">
        {opened.findings.map((finding) => (
          <li key={finding.id} className="finding">
            <Finding
              finding={finding}
              changing={changing === finding.id}
              onChange={() => setChanging(changing === finding.id ? null : finding.id)}
            />
          </li>
        ))}
      </ul>
      <NewFinding bookId={opened.book.id} />
      <Completeness opened={opened} />
    </section>
  );
}

type FindingProps = Readonly<{ finding: NotedFinding; changing: boolean; onChange: () => void }>;

function Finding({ finding, changing, onChange }: FindingProps) {
  const answer = useAnswer();
  const [trouble, setTrouble] = useState<string | null>(null);
  const keep = (patch: Partial<Omit<NotedFinding, 'id'>>) =>
    answer(client.shelf.saveFinding({ id: finding.id, patch }));
  async function remove(): Promise<void> {
    try {
      await answer(client.shelf.removeFinding({ id: finding.id }));
    } catch (error) {
      setTrouble(readTrouble(error).sentence);
    }
  }
  const words = `${finding.part} ${finding.damage}`;
  return (
    <>
      <div className="finding-line">
        <Grade severity={finding.severity} />
        <span className="finding-words">
          {words}
          {finding.count !== null && <span> × {finding.count}</span>}
          {finding.note !== '' && finding.note.toLowerCase() !== words && (
            <span className="soft">: {finding.note}</span>
          )}
        </span>
        <Button look="quiet" aria-expanded={changing} aria-label={`Change ${words}`} onClick={onChange}>
          {changing ? 'Done' : 'Change'}
        </Button>
        <Button look="quiet" aria-label={`Take back ${words}`} onClick={remove}>
          Take back
        </Button>
      </div>
      {trouble !== null && (
        <p className="field-trouble" role="alert">
          {trouble}
        </p>
      )}
      {changing && (
        <div className="fields finding-fields">
          <SavedSelect
            name="Part"
            value={finding.part}
            options={parts.map((part) => ({ value: part, words: part }))}
            keep={(part) => keep({ part })}
          />
          <SavedSelect
            name="Damage"
            value={finding.damage}
            options={damages.map((damage) => ({ value: damage, words: damage }))}
            keep={(damage) => keep({ damage })}
          />
          <SavedSelect
            name="How bad"
            value={`${finding.severity}`}
            options={[1, 2, 3].map((grade) => ({ value: `${grade}`, words: severityWords[grade as Severity] }))}
            keep={(grade) => keep({ severity: Number(grade) as Severity })}
          />
          <SavedText
            name="How many"
            value={finding.count === null ? '' : `${finding.count}`}
            keep={(text) => keep({ count: text.trim() === '' ? null : Number(text) })}
          />
          <SavedText name="Note" value={finding.note} keep={(note) => keep({ note })} />
        </div>
      )}
      {changing && <Photographs subject={{ kind: 'finding', findingId: finding.id }} />}
    </>
  );
}

/** One, two or three strokes, and the word for those who listen. */
function Grade({ severity }: Readonly<{ severity: Severity }>) {
  return (
    <svg className={`grade grade-${severity}`} viewBox="0 0 18 14" role="img" aria-label={severityWords[severity]}>
      {[1, 2, 3].map((stroke) => (
        <path key={stroke} className={stroke <= severity ? 'grade-on' : 'grade-off'} d={`M${stroke * 5 - 2} 2v10`} />
      ))}
    </svg>
  );
}

/** The finding noted last, on whichever book: a lot often has the same damage all along a shelf. */
let lastFinding: FindingOf | null = null;

/**
 * One line, kept with Enter, and the field is ready for the next. In the empty field a ditto mark (") notes the last finding again, on this
 * book or the next; a part alone takes the last damage.
 */
function NewFinding({ bookId }: Readonly<{ bookId: string }>) {
  const id = useId();
  const answer = useAnswer();
  const field = useRef<HTMLInputElement>(null);
  const [text, setText] = useState('');
  const [trouble, setTrouble] = useState<string | null>(null);
  const read = text.trim() === '' ? null : readAfter(text);

  async function add(): Promise<void> {
    if (read === null) return;
    if (!read.ok) return setTrouble(read.refusal.sentence);
    await note(read.value);
  }

  async function note(finding: FindingOf): Promise<void> {
    try {
      await answer(client.shelf.addFinding({ bookId, ...finding }));
      lastFinding = finding;
      setText('');
      setTrouble(null);
      field.current?.focus();
    } catch (error) {
      setTrouble(readTrouble(error).sentence);
    }
  }

  function onKey(event: KeyboardEvent): void {
    const again = event.key === '"' && text === '' && lastFinding !== null;
    if (event.key !== 'Enter' && !again) return;
    event.preventDefault();
    if (again && lastFinding !== null) void note(lastFinding);
    else void add();
  }

  return (
    <div className="field finding-new">
      <label className="field-name" htmlFor={id}>
        Add a finding: part, damage, how bad (1 to 3), how many (x2), note after a colon
      </label>
      <div className="finding-entry">
        <input
          id={id}
          ref={field}
          type="text"
          autoComplete="off"
          placeholder="joints split 2 x2: front, from the head"
          value={text}
          aria-invalid={trouble !== null}
          aria-describedby={`${id}-read`}
          onChange={(event) => {
            setText(event.target.value);
            setTrouble(null);
          }}
          onKeyDown={onKey}
        />
        <Button onClick={add} disabled={read === null}>
          Add
        </Button>
        {lastFinding !== null && text === '' && (
          <Button
            look="quiet"
            title="Ditto: the key &quot; in the empty field"
            onClick={() => lastFinding && note(lastFinding)}
          >
            Again: {lastFinding.part} {lastFinding.damage}
          </Button>
        )}
      </div>
      <span id={`${id}-read`} className={trouble === null ? 'field-hint' : 'field-trouble'} aria-live="polite">
        {trouble ?? (read === null ? ' ' : read.ok ? findingInWords(read.value) : read.refusal.sentence)}
      </span>
    </div>
  );
}

/** A part by itself has the damage noted last. */
function readAfter(text: string): ReturnType<typeof readFinding> {
  const read = readFinding(text);
  if (read.ok || lastFinding === null) return read;
  const again = readFinding(`${text.trim()} ${lastFinding.damage} ${lastFinding.severity}`);
  return again.ok ? again : read;
}

/** Find anything or do anything: one field, answered at every key. */

import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { type KeyboardEvent, useId, useState } from 'react';
import type { Found } from '../../core/contract/workshop.ts';
import { Dialog } from '../parts/dialog.tsx';
import { shortened } from '../parts/words.ts';
import { ask } from './client.ts';
import './finder.css';
import { pages, rooms } from './rooms.tsx';
import { goTo } from './route.ts';
import { setTheme } from './theme.ts';
import { useUndo } from './undo.ts';

type Choice = Readonly<{ id: string; title: string; detail: string; go: () => void }>;

const homes: Readonly<Record<Found['kind'], string>> = {
  book: 'shelf',
  material: 'stockroom',
  person: 'course',
  course: 'course',
};

export function Finder({ onClose }: Readonly<{ onClose: () => void }>) {
  const [words, setWords] = useState('');
  const [at, setAt] = useState(0);
  const list = useId();
  const { data: found } = useQuery({
    ...ask.workshop.find.queryOptions({ input: { words } }),
    enabled: words.trim() !== '',
    placeholderData: keepPreviousData,
  });
  const choices = [
    ...useCommands().filter(fits(words)),
    ...(words.trim() === '' ? [] : (found ?? []).map(foundChoice)),
  ];
  const current = Math.min(at, choices.length - 1);

  function take(choice: Choice | undefined): void {
    if (choice === undefined) return;
    onClose();
    choice.go();
  }

  function onKey(event: KeyboardEvent): void {
    if (event.key === 'ArrowDown') setAt(Math.min(current + 1, choices.length - 1));
    else if (event.key === 'ArrowUp') setAt(Math.max(current - 1, 0));
    else if (event.key === 'Enter') take(choices[current]);
    else return;
    event.preventDefault();
  }

  return (
    <Dialog title="Find or do anything" quietTitle onClose={onClose}>
      <input
        className="finder-field"
        type="search"
        role="combobox"
        aria-label="Find a book, a material, a person, or something to do"
        placeholder="A title, a shelf mark, a material, a person, or something to do"
        aria-expanded="true"
        aria-controls={list}
        aria-activedescendant={choices.length > 0 ? `${list}-${current}` : undefined}
        autoComplete="off"
        value={words}
        onKeyDown={onKey}
        onChange={(event) => {
          setWords(event.target.value);
          setAt(0);
        }}
      />
      <div id={list} className="finder-list" role="listbox" aria-label="What there is">
        {choices.map((choice, index) => (
          // biome-ignore lint/a11y/useKeyWithClickEvents: the field above has the keys
          <div
            key={choice.id}
            id={`${list}-${index}`}
            role="option"
            tabIndex={-1}
            aria-selected={index === current}
            ref={index === current ? intoView : undefined}
            onClick={() => take(choice)}
          >
            <span>{shortened(choice.title)}</span>
            <span className="soft small">{choice.detail}</span>
          </div>
        ))}
      </div>
      {choices.length === 0 && <p className="soft">Nothing begins with these words.</p>}
    </Dialog>
  );
}

function useCommands(): readonly Choice[] {
  const step = useUndo();
  return [
    { id: 'new book', title: 'Put in a new book', detail: 'Shelf', go: () => goTo('shelf', 'new') },
    { id: 'take in', title: 'Take in a list', detail: 'Shelf', go: () => goTo('shelf', 'take-in') },
    ...rooms.map(({ key, name, purpose }, index) => ({
      id: `room ${key}`,
      title: `Go to ${name}`,
      detail: `Ctrl ${index + 1} · ${purpose}`,
      go: () => goTo(key),
    })),
    ...pages.map(({ key, name, purpose }) => ({
      id: `page ${key}`,
      title: name,
      detail: purpose,
      go: () => goTo(key),
    })),
    { id: 'undo', title: 'Undo the last change', detail: 'Ctrl Z', go: () => step(false) },
    { id: 'redo', title: 'Do it again', detail: 'Ctrl Shift Z', go: () => step(true) },
    { id: 'light', title: 'Light theme', detail: '', go: () => setTheme('light') },
    { id: 'dark', title: 'Dark theme', detail: '', go: () => setTheme('dark') },
    { id: 'system', title: 'Theme as the system has it', detail: '', go: () => setTheme('system') },
  ];
}

function fits(words: string): (choice: Choice) => boolean {
  const typed = words.toLowerCase().split(/\s+/).filter(Boolean);
  return ({ title }) => typed.every((word) => ` ${title.toLowerCase()}`.includes(` ${word}`));
}

function foundChoice({ kind, id, title, detail }: Found): Choice {
  return {
    id: `${kind} ${id}`,
    title,
    detail: detail === '' ? kind : `${kind} · ${detail}`,
    go: () => goTo(homes[kind], id),
  };
}

function intoView(element: HTMLElement | null): void {
  element?.scrollIntoView({ block: 'nearest' });
}

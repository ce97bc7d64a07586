/** The keys that work everywhere: Ctrl+1..7 rooms, Ctrl+K finder, Ctrl+Z and Ctrl+Shift+Z, Esc closes what is open beside the list. */
import { useEffect, useEffectEvent } from 'react';
import { rooms } from './rooms.tsx';
import { goTo, readRoute } from './route.ts';
import { useUndo } from './undo.ts';

export function useKeys(onFind: () => void): void {
  const step = useUndo();
  const pressed = useEffectEvent((event: KeyboardEvent) => {
    if (event.defaultPrevented || event.isComposing) return;
    const key = event.key.toLowerCase();
    if (key === 'escape') return close(event);
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    const room = rooms[Number(event.key) - 1];
    if (room !== undefined && !event.shiftKey) goTo(room.key);
    else if (key === 'k' && !event.shiftKey) onFind();
    else if ((key === 'z' || key === 'y') && !typingHere(event.target)) step(key === 'y' || event.shiftKey);
    else return;
    event.preventDefault();
  });
  useEffect(() => {
    window.addEventListener('keydown', pressed);
    return () => window.removeEventListener('keydown', pressed);
  }, []);
}

/** What is typed and not yet kept is the field's own to take back. */
function typingHere(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLInputElement || target instanceof HTMLTextAreaElement)) return false;
  if (target.dataset.kept !== undefined) return target.dataset.kept === 'no';
  return !['checkbox', 'radio', 'button', 'range'].includes(target.type) && target.value !== '';
}

function close(event: KeyboardEvent): void {
  if (document.querySelector('[role="dialog"]') !== null) return;
  const { room, id } = readRoute(location.hash);
  if (id === null) return;
  event.preventDefault();
  goTo(room);
}

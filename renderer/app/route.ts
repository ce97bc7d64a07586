/** Where the page is: a room and, in it, one thing, kept in the address so that back and forward work: `#/shelf/0197…`. */
import { useSyncExternalStore } from 'react';

export type Route = Readonly<{ room: string; id: string | null }>;

export function useRoute(): Route {
  return readRoute(useSyncExternalStore(listen, () => location.hash));
}

/** The address of a room, or of one thing in it. */
export function addressOf(room: string, id: string | null = null): string {
  return id === null ? `#/${room}` : `#/${room}/${encodeURIComponent(id)}`;
}

/** Goes there; `quietly` without a step to come back to. */
export function goTo(room: string, id: string | null = null, quietly = false): void {
  const address = addressOf(room, id);
  if (address === location.hash) return;
  if (quietly) {
    history.replaceState(null, '', address);
    window.dispatchEvent(new HashChangeEvent('hashchange'));
  } else location.hash = address;
}

export function readRoute(hash: string): Route {
  const [, room = '', id = ''] = hash.split('/');
  return { room, id: id === '' ? null : decoded(id) };
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

function listen(changed: () => void): () => void {
  window.addEventListener('hashchange', changed);
  return () => window.removeEventListener('hashchange', changed);
}

/** Light, dark, or as the system has it; the choice is kept on this machine. */
import { useSyncExternalStore } from 'react';

export const themes = ['system', 'light', 'dark'] as const;
export type Theme = (typeof themes)[number];

const place = 'kettlestitch-theme';
const listeners = new Set<() => void>();
let theme: Theme = readTheme();
show();

export function useTheme(): Theme {
  return useSyncExternalStore(
    (changed) => {
      listeners.add(changed);
      return () => listeners.delete(changed);
    },
    () => theme,
  );
}

export function setTheme(next: Theme): void {
  theme = next;
  try {
    localStorage.setItem(place, next);
  } catch {
    // No place to keep it: it holds until the page is closed.
  }
  show();
  for (const changed of listeners) changed();
}

function readTheme(): Theme {
  try {
    const kept = localStorage.getItem(place);
    return themes.find((name) => name === kept) ?? 'system';
  } catch {
    return 'system';
  }
}

function show(): void {
  if (theme === 'system') delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = theme;
}

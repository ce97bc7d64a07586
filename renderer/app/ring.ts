/** Two soft notes when a press is due, where the person wants them; the choice is kept on this machine. */
import { useSyncExternalStore } from 'react';

const place = 'kettlestitch-ring';
const listeners = new Set<() => void>();
let wanted = readWanted();

export function useRing(): boolean {
  return useSyncExternalStore(
    (changed) => {
      listeners.add(changed);
      return () => listeners.delete(changed);
    },
    () => wanted,
  );
}

/** Switching it on rings once, so that it is heard how loud it is and the browser knows that sound is wanted. */
export function setRing(on: boolean): void {
  wanted = on;
  try {
    localStorage.setItem(place, on ? 'on' : 'off');
  } catch {
    // No place to keep it: it holds until the page is closed.
  }
  for (const changed of listeners) changed();
  ring();
}

let sound: AudioContext | null = null;

/** Rings where it is wanted and the browser allows it. */
export function ring(): void {
  if (!wanted) return;
  sound ??= new AudioContext();
  void sound.resume();
  for (const [index, hertz] of [659, 523].entries()) {
    const at = sound.currentTime + index * 0.28;
    const note = new OscillatorNode(sound, { frequency: hertz });
    const loud = new GainNode(sound, { gain: 0 });
    loud.gain.linearRampToValueAtTime(0.12, at + 0.02);
    loud.gain.exponentialRampToValueAtTime(0.001, at + 0.6);
    note.connect(loud).connect(sound.destination);
    note.start(at);
    note.stop(at + 0.65);
  }
}

function readWanted(): boolean {
  try {
    return localStorage.getItem(place) === 'on';
  } catch {
    return false;
  }
}

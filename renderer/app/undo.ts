/** Undo and redo, as the keys, the buttons and the finder do them. */
import { useQueryClient } from '@tanstack/react-query';
import { client, readTrouble } from './client.ts';
import { say } from './say.ts';

/** Takes the last change back, or does it again, and says which it was. */
export function useUndo(): (again: boolean) => void {
  const queries = useQueryClient();
  return (again) => {
    const asked = again ? client.workshop.redo() : client.workshop.undo();
    void asked
      .then(
        ({ label }) => say(`${again ? 'Done again' : 'Undone'}: ${label}`),
        (error: unknown) => say(readTrouble(error).sentence),
      )
      .finally(() => queries.invalidateQueries());
  };
}

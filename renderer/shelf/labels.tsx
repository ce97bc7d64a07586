/** Labels for the marked books: how the sheet is divided, and the address their codes open. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { LabelGrid } from '../../core/contract/shelving.ts';
import { ask, client } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { Button, TextField } from '../parts/controls.tsx';
import { Dialog } from '../parts/dialog.tsx';
import { saveFile } from '../parts/files.ts';
import { TroubleNotice } from '../parts/notices.tsx';

/** Eight rows of three, about 64 × 34 mm each on A4. Common practice, no source. */
const usual: LabelGrid = { rows: 8, columns: 3, topMm: 13, leftMm: 7, gapDownMm: 0, gapAcrossMm: 2.5, used: 0 };

const names: readonly (readonly [keyof LabelGrid, string])[] = [
  ['rows', 'Rows'],
  ['columns', 'Columns'],
  ['topMm', 'Margin above and below, mm'],
  ['leftMm', 'Margin left and right, mm'],
  ['gapDownMm', 'Between rows, mm'],
  ['gapAcrossMm', 'Between columns, mm'],
  ['used', 'Labels used already'],
];

export function Labels({ ids, onClose }: Readonly<{ ids: readonly string[]; onClose: () => void }>) {
  const { data: sharing } = useQuery(ask.sharing.status.queryOptions());
  const here = location.origin.startsWith('http') ? location.origin : 'http://127.0.0.1:8765';
  const [typed, setTyped] = useState<string | null>(null);
  const address = typed ?? sharing?.on?.address ?? here;
  const [grid, setGrid] = useState(usual);
  const print = useChange(client.shelving.labels);
  return (
    <Dialog title={`Labels for ${ids.length === 1 ? 'one book' : `${ids.length} books`}`} onClose={onClose}>
      <div className="fields">
        {names.map(([key, name]) => (
          <TextField
            key={key}
            name={name}
            type="number"
            min={0}
            step={key.endsWith('Mm') ? 0.1 : 1}
            value={Number.isNaN(grid[key]) ? '' : grid[key]}
            onChange={(event) => setGrid({ ...grid, [key]: event.target.valueAsNumber })}
          />
        ))}
      </div>
      <TextField
        name="The codes open the book at"
        value={address}
        hint="The same address each time: start the program with --port, or share it with tablets. The browser must have been let in."
        onChange={(event) => setTyped(event.target.value)}
      />
      {print.error !== null && <TroubleNotice error={print.error} />}
      <div className="actions">
        <Button
          look="main"
          disabled={print.isPending}
          onClick={() =>
            print.mutate(
              { ids: [...ids], address, grid },
              {
                onSuccess: (file) => {
                  saveFile(file);
                  onClose();
                },
              },
            )
          }
        >
          Print labels
        </Button>
        <Button look="quiet" onClick={onClose}>
          Close
        </Button>
      </div>
    </Dialog>
  );
}

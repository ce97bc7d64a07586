/** The maker's hazard sheet: an address outside, opened only after asking. The desktop asks by itself. */
import { useState } from 'react';
import { useStatus } from '../app/queries.ts';
import { Button } from '../parts/controls.tsx';
import { Dialog } from '../parts/dialog.tsx';

export function HazardSheet({ address, of }: Readonly<{ address: string; of: string }>) {
  const [asking, setAsking] = useState(false);
  const shell = useStatus().data?.shell;
  if (!address.startsWith('https://')) return null;
  const link = (words: string) => (
    <a href={address} target="_blank" rel="noopener noreferrer" onClick={() => setAsking(false)}>
      {words}
    </a>
  );
  if (shell === 'desktop') return link('Hazard sheet');
  return (
    <>
      <Button
        look="quiet"
        className="hazard-sheet"
        aria-label={`Hazard sheet of ${of}`}
        onClick={() => setAsking(true)}
      >
        Hazard sheet
      </Button>
      {asking && (
        <Dialog title="Open this address?" onClose={() => setAsking(false)}>
          <p>The hazard sheet of {of} lies outside the workshop, at</p>
          <p className="hazard-address">{address}</p>
          <div className="actions">
            {link('Open it in a new tab')}
            <Button onClick={() => setAsking(false)}>Stay here</Button>
          </div>
        </Dialog>
      )}
    </>
  );
}

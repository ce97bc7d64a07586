/** A question that stands before everything else until it is answered or closed. */
import { Dialog as Base } from '@base-ui/react/dialog';
import type { ReactNode } from 'react';
import './parts.css';

type Props = Readonly<{
  title: string;
  /** The title is for those who listen; what is in the dialog says it for those who look. */
  quietTitle?: boolean;
  /** As wide as there is room, for pictures. */
  wide?: boolean;
  onClose: () => void;
  children: ReactNode;
}>;

/** Open for as long as it is on the page. Esc and a click beside it close it. */
export function Dialog({ title, quietTitle = false, wide = false, onClose, children }: Props) {
  return (
    <Base.Root open onOpenChange={(open) => !open && onClose()}>
      <Base.Portal>
        <Base.Backdrop className="dialog-back" />
        <Base.Popup className={wide ? 'dialog dialog-wide' : 'dialog'}>
          <Base.Title className={quietTitle ? 'visually-hidden' : 'dialog-title'}>{title}</Base.Title>
          {children}
        </Base.Popup>
      </Base.Portal>
    </Base.Root>
  );
}

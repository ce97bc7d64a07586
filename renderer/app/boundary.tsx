/** Keeps a fault in one room from taking the page with it, and says what happened. */
import { Component, type ReactNode } from 'react';
import { Button } from '../parts/controls.tsx';
import { Notice } from '../parts/notices.tsx';
import { readTrouble } from './client.ts';

type Props = Readonly<{ children: ReactNode }>;
type State = Readonly<{ error: unknown }>;

export class Boundary extends Component<Props, State> {
  override state: State = { error: null };

  static getDerivedStateFromError(error: unknown): State {
    return { error };
  }

  override render(): ReactNode {
    const { error } = this.state;
    if (error === null) return this.props.children;
    const trouble = readTrouble(error);
    const sentence =
      trouble.kind === 'lost' && error instanceof Error
        ? `Something went wrong in the page itself: ${error.message.replace(/\.$/, '')}.`
        : trouble.sentence;
    return (
      <div role="alert" className="empty">
        <Notice kind="harm">
          <p>{sentence}</p>
          <p>What was saved is kept. Try this room again, or go to another one.</p>
          <Button onClick={() => this.setState({ error: null })}>Try again</Button>
        </Notice>
      </div>
    );
  }
}

/** How far long work is, with a way to stop it that leaves nothing behind. */
import { Button } from '../parts/controls.tsx';

export function Progress({ words, share, onStop }: Readonly<{ words: string; share: number; onStop: () => void }>) {
  const percent = Math.round(share * 100);
  return (
    <div className="progress">
      <progress aria-label={words} value={percent} max={100} />
      <span role="status">
        {words}: {percent} %
      </span>
      <Button onClick={onStop}>Stop</Button>
    </div>
  );
}

/** Taking in a list, in the room of the shelf it will fill. */
import { EmptyRoom } from '../parts/notices.tsx';

export function TakeInPane() {
  return (
    <EmptyRoom title="Take in a list">
      <p>A CSV list with the columns you have will be read here, shown before anything is kept.</p>
    </EmptyRoom>
  );
}

/** The window: the rail of rooms, the press line across the top, the room itself, and the quiet sentence at its foot. */
import { Suspense, useEffect, useRef, useState } from 'react';
import { EmptyRoom, TroubleNotice } from '../parts/notices.tsx';
import { Boundary } from './boundary.tsx';
import { Finder } from './finder.tsx';
import { FirstRun } from './first-run.tsx';
import './frame.css';
import { useKeys } from './keys.ts';
import { PressDue, useDue } from './press-due.tsx';
import { PressLineBar } from './press-line.tsx';
import { useStatus } from './queries.ts';
import { Rail } from './rail.tsx';
import { pages, type Room, rooms } from './rooms.tsx';
import { useRoute } from './route.ts';
import { hush, hushAll, useSaid } from './say.ts';

export function Frame() {
  const status = useStatus();
  if (status.data === undefined) {
    return status.error === null ? (
      <Opening />
    ) : (
      <main className="empty">
        <h1>The workshop does not answer</h1>
        <TroubleNotice error={status.error} again={() => void status.refetch()} />
      </main>
    );
  }
  if (status.data.open === null) return <FirstRun status={status.data} />;
  return <Open workshop={status.data.open.folder} name={status.data.open.name} />;
}

function Open({ workshop, name }: Readonly<{ workshop: string; name: string }>) {
  const [finding, setFinding] = useState(false);
  const route = useRoute();
  const room = [...rooms, ...pages].find(({ key }) => key === route.room) ?? (rooms[0] as Room);
  useKeys(() => setFinding(true));
  const due = useDue();
  useEffect(() => {
    document.title = `${due.length > 0 ? `(${due.length} due) ` : ''}${room.name} · ${name}`;
  }, [room.name, name, due.length]);
  const roomBefore = useRef(room.key);
  useEffect(() => {
    if (roomBefore.current !== room.key) hushAll();
    roomBefore.current = room.key;
  }, [room.key]);
  return (
    <div className="frame">
      <button type="button" className="skip" onClick={toRoom}>
        Skip to the room
      </button>
      <PressLineBar onFind={() => setFinding(true)} />
      <PressDue due={due} />
      <Rail current={room.key} />
      <main className="room" id="room" tabIndex={-1} data-room={room.key}>
        <h1 className="visually-hidden">{room.name}</h1>
        <Boundary key={`${workshop} ${room.key}`}>
          <Suspense fallback={<Opening />}>
            {room.Content ? <room.Content /> : <EmptyRoom title={room.name}>{notYet(room)}</EmptyRoom>}
          </Suspense>
        </Boundary>
      </main>
      <Sentence />
      {finding && <Finder onClose={() => setFinding(false)} />}
    </div>
  );
}

function notYet(room: Room) {
  return (
    <>
      <p>{room.purpose}</p>
      <p className="soft">This room is not built yet. Nothing you keep in the other rooms waits for it.</p>
    </>
  );
}

function toRoom(): void {
  document.getElementById('room')?.focus();
}

function Opening() {
  return (
    <p className="opening" role="status">
      Opening …
    </p>
  );
}

/** Long enough to read twice; the journal in the Day-book keeps it for good. Common practice, no source. */
const saidForMs = 7000;

function Sentence() {
  const said = useSaid((state) => state.said);
  useEffect(() => {
    if (said === null) return;
    const timer = setTimeout(() => hush(said.seq), saidForMs);
    return () => clearTimeout(timer);
  }, [said]);
  return (
    <div className="sentence" role="status" aria-live="polite">
      {said !== null && <p key={said.seq}>{said.sentence}</p>}
    </div>
  );
}

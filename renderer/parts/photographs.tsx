/**
 * The photographs of a book, of a finding or of a piece: looked at, added by choosing, dropping, pasting or with a tablet's camera,
 * compared side by side. One line where they belong: `<Photographs subject={{ kind: 'book', bookId }} />`.
 */
import { useQuery } from '@tanstack/react-query';
import { useEffect, useEffectEvent, useId, useRef, useState } from 'react';
import {
  largestPhotographBytes,
  type Photograph,
  type PhotographStage,
  type PhotographSubject,
  photographAddress,
} from '../../core/contract/photographs.ts';
import { ask, client, readTrouble } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { Button, SelectField } from './controls.tsx';
import { Notice, TroubleNotice } from './notices.tsx';
import { PhotographCompare } from './photograph-compare.tsx';
import { PhotographView } from './photograph-view.tsx';
import { stageOptions } from './photograph-words.ts';
import './photographs.css';

type Props = Readonly<{
  subject: PhotographSubject;
  /** Said above them; left out where the place says it. */
  heading?: string;
}>;

/** As many as fit on a screen or two; of more, so many are shown at a time. */
const shownAtOnce = 60;

export function Photographs({ subject, heading }: Props) {
  const list = useQuery(ask.photographs.list.queryOptions({ input: { subject } }));
  const [openId, setOpenId] = useState<string | null>(null);
  const [turned, setTurned] = useState(0);
  const [comparing, setComparing] = useState(false);
  const photographs = list.data ?? [];
  const turns = Math.ceil(photographs.length / shownAtOnce);
  const turn = Math.max(0, Math.min(turned, turns - 1));
  const shown = photographs.slice(turn * shownAtOnce, (turn + 1) * shownAtOnce);
  const open = photographs.find((one) => one.id === openId);
  return (
    <div className="photographs">
      {heading !== undefined && (
        <h3>
          {heading} {photographs.length > 0 && <span className="soft small">{photographs.length}</span>}
        </h3>
      )}
      {list.error && <TroubleNotice error={list.error} again={() => void list.refetch()} />}
      {photographs.length > 0 && (
        <ul className="photographs-list">
          {shown.map((one) => (
            <li key={one.id}>
              <Thumbnail photograph={one} subject={subject} onOpen={() => setOpenId(one.id)} />
            </li>
          ))}
        </ul>
      )}
      {turns > 1 && <Turns turn={turn} turns={turns} count={photographs.length} onTurn={setTurned} />}
      <Add subject={subject} onCompare={photographs.length > 1 ? () => setComparing(true) : null} />
      {open && <PhotographView key={open.id} photograph={open} onClose={() => setOpenId(null)} />}
      {comparing && <PhotographCompare photographs={photographs} onClose={() => setComparing(false)} />}
    </div>
  );
}

type TurnsProps = Readonly<{ turn: number; turns: number; count: number; onTurn: (turn: number) => void }>;

function Turns({ turn, turns, count, onTurn }: TurnsProps) {
  const options = Array.from({ length: turns }, (_, at) => ({
    value: `${at}`,
    words: `${at * shownAtOnce + 1}–${Math.min((at + 1) * shownAtOnce, count)} of ${count.toLocaleString('en')}`,
  }));
  return (
    <div className="photographs-ways">
      <Button aria-label="The photographs before" disabled={turn === 0} onClick={() => onTurn(turn - 1)}>
        ←
      </Button>
      <SelectField
        name="Shown"
        value={`${turn}`}
        onChange={(event) => onTurn(Number(event.target.value))}
        options={options}
      />
      <Button aria-label="The next photographs" disabled={turn === turns - 1} onClick={() => onTurn(turn + 1)}>
        →
      </Button>
    </div>
  );
}

type ThumbnailProps = Readonly<{ photograph: Photograph; subject: PhotographSubject; onOpen: () => void }>;

function Thumbnail({ photograph, subject, onOpen }: ThumbnailProps) {
  const { hash, stage, caption, finding, marks, widthPx, heightPx } = photograph;
  const [lost, setLost] = useState(false);
  const words = [stage, subject.kind === 'book' ? finding : '', caption].filter(Boolean).join(', ');
  return (
    <button type="button" className="photographs-one" onClick={onOpen}>
      {lost ? (
        <span className="photographs-lost">It cannot be shown; its original may be missing.</span>
      ) : (
        <img
          src={photographAddress(hash, 'small')}
          alt=""
          loading="lazy"
          width={widthPx}
          height={heightPx}
          onError={() => setLost(true)}
        />
      )}
      <span className="photographs-words small">
        <span className="visually-hidden">Photograph: </span>
        {words || 'no words yet'}
        {marks.length > 0 && <span className="soft"> · {marks.length === 1 ? 'a mark' : `${marks.length} marks`}</span>}
      </span>
    </button>
  );
}

type AddProps = Readonly<{ subject: PhotographSubject; onCompare: (() => void) | null }>;

function Add({ subject, onCompare }: AddProps) {
  const fileId = useId();
  const cameraId = useId();
  const field = useRef<HTMLDivElement>(null);
  const [stage, setStage] = useState<PhotographStage>(subject.kind === 'piece' ? '' : 'before');
  const [busy, setBusy] = useState<string | null>(null);
  const [refused, setRefused] = useState<readonly string[]>([]);
  const [over, setOver] = useState(false);
  const add = useChange(client.photographs.add);

  async function take(files: readonly File[]): Promise<void> {
    if (busy !== null || files.length === 0) return;
    const troubles: string[] = [];
    for (const [index, file] of files.entries()) {
      setBusy(files.length === 1 ? 'Keeping it …' : `Keeping ${index + 1} of ${files.length} …`);
      try {
        if (file.size > largestPhotographBytes) throw new Error('larger');
        const base64 = await base64Of(file);
        await add.mutateAsync({ subject, fileName: file.name, base64, stage, caption: '' });
      } catch (error) {
        const sentence =
          file.size > largestPhotographBytes
            ? 'This photograph is larger than the 24 MB that can be kept. Save it smaller, then add it.'
            : readTrouble(error).sentence;
        troubles.push(`${file.name}: ${sentence}`);
      }
    }
    setRefused(troubles);
    setBusy(null);
  }

  // Pasted pictures go to the one list of the pane, or to the one that has the focus.
  const onPaste = useEffectEvent((event: ClipboardEvent) => {
    const files = picturesIn(event.clipboardData);
    const within = event.target instanceof Node && field.current?.closest('.photographs')?.contains(event.target);
    if (files.length === 0 || event.defaultPrevented || (subject.kind === 'finding' && !within)) return;
    event.preventDefault();
    void take(files);
  });
  useEffect(() => {
    const listen = (event: ClipboardEvent) => onPaste(event);
    document.addEventListener('paste', listen);
    return () => document.removeEventListener('paste', listen);
  }, []);

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: dropping is one of four ways; the others are the buttons within
    <div
      ref={field}
      className={`photographs-add ${over ? 'photographs-over' : ''}`}
      onDragOver={(event) => {
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={(event) => {
        event.preventDefault();
        setOver(false);
        void take(picturesIn(event.dataTransfer));
      }}
    >
      <div className="photographs-ways">
        <label className="button" htmlFor={fileId}>
          Add photographs
        </label>
        <input
          id={fileId}
          type="file"
          className="visually-hidden"
          accept="image/jpeg,image/png,image/webp"
          multiple
          disabled={busy !== null}
          onChange={(event) => {
            void take([...(event.target.files ?? [])]);
            event.target.value = '';
          }}
        />
        <label className="button photographs-camera" htmlFor={cameraId}>
          Take one
        </label>
        <input
          id={cameraId}
          type="file"
          className="visually-hidden photographs-camera"
          accept="image/*"
          capture="environment"
          disabled={busy !== null}
          onChange={(event) => {
            void take([...(event.target.files ?? [])]);
            event.target.value = '';
          }}
        />
        {subject.kind !== 'piece' && (
          <SelectField
            name="Taken"
            value={stage}
            onChange={(event) => setStage(event.target.value as PhotographStage)}
            options={stageOptions}
          />
        )}
        {onCompare !== null && <Button onClick={onCompare}>Side by side</Button>}
      </div>
      <p className="small soft" role="status">
        {busy ?? 'Or drop them here, or paste one. The original is kept as it is.'}
      </p>
      {refused.length > 0 && (
        <div role="alert">
          <Notice kind="caution">
            {refused.map((sentence) => (
              <p key={sentence}>{sentence}</p>
            ))}
          </Notice>
        </div>
      )}
    </div>
  );
}

function picturesIn(data: DataTransfer | null): readonly File[] {
  return [...(data?.files ?? [])];
}

function base64Of(file: File): Promise<string> {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result).replace(/^[^,]*,/, ''));
    reader.onerror = () => reject(reader.error);
    reader.readAsDataURL(file);
  });
}

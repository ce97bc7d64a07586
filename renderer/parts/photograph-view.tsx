/** One photograph, large: its words, marks over it by pointer or by keys, its scale, a copy to give away. */
import { type KeyboardEvent, type PointerEvent, useEffect, useRef, useState } from 'react';
import type { Photograph } from '../../core/contract/photographs.ts';
import {
  type KnownLine,
  type MarkKind,
  markKinds,
  mmPerPixel,
  type PictureMark,
  type Spot,
  strokeOf,
} from '../../core/photographs/marks.ts';
import { readLength } from '../../core/units/lengths.ts';
import { client } from '../app/client.ts';
import { useChange, useHabits } from '../app/queries.ts';
import { Button, TextField } from './controls.tsx';
import { Dialog } from './dialog.tsx';
import { saveFile } from './files.ts';
import { Measure } from './measure.tsx';
import { TroubleNotice } from './notices.tsx';
import { MarkedPicture, ScaleShape } from './photograph-marks.tsx';
import { photographName, stageOptions } from './photograph-words.ts';
import { SavedSelect, SavedText } from './saved.tsx';
import { clockWords, dayWords } from './words.ts';

type Ends = Readonly<{ from: Spot; to: Spot }>;
/** What the pointer and the arrow keys move. */
type Chosen = Readonly<{ what: 'mark'; at: number }> | Readonly<{ what: 'scale' }> | null;

export function PhotographView({ photograph, onClose }: Readonly<{ photograph: Photograph; onClose: () => void }>) {
  const { timeZone } = useHabits();
  const { id, widthPx, heightPx } = photograph;
  const save = useChange(client.photographs.save);
  const copy = useChange(client.photographs.copy);
  const remove = useChange(client.photographs.remove, () => 'Taken away. Ctrl+Z brings it back.');
  const [marks, setMarks] = useState(photograph.marks);
  const [line, setLine] = useState<Ends | null>(photograph.scale);
  const [chosen, setChosen] = useState<Chosen>(null);
  const drawing = useRef<Spot | null>(null);
  const picture = useRef<SVGSVGElement>(null);

  // What another change or an undo makes of them shows here too.
  useEffect(() => setMarks(photograph.marks), [photograph.marks]);
  useEffect(() => setLine(photograph.scale), [photograph.scale]);

  const keepMarks = (next: readonly PictureMark[]) => {
    setMarks(next);
    return save.mutateAsync({ id, changes: { marks: next.map((mark) => ({ ...mark })) } });
  };

  function ends(): Ends | null {
    if (chosen === null) return null;
    return chosen.what === 'scale' ? line : (marks[chosen.at] ?? null);
  }

  /** Moves the chosen one without keeping it yet; what it is then. */
  function place(next: Ends): readonly PictureMark[] {
    if (chosen?.what !== 'mark') {
      setLine({ from: next.from, to: next.to });
      return marks;
    }
    const moved = marks.map((mark, at) => (at === chosen.at ? { ...mark, ...next } : mark));
    setMarks(moved);
    return moved;
  }

  function spotOf(event: PointerEvent): Spot {
    const { left, top, width, height } = event.currentTarget.getBoundingClientRect();
    // The picture lies in the middle of its frame.
    const scale = Math.min(width / widthPx, height / heightPx);
    const x = (event.clientX - left - (width - widthPx * scale) / 2) / scale;
    const y = (event.clientY - top - (height - heightPx * scale) / 2) / scale;
    return { x: within(x, widthPx), y: within(y, heightPx) };
  }

  function drag(event: PointerEvent, done: boolean): void {
    const from = drawing.current;
    const kind = chosen?.what === 'mark' ? marks[chosen.at]?.kind : 'scale';
    if (from === null || chosen === null) return;
    const to = spotOf(event);
    const next = place(kind === 'words' ? { from: to, to } : { from, to });
    if (!done) return;
    drawing.current = null;
    if (chosen.what === 'mark') void keepMarks(next);
  }

  /** Arrows move it, with Shift its far end. */
  function onKey(event: KeyboardEvent): void {
    const step = Math.max(widthPx, heightPx) / 100;
    const ways: Readonly<Record<string, Spot>> = {
      ArrowLeft: { x: -step, y: 0 },
      ArrowRight: { x: step, y: 0 },
      ArrowUp: { x: 0, y: -step },
      ArrowDown: { x: 0, y: step },
    };
    const way = ways[event.key];
    const now = ends();
    if (way === undefined || now === null) return;
    event.preventDefault();
    const moved = ({ x, y }: Spot) => ({ x: within(x + way.x, widthPx), y: within(y + way.y, heightPx) });
    place({ from: event.shiftKey ? now.from : moved(now.from), to: moved(now.to) });
  }

  function addMark(kind: MarkKind): void {
    const middle = (share: number) => ({ x: widthPx * share, y: heightPx * share });
    const mark = {
      kind,
      from: middle(0.4),
      to: middle(kind === 'words' ? 0.4 : 0.6),
      words: kind === 'words' ? 'Words' : '',
    };
    setChosen({ what: 'mark', at: marks.length });
    void keepMarks([...marks, mark]);
  }

  function startScale(): void {
    setLine(line ?? { from: { x: widthPx * 0.2, y: heightPx / 2 }, to: { x: widthPx * 0.8, y: heightPx / 2 } });
    setChosen({ what: 'scale' });
  }

  const unkept = JSON.stringify(marks) !== JSON.stringify(photograph.marks);
  /** What the arrow keys moved last is kept even where the dialog goes before the focus does. */
  function close(): void {
    if (unkept) void keepMarks(marks);
    onClose();
  }
  const stroke = strokeOf(widthPx, heightPx);
  const showLine = line !== null && (chosen?.what === 'scale' || photograph.scale !== null);
  return (
    <Dialog title={photographName(photograph)} quietTitle wide onClose={close}>
      <MarkedPicture
        photograph={photograph}
        marks={marks}
        name={photographName(photograph)}
        drawn={picture}
        className={`photographs-large ${chosen === null ? '' : 'photographs-drawing'}`}
        onPointerDown={(event) => {
          if (chosen === null) return;
          event.preventDefault();
          event.currentTarget.setPointerCapture(event.pointerId);
          drawing.current = spotOf(event);
        }}
        onPointerMove={(event) => drag(event, false)}
        onPointerUp={(event) => drag(event, true)}
      >
        {showLine && <ScaleShape line={line} stroke={stroke} />}
      </MarkedPicture>
      <p className="small soft">
        {photograph.takenAt === null
          ? `Added ${dayWords(photograph.addedAt, timeZone)}`
          : `Taken ${dayWords(photograph.takenAt, timeZone)} ${clockWords(photograph.takenAt, timeZone)}`}
        {`, ${widthPx} × ${heightPx} pixels, ${photograph.fileName}. `}
        <Size photograph={photograph} />
      </p>
      <div className="fields">
        <SavedText
          name="Caption"
          value={photograph.caption}
          keep={(caption) => save.mutateAsync({ id, changes: { caption } })}
        />
        {photograph.pieceId === null && (
          <SavedSelect
            name="Taken"
            value={photograph.stage}
            options={stageOptions}
            keep={(stage) => save.mutateAsync({ id, changes: { stage } })}
          />
        )}
      </div>
      <div className="actions photographs-tools">
        {markKinds.map((kind) => (
          <Button key={kind} onClick={() => addMark(kind)}>
            {markNames[kind]}
          </Button>
        ))}
        <Button onClick={startScale}>{photograph.scale === null ? 'Set the scale' : 'Change the scale'}</Button>
      </div>
      {chosen !== null && (
        <p className="small soft">Draw it on the picture, or use “Move”: arrow keys move it, with Shift its far end.</p>
      )}
      {chosen?.what === 'scale' && line !== null && (
        <ScaleForm
          line={line}
          lengthMm={photograph.scale?.lengthMm ?? null}
          onKey={onKey}
          onClose={() => setChosen(null)}
          keep={(scale) => save.mutateAsync({ id, changes: { scale } })}
        />
      )}
      <ul className="plain-list photographs-marks">
        {marks.map((mark, at) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: marks have no other name than their place
          <li key={at}>
            <Button
              aria-pressed={chosen?.what === 'mark' && chosen.at === at}
              aria-label={`Move ${mark.kind} ${at + 1}`}
              onClick={() => setChosen({ what: 'mark', at })}
              onFocus={() => setChosen({ what: 'mark', at })}
              onKeyDown={onKey}
              onBlur={() => unkept && void keepMarks(marks)}
            >
              Move
            </Button>
            <SavedText
              name={`Words at ${mark.kind} ${at + 1}`}
              value={mark.words}
              keep={(words) => keepMarks(marks.map((one, other) => (other === at ? { ...one, words } : one)))}
            />
            <Button
              look="quiet"
              aria-label={`Take off ${mark.kind} ${at + 1}`}
              onClick={() => {
                setChosen(null);
                void keepMarks(marks.filter((_, other) => other !== at));
              }}
            >
              Take off
            </Button>
          </li>
        ))}
      </ul>
      {[save, copy, remove].map(({ error }, at) => error && <TroubleNotice key={troubleKeys[at]} error={error} />)}
      <div className="actions">
        <Button onClick={() => copy.mutate({ id, marks: marks.length > 0 }, { onSuccess: saveFile })}>
          Save a copy without place and date
        </Button>
        <Button look="harm" onClick={() => remove.mutate({ id }, { onSuccess: onClose })}>
          Take away
        </Button>
        <Button onClick={close}>Close</Button>
      </div>
    </Dialog>
  );
}

const markNames: Readonly<Record<MarkKind, string>> = { arrow: 'Arrow', ring: 'Ring', box: 'Box', words: 'Words' };
const troubleKeys = ['save', 'copy', 'remove'] as const;

function within(value: number, whole: number): number {
  return Math.round(Math.max(0, Math.min(whole, value)) * 10) / 10;
}

function Size({ photograph: { scale, widthPx, heightPx } }: Readonly<{ photograph: Photograph }>) {
  const scaled = scale === null ? null : mmPerPixel(scale);
  if (!scaled?.ok) return null;
  return (
    <>
      The picture is <Measure mm={widthPx * scaled.value} /> wide and <Measure mm={heightPx * scaled.value} /> high.
    </>
  );
}

type ScaleProps = Readonly<{
  line: Ends;
  lengthMm: number | null;
  onKey: (event: KeyboardEvent) => void;
  keep: (scale: KnownLine | null) => Promise<unknown>;
  onClose: () => void;
}>;

function ScaleForm({ line, lengthMm, onKey, keep, onClose }: ScaleProps) {
  const { units } = useHabits();
  const [text, setText] = useState(lengthMm === null ? '' : `${lengthMm} mm`);
  const [trouble, setTrouble] = useState<string | undefined>();
  async function submit(): Promise<void> {
    const read = readLength(text, { defaultUnit: units });
    if (!read.ok) return setTrouble(read.refusal.sentence);
    const scale = { from: line.from, to: line.to, lengthMm: read.value };
    const scaled = mmPerPixel(scale);
    if (!scaled.ok) return setTrouble(scaled.refusal.sentence);
    await keep(scale).then(onClose, () => undefined);
  }
  return (
    <form
      className="photographs-scale"
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
    >
      <Button onKeyDown={onKey} aria-label="Move the line of known length">
        Move
      </Button>
      <TextField
        name="The line is so long"
        placeholder="120 mm"
        value={text}
        onChange={(event) => {
          setText(event.target.value);
          setTrouble(undefined);
        }}
        trouble={trouble}
      />
      <Button type="submit">Keep the scale</Button>
      {lengthMm !== null && (
        <Button look="quiet" onClick={() => void keep(null).then(onClose, () => undefined)}>
          Take the scale off
        </Button>
      )}
    </form>
  );
}

/** A colour measured in a photograph: where the cloth is and where the neutral card, drawn with the pointer or set by figures. */
import { useQuery } from '@tanstack/react-query';
import { type PointerEvent, useEffect, useId, useRef, useState } from 'react';
import type { PieceLine } from '../../core/contract/offcuts.ts';
import { type Photograph, type PhotographSubject, photographAddress } from '../../core/contract/photographs.ts';
import { type MeasuredColour, measureColour, type Patch } from '../../core/salvage/photograph.ts';
import { ask } from '../app/client.ts';
import { Button, SelectField, TextField } from '../parts/controls.tsx';
import { Notice } from '../parts/notices.tsx';
import { Swatch } from './swatch.tsx';
import { labWords } from './words.ts';

type Props = Readonly<{
  /** A piece or book whose kept photographs may be measured as well as a file. */
  subject?: PhotographSubject;
  onMeasured: (lab: NonNullable<PieceLine['lab']>, how: string) => void;
}>;

/** In hundredths of the picture's width and height. */
type Box = Readonly<{ left: number; top: number; width: number; height: number }>;
type Boxes = Readonly<{ cloth: Box; card: Box }>;

const usual: Boxes = {
  cloth: { left: 15, top: 35, width: 25, height: 25 },
  card: { left: 65, top: 35, width: 15, height: 20 },
};

/** More pixels than this on a side add nothing to a mean. */
const mostPixels = 1200;

const cards = [
  { value: '50', words: 'grey card, 18 % (L* 50)' },
  { value: '95', words: 'white card (L* 95)' },
  { value: '65', words: 'light grey (L* 65)' },
];

export function ColourFromPhotograph({ subject, onMeasured }: Props) {
  const inputId = useId();
  const { data: kept = [] } = useQuery({
    ...ask.photographs.list.queryOptions({ input: { subject: subject ?? { kind: 'piece', pieceId: 'none' } } }),
    enabled: subject !== undefined,
  });
  const canvas = useRef<HTMLCanvasElement>(null);
  const [picture, setPicture] = useState<Readonly<{ bitmap: ImageBitmap; name: string }> | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const [boxes, setBoxes] = useState(usual);
  const [drawing, setDrawing] = useState<keyof Boxes>('cloth');
  const [cardL, setCardL] = useState('50');
  const [measured, setMeasured] = useState<MeasuredColour | null>(null);
  const start = useRef<Readonly<{ x: number; y: number }> | null>(null);

  useEffect(() => {
    if (picture && canvas.current) paint(canvas.current, picture.bitmap, boxes);
  }, [picture, boxes]);

  async function take(file: File | undefined): Promise<void> {
    if (!file) return;
    setMeasured(null);
    try {
      setPicture({ bitmap: await createImageBitmap(file), name: file.name });
      setTrouble(null);
    } catch {
      setTrouble('This file is no picture that can be read here; use JPEG or PNG.');
    }
  }

  /** One that is kept, as it is shown large: upright and in sRGB. */
  async function takeKept(photograph: Photograph | undefined): Promise<void> {
    if (!photograph) return;
    setMeasured(null);
    try {
      const image = new Image();
      image.src = photographAddress(photograph.hash, 'large');
      await image.decode();
      setPicture({ bitmap: await createImageBitmap(image), name: photograph.caption || photograph.fileName });
      setTrouble(null);
    } catch {
      setTrouble('The original of this photograph is missing or can no longer be read.');
    }
  }

  function change(which: keyof Boxes, box: Box): void {
    setBoxes({ ...boxes, [which]: box });
    setMeasured(null);
  }

  function at({ clientX, clientY, currentTarget }: PointerEvent<HTMLCanvasElement>) {
    const { left, top, width, height } = currentTarget.getBoundingClientRect();
    const share = (value: number, whole: number) => Math.max(0, Math.min(100, (100 * value) / whole));
    return { x: share(clientX - left, width), y: share(clientY - top, height) };
  }

  function measure(): void {
    if (!picture) return;
    const answer = measureColour(
      patchOf(picture.bitmap, boxes.cloth),
      patchOf(picture.bitmap, boxes.card),
      Number(cardL),
    );
    setTrouble(answer.ok ? null : answer.refusal.sentence);
    setMeasured(answer.ok ? answer.value : null);
  }

  return (
    <details>
      <summary>Measure the colour from a photograph</summary>
      <p className="small soft">
        Photograph the cloth beside a neutral card in even light, then say where each is. The light is taken out by the
        card; the colour is kept as Lab under D50.
      </p>
      {kept.length > 0 && (
        <SelectField
          name={subject?.kind === 'book' ? 'One that is kept with the book' : 'One that is kept with the piece'}
          value=""
          onChange={(event) => void takeKept(kept.find((one) => one.id === event.target.value))}
          options={[
            { value: '', words: 'choose …' },
            ...kept.map((one) => ({ value: one.id, words: one.caption || one.fileName })),
          ]}
        />
      )}
      <div className="field">
        <label className="field-name" htmlFor={inputId}>
          {kept.length > 0 ? 'Or a file' : 'Photograph'}
        </label>
        <input
          id={inputId}
          type="file"
          accept="image/jpeg,image/png,image/webp"
          onChange={(event) => void take(event.target.files?.[0])}
        />
      </div>
      {picture && (
        <>
          <canvas
            ref={canvas}
            className="photograph"
            aria-label={`${picture.name}, with the patches of cloth and card`}
            onPointerDown={(event) => {
              start.current = at(event);
              event.currentTarget.setPointerCapture(event.pointerId);
            }}
            onPointerMove={(event) => {
              if (!start.current) return;
              const { x, y } = at(event);
              const from = start.current;
              change(drawing, {
                left: Math.min(x, from.x),
                top: Math.min(y, from.y),
                width: Math.abs(x - from.x),
                height: Math.abs(y - from.y),
              });
            }}
            onPointerUp={() => {
              start.current = null;
            }}
          />
          <div className="fields">
            <SelectField
              name="Draw, or set below"
              value={drawing}
              onChange={(event) => setDrawing(event.target.value as keyof Boxes)}
              options={[
                { value: 'cloth', words: 'where the cloth is' },
                { value: 'card', words: 'where the card is' },
              ]}
            />
            <SelectField
              name="The card"
              value={cardL}
              onChange={(event) => {
                setCardL(event.target.value);
                setMeasured(null);
              }}
              options={cards}
            />
            {(['left', 'top', 'width', 'height'] as const).map((side) => (
              <TextField
                key={side}
                name={`${drawing}: ${side}, %`}
                type="number"
                min={0}
                max={100}
                value={Math.round(boxes[drawing][side])}
                onChange={(event) =>
                  change(drawing, {
                    ...boxes[drawing],
                    [side]: Math.max(0, Math.min(100, Number(event.target.value) || 0)),
                  })
                }
              />
            ))}
          </div>
          <div className="actions piece-actions">
            <Button onClick={measure}>Measure</Button>
          </div>
        </>
      )}
      {trouble !== null && (
        <Notice kind="caution">
          <p role="alert">{trouble}</p>
        </Notice>
      )}
      {measured && picture && (
        <div className="measured" role="status">
          <Swatch
            piece={{
              heightMm: 40,
              widthMm: 40,
              grain: null,
              shownLab: measured.lab,
              lab: measured.lab,
              pattern: null,
            }}
            scale={1}
            most={40}
          />
          <p>
            Lab {labWords(measured.lab)} under D50; spread over the patch ΔE00 {measured.spread}.
          </p>
          <Button
            onClick={() =>
              onMeasured(
                measured.lab,
                `From the photograph ${picture.name}, against a card of L* ${cardL}, adapted to D50; spread ΔE00 ${measured.spread}`,
              )
            }
          >
            Use this colour
          </Button>
          {measured.warnings.map((warning) => (
            <Notice key={warning} kind="caution">
              <p>{warning}</p>
            </Notice>
          ))}
        </div>
      )}
    </details>
  );
}

/** The picture with its two patches, each in black and white so that it shows on any cloth. */
function paint(canvas: HTMLCanvasElement, bitmap: ImageBitmap, boxes: Boxes): void {
  const scale = Math.min(1, mostPixels / bitmap.width, mostPixels / bitmap.height);
  canvas.width = Math.round(bitmap.width * scale);
  canvas.height = Math.round(bitmap.height * scale);
  const context = canvas.getContext('2d');
  if (!context) return;
  context.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  const stroke = Math.max(2, canvas.width / 250);
  context.font = `${stroke * 8}px sans-serif`;
  for (const [name, { left, top, width, height }] of Object.entries(boxes)) {
    const [x, y] = [(left / 100) * canvas.width, (top / 100) * canvas.height];
    const [w, h] = [(width / 100) * canvas.width, (height / 100) * canvas.height];
    for (const [colour, dash] of [
      ['white', []],
      ['black', [stroke * 3, stroke * 3]],
    ] as const) {
      context.strokeStyle = colour;
      context.lineWidth = stroke;
      context.setLineDash([...dash]);
      context.strokeRect(x, y, w, h);
    }
    context.setLineDash([]);
    context.lineWidth = stroke * 2;
    context.strokeStyle = 'white';
    context.strokeText(name, x + stroke, y - stroke * 2);
    context.fillStyle = 'black';
    context.fillText(name, x + stroke, y - stroke * 2);
  }
}

/** The pixels of a patch, no finer than they need be. */
function patchOf(bitmap: ImageBitmap, { left, top, width, height }: Box): Patch {
  const [x, y] = [(left / 100) * bitmap.width, (top / 100) * bitmap.height];
  const [w, h] = [Math.max(1, (width / 100) * bitmap.width), Math.max(1, (height / 100) * bitmap.height)];
  const scale = Math.min(1, mostPixels / w, mostPixels / h);
  const canvas = new OffscreenCanvas(Math.max(1, Math.round(w * scale)), Math.max(1, Math.round(h * scale)));
  const context = canvas.getContext('2d', { colorSpace: 'srgb', willReadFrequently: true });
  if (!context) return { width: 0, height: 0, pixels: new Uint8ClampedArray() };
  context.drawImage(bitmap, x, y, w, h, 0, 0, canvas.width, canvas.height);
  const { data } = context.getImageData(0, 0, canvas.width, canvas.height);
  return { width: canvas.width, height: canvas.height, pixels: data };
}

/**
 * Photographs of books, of what a survey found and of pieces in the drawer. The original stays as it came; what is set down over it
 * (stage, caption, scale, marks) is a row. The page shows one by its address: `photographAddress`.
 */
import { type } from '@orpc/contract';
import { z } from 'zod';
import { type KnownLine, markKinds, type PictureMark } from '../photographs/marks.ts';
import { ask, type FileAnswer, id } from './ask.ts';

/** Common practice, no source: what a good camera makes, and in base64 still within one question. */
export const largestPhotographBytes = 24_000_000;

export const photographStages = ['before', 'during', 'after', ''] as const;
/** Where in the treatment it was taken; empty where that does not matter. */
export type PhotographStage = (typeof photographStages)[number];

export const photographSubject = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('book'), bookId: id }),
  z.object({ kind: z.literal('finding'), findingId: id }),
  z.object({ kind: z.literal('piece'), pieceId: id }),
]);
export type PhotographSubject = Readonly<z.infer<typeof photographSubject>>;

export type Photograph = Readonly<{
  id: string;
  /** SHA-256 of the original, hexadecimal. */
  hash: string;
  mediaType: string;
  bytes: number;
  /** Of the picture upright. */
  widthPx: number;
  heightPx: number;
  /** UTC milliseconds by the camera's clock; null where it does not say. */
  takenAt: number | null;
  addedAt: number;
  bookId: string | null;
  findingId: string | null;
  pieceId: string | null;
  /** "joints split" of the finding it shows; empty where it shows none. */
  finding: string;
  stage: PhotographStage;
  caption: string;
  fileName: string;
  scale: KnownLine | null;
  marks: readonly PictureMark[];
}>;

/** `small` for lists, `large` for looking, marking and measuring; upright and without what the camera wrote into the file. */
export type PhotographSize = 'small' | 'large';

export function photographAddress(hash: string, size: PhotographSize): string {
  return `/photographs/${hash}/${size}`;
}

const spot = z.object({ x: z.number().min(-1e5).max(1e5), y: z.number().min(-1e5).max(1e5) });
const knownLine = z.object({
  from: spot,
  to: spot,
  lengthMm: z
    .number('Say how long the line is, in millimetres.')
    .positive('A length is more than nothing.')
    .max(10_000),
});
const mark = z.object({
  kind: z.enum(markKinds),
  from: spot,
  to: spot,
  words: z.string().max(300, 'Words on a picture: 300 characters at most.'),
});
const caption = z.string().max(2000, 'A caption has 2,000 characters at most.');

const changes = z.object({
  stage: z.enum(photographStages).optional(),
  caption: caption.optional(),
  scale: knownLine.nullable().optional(),
  marks: z.array(mark).max(200, 'Two hundred marks on one picture are as many as can be read.').optional(),
});

export const photographsContract = {
  /** Of a book all, those of its findings as well; by stage, then as they were taken. */
  list: ask.input(z.object({ subject: photographSubject })).output(type<readonly Photograph[]>()),
  /** Keeps one. Refuses, and writes nothing, what is not one whole still picture of a size that can be kept. */
  add: ask
    .input(
      z.object({
        subject: photographSubject,
        fileName: z.string().max(500),
        base64: z
          .base64('This is not a file as the page sends it.')
          .max(
            Math.ceil(largestPhotographBytes / 3) * 4,
            'This photograph is larger than the 24 MB that can be kept. Save it smaller, then add it.',
          ),
        stage: z.enum(photographStages),
        caption,
      }),
    )
    .output(type<Photograph>()),
  save: ask.input(z.object({ id, changes })).output(type<Photograph>()),
  remove: ask.input(z.object({ id })).output(type<Readonly<{ label: string }>>()),
  /** A copy to give away: whole size, upright, nothing in it of camera, place or time; its marks drawn in where wanted. */
  copy: ask.input(z.object({ id, marks: z.boolean() })).output(type<FileAnswer>()),
};

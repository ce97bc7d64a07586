/**
 * Photographs on the disk. An original is kept as it came, byte for byte, as `photographs/ab/abcd….jpg` under its SHA-256; it is on the
 * disk, whole and named, before any row tells of it. What is shown is made from it: upright, in sRGB, and without anything the camera
 * wrote into the file, so that no place and no date leaves the workshop unseen. `thumbnails/` holds small ones and may be deleted.
 */
import { createHash, randomUUID } from 'node:crypto';
import {
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeSync,
} from 'node:fs';
import { mkdir, readFile, rename, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import readExif from 'exif-reader';
import sharp, { type Metadata } from 'sharp';
import { Temporal } from 'temporal-polyfill';
import { largestPhotographBytes, type PhotographSize } from '../../core/contract/photographs.ts';
import { drawMark, type PictureMark, strokeOf } from '../../core/photographs/marks.ts';
import { ok, type Result, refuse } from '../../core/result.ts';

// Nothing is worth holding between two pictures, and two cores must do for everything else as well.
sharp.cache(false);
sharp.concurrency(2);

/** Common practice, no source: more than any usual camera's; beyond, one picture would fill the memory of a small machine. */
const mostPixels = 100_000_000;
/** Common practice, no source. */
const longestPx = { small: 360, large: 2400, printed: 1400 } as const;

/** `printed` is what goes into documents: fine enough for 85 mm at 300 dots an inch and more. */
type ShownSize = PhotographSize | 'printed';

export type Original = Readonly<{ hash: string; mediaType: string }>;

/** A picture that was read to its end and found whole. */
export type ExaminedPhotograph = Original &
  Readonly<{ bytes: Uint8Array; widthPx: number; heightPx: number; takenAt: number | null; thumbnail: Buffer }>;

const kinds = [
  { mediaType: 'image/jpeg', extension: 'jpg', begins: /^\xff\xd8\xff/ },
  { mediaType: 'image/png', extension: 'png', begins: /^\u0089PNG\r\n/ },
  { mediaType: 'image/webp', extension: 'webp', begins: /^RIFF[\s\S]{4}WEBP/ },
] as const;

/**
 * Looks whether this is one whole still picture. Refuses in words what is none, too large, moving or damaged. `timeZone` is where the
 * camera's clock is taken to be where it does not say itself.
 */
export async function examinePhotograph(bytes: Uint8Array, timeZone: string): Promise<Result<ExaminedPhotograph>> {
  if (bytes.length === 0) return refuse('This file is empty. Nothing was kept.', 'file');
  if (bytes.length > largestPhotographBytes) {
    return refuse('This photograph is larger than the 24 MB that can be kept. Save it smaller, then add it.', 'file');
  }
  // Only by their first bytes are files handed to the library, so that it never meets another kind than these.
  const start = Buffer.from(bytes.subarray(0, 16)).toString('latin1');
  const kind = kinds.find(({ begins }) => begins.test(start));
  if (kind === undefined) return refuse(sayKind(start), 'file');
  let seen: Metadata;
  try {
    // The head alone is read here; how many pixels are too many is said below, in words.
    seen = await sharp(bytes, { limitInputPixels: false }).metadata();
  } catch {
    return refuse(damaged, 'file');
  }
  const { width, height } = seen.autoOrient;
  if (width * height > mostPixels) {
    const millions = Math.round((width * height) / 1e6);
    return refuse(
      `This picture has ${width.toLocaleString('en')} × ${height.toLocaleString('en')} pixels, ${millions} million; 100 million are as many as can be kept. Save it smaller, then add it.`,
      'file',
    );
  }
  if ((seen.pages ?? 1) > 1 || isMovingPng(bytes)) {
    return refuse('This picture moves. Only still pictures are kept; save one frame of it as JPEG or PNG.', 'file');
  }
  try {
    const thumbnail = await shown(bytes, 'small');
    const hash = createHash('sha256').update(bytes).digest('hex');
    const takenAt = takenAtOf(seen.exif, timeZone);
    return ok({ hash, mediaType: kind.mediaType, bytes, widthPx: width, heightPx: height, takenAt, thumbnail });
  } catch {
    return refuse(damaged, 'file');
  }
}

const damaged = 'This picture is damaged or was only half copied: it cannot be read to its end. Nothing was kept.';

function sayKind(start: string): string {
  if (/^GIF8/.test(start)) return 'This is a GIF. Save it as JPEG or PNG, then add it.';
  if (/^.{4}ftyp(heic|heix|hevc|mif1|msf1)/s.test(start)) {
    return 'This is a HEIC photograph, which cannot be read here. Set the camera to JPEG (“most compatible”), or save a copy as JPEG.';
  }
  return 'This is no photograph that can be kept here: JPEG, PNG and WebP are.';
}

/** An animation says so in a chunk before the picture itself (PNG specification, third edition, acTL). */
function isMovingPng(bytes: Uint8Array): boolean {
  const head = Buffer.from(bytes.buffer, bytes.byteOffset, Math.min(bytes.length, 65_536));
  const picture = head.indexOf('IDAT');
  return head[0] === 0x89 && head.subarray(0, picture === -1 ? head.length : picture).includes('acTL');
}

/** The camera's clock (Exif 2.32, DateTimeOriginal and OffsetTimeOriginal), in UTC milliseconds; null where it is not told. */
function takenAtOf(exif: Buffer | undefined, timeZone: string): number | null {
  if (exif === undefined) return null;
  try {
    const { Photo } = readExif(exif);
    // Wall-clock time, which the reader gives as if it were UTC.
    const wall = Photo?.DateTimeOriginal;
    // A clock that was never set says a year before there were such cameras.
    if (!(wall instanceof Date) || !(wall.getTime() > Date.UTC(1990, 0))) return null;
    const local = Temporal.PlainDateTime.from(wall.toISOString().slice(0, 19));
    const offset = typeof Photo?.OffsetTimeOriginal === 'string' ? Photo.OffsetTimeOriginal.trim() : '';
    const zone = /^[+-]\d\d:\d\d$/.test(offset) ? offset : timeZone;
    return local.toZonedDateTime(zone).epochMilliseconds;
  } catch {
    // Written wrongly by some camera: the picture is good all the same.
    return null;
  }
}

/** Upright, in sRGB, no longer than its size on its longer side, without metadata. Throws where the file cannot be read to its end. */
function shown(bytes: Uint8Array, size: ShownSize): Promise<Buffer> {
  const side = longestPx[size];
  return sharp(bytes, { limitInputPixels: mostPixels, failOn: 'warning' })
    .autoOrient()
    .resize({ width: side, height: side, fit: 'inside', withoutEnlargement: true })
    .flatten({ background: '#ffffff' })
    .jpeg(size === 'small' ? { quality: 78 } : { quality: 88, chromaSubsampling: '4:4:4' })
    .toBuffer();
}

function originalPath(folder: string, { hash, mediaType }: Original): string {
  const extension = kinds.find((kind) => kind.mediaType === mediaType)?.extension ?? 'jpg';
  return join(folder, 'photographs', hash.slice(0, 2), `${hash}.${extension}`);
}

function thumbnailPath(folder: string, hash: string): string {
  return join(folder, 'thumbnails', hash.slice(0, 2), `${hash}.jpg`);
}

/**
 * Puts the original in its place: written aside, forced to the disk, then named. After a pulled plug there is the whole file or none.
 * One that is there already is left, unless it is not what its name says. Throws the disk's trouble.
 */
export function keepOriginal(folder: string, photograph: ExaminedPhotograph): void {
  const path = originalPath(folder, photograph);
  if (existsSync(path) && createHash('sha256').update(readFileSync(path)).digest('hex') === photograph.hash) return;
  const home = dirname(path);
  mkdirSync(home, { recursive: true });
  const aside = join(home, `.${randomUUID()}.part`);
  try {
    const handle = openSync(aside, 'wx');
    try {
      let written = 0;
      while (written < photograph.bytes.length) {
        written += writeSync(handle, photograph.bytes, written, photograph.bytes.length - written);
      }
      fsyncSync(handle);
    } finally {
      closeSync(handle);
    }
    renameSync(aside, path);
  } finally {
    rmSync(aside, { force: true });
  }
  for (const name of [home, dirname(home)]) syncFolder(name);
}

/** A name is on the disk once its folder is. Windows has no such thing and needs none. */
function syncFolder(path: string): void {
  if (process.platform === 'win32') return;
  const handle = openSync(path, 'r');
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

/** Keeps the small picture. A full disk keeps nobody from the original: it is made anew when it is asked for. */
export async function keepThumbnail(folder: string, hash: string, thumbnail: Buffer): Promise<void> {
  const path = thumbnailPath(folder, hash);
  try {
    await mkdir(dirname(path), { recursive: true });
    const aside = join(dirname(path), `.${randomUUID()}.part`);
    await writeFile(aside, thumbnail);
    await rename(aside, path);
  } catch {
    // Only a copy.
  }
}

/** A picture to show, as JPEG; null where its original is missing or cannot be read any more. */
export async function showPhotograph(folder: string, original: Original, size: ShownSize): Promise<Buffer | null> {
  try {
    if (size === 'small') {
      const kept = await readFile(thumbnailPath(folder, original.hash)).catch(() => null);
      if (kept !== null) return kept;
    }
    const made = await shown(await readFile(originalPath(folder, original)), size);
    if (size === 'small') await keepThumbnail(folder, original.hash, made);
    return made;
  } catch {
    return null;
  }
}

/** Drawing over a picture takes its every pixel into memory; this is as large as a print of 40 cm needs. Common practice, no source. */
const longestMarkedPx = 5000;

/**
 * A copy as JPEG without metadata, upright and whole size; with the marks drawn in, no longer than 5000 pixels. Null where the original
 * cannot be read.
 */
export async function copyPhotograph(
  folder: string,
  original: Original & Readonly<{ widthPx: number; heightPx: number }>,
  marks: readonly PictureMark[],
): Promise<Buffer | null> {
  // Tables made for the one picture would need all of it in memory at once.
  const print = { quality: 92, chromaSubsampling: '4:4:4', optimiseCoding: false } as const;
  try {
    const bytes = await readFile(originalPath(folder, original));
    const upright = sharp(bytes, { limitInputPixels: mostPixels }).autoOrient();
    if (marks.length === 0) return await upright.flatten({ background: '#ffffff' }).jpeg(print).toBuffer();
    const share = Math.min(1, longestMarkedPx / Math.max(original.widthPx, original.heightPx));
    const [width, height] = [Math.round(original.widthPx * share), Math.round(original.heightPx * share)];
    const over = Buffer.from(marksAsSvg(marks, original, { width, height }));
    return await upright
      .resize(width, height)
      .flatten({ background: '#ffffff' })
      .composite([{ input: over }])
      .jpeg(print)
      .toBuffer();
  } catch {
    return null;
  }
}

/** Marks as a drawing, of the picture's own size unless another is asked for: black within white, so that they show on any ground. */
export function marksAsSvg(
  marks: readonly PictureMark[],
  { widthPx, heightPx }: Readonly<{ widthPx: number; heightPx: number }>,
  size: Readonly<{ width: number; height: number }> = { width: widthPx, height: heightPx },
): string {
  const stroke = strokeOf(widthPx, heightPx);
  const shapes = marks.map((mark) => {
    const { paths, ellipse, words } = drawMark(mark, stroke);
    const lines = paths.map((path) => `<polyline points="${path.map(({ x, y }) => `${x},${y}`).join(' ')}"/>`);
    const ring =
      ellipse === null
        ? ''
        : `<ellipse cx="${ellipse.centre.x}" cy="${ellipse.centre.y}" rx="${ellipse.rx}" ry="${ellipse.ry}"/>`;
    const drawn = lines.join('') + ring;
    const text =
      words === null
        ? ''
        : `<text x="${words.at.x}" y="${words.at.y}" font-size="${words.size}" font-family="sans-serif" stroke="#fff" stroke-width="${stroke}" paint-order="stroke" fill="#000">${escaped(words.text)}</text>`;
    const under = drawn === '' ? '' : `<g stroke="#fff" stroke-width="${stroke * 2}">${drawn}</g>`;
    const above = drawn === '' ? '' : `<g stroke="#000" stroke-width="${stroke}">${drawn}</g>`;
    return under + above + text;
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${size.width}" height="${size.height}" viewBox="0 0 ${widthPx} ${heightPx}" fill="none" stroke-linecap="round" stroke-linejoin="round">${shapes.join('')}</svg>`;
}

/** Text as it may stand in HTML and SVG, between tags and within quotation marks; characters XML does not know are left out. */
export function escaped(words: string): string {
  return (
    words
      // biome-ignore lint/suspicious/noControlCharactersInRegex: that is what is being removed
      .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, ' ')
      .replace(/&/g, '&amp;')
      .replace(/</g, '&lt;')
      .replace(/>/g, '&gt;')
      .replace(/"/g, '&quot;')
      .replace(/'/g, '&#39;')
  );
}

/** Hashes by which originals lie in the folder, with the file's path; and what a write broken off has left behind. */
export function originalsIn(
  folder: string,
): Readonly<{ originals: ReadonlyMap<string, string>; leftovers: readonly string[] }> {
  const originals = new Map<string, string>();
  const leftovers: string[] = [];
  const home = join(folder, 'photographs');
  for (const shelf of existsSync(home) ? readdirSync(home) : []) {
    if (!/^[0-9a-f]{2}$/.test(shelf)) continue;
    for (const name of readdirSync(join(home, shelf))) {
      const [, hash] = /^([0-9a-f]{64})\.(?:jpg|png|webp)$/.exec(name) ?? [];
      if (hash !== undefined) originals.set(hash, join(home, shelf, name));
      else if (/^\.[0-9a-f-]{36}\.part$/.test(name)) leftovers.push(join(home, shelf, name));
    }
  }
  return { originals, leftovers };
}

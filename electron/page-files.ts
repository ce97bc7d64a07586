/** The built page as a fixed list of files, read once. A path that is not on the list does not exist, whatever is on the disk. */
import { readdirSync, readFileSync } from 'node:fs';
import { extname, join, relative, sep } from 'node:path';

export type PageFile = Readonly<{ body: Uint8Array<ArrayBuffer>; mediaType: string; forever: boolean }>;

/** Paths as the page asks for them ("/", "/assets/app-x1.js") and what they hold. */
export type PageFiles = ReadonlyMap<string, PageFile>;

const mediaTypes: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.json': 'application/json',
  '.woff': 'font/woff',
  '.woff2': 'font/woff2',
  '.wasm': 'application/wasm',
};

/** Reads a built page. Files of a kind the page never needs are left out. */
export function readPageFiles(folder: string): PageFiles {
  const files = new Map<string, PageFile>();
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    const mediaType = mediaTypes[extname(entry.name)];
    if (!entry.isFile() || mediaType === undefined) continue;
    const path = join(entry.parentPath, entry.name);
    const name = `/${relative(folder, path).split(sep).join('/')}`;
    files.set(name, { body: new Uint8Array(readFileSync(path)), mediaType, forever: name.startsWith('/assets/') });
  }
  const home = files.get('/index.html');
  if (home !== undefined) files.set('/', home);
  return files;
}

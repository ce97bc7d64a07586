/** What has to lie ready before packing: the program built, and the icon drawn in the size every system's icons are made from. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { buildPage, buildShell } from '../build.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));

export async function prepareToPack(): Promise<void> {
  await Promise.all([buildPage(), buildShell(), drawIcons()]);
}

async function drawIcons(): Promise<void> {
  const folder = join(root, 'dist', 'packaging');
  mkdirSync(join(folder, 'icons'), { recursive: true });
  const drawing = sharp(fileURLToPath(new URL('icon.svg', import.meta.url)));
  await drawing.clone().resize(1024).png().toFile(join(folder, 'icon.png'));
  for (const size of [16, 32, 48, 64, 128, 256, 512]) {
    await drawing
      .clone()
      .resize(size)
      .png()
      .toFile(join(folder, 'icons', `${size}x${size}.png`));
  }
}

/** Files between the page and the person. */
import type { FileAnswer } from '../../core/contract/ask.ts';

/** Hands a document of the workshop to the person, as the browser or the desktop saves files. */
export function saveFile({ fileName, mediaType, base64 }: FileAnswer): void {
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  const address = URL.createObjectURL(new Blob([bytes], { type: mediaType }));
  const link = document.createElement('a');
  link.href = address;
  link.download = fileName;
  link.click();
  // The browser needs the address until it has taken the file over.
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** The treatment record as one HTML file: pictures within it, no script, nothing fetched from anywhere. Well-formed, so that it opens anywhere. */
import type { FileAnswer } from '../../core/contract/ask.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { composeRecord } from '../../core/treatment/record.ts';
import type { RecordPart } from '../../core/treatment/record-shape.ts';
import { escaped, marksAsSvg } from '../files/photographs.ts';
import { readHabits } from '../store/habits.ts';
import { readRecord } from '../store/records.ts';
import type { Workshop } from '../store/workshop.ts';
import { fileName } from './record.ts';
import { barMm, pictureWords, type RecordPicture, recordPictures } from './record-pictures.ts';

/** Refuses a book that is not there. */
export async function recordPage(store: Workshop, bookId: string): Promise<Result<FileAnswer>> {
  const read = readRecord(store.db, bookId);
  if (read === null) return refuse('This book is no longer in the workshop.', 'bookId');
  const { habits } = readHabits(store.db);
  const record = composeRecord(read.facts);
  const pictures = await recordPictures(store.folder, read.photographs);
  const sections = record.sections.map(
    ({ title, parts }) =>
      `<section><h2>${escaped(title)}</h2>${parts.map((part) => partHtml(part, pictures)).join('')}</section>`,
  );
  const heading = habits.heading
    .split('\n')
    .filter((line) => line.trim() !== '')
    .map((line) => `<br />${escaped(line)}`);
  const html = `<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8" />
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; style-src 'unsafe-inline'" />
<meta name="viewport" content="width=device-width" /><title>${escaped(record.title)}</title>
<style>${style}</style></head>
<body><header>${escaped(habits.name)}${heading.join('')}</header><main><h1>${escaped(record.title)}</h1><p class="soft">${escaped(record.lead)}</p>
${sections.join('\n')}
</main></body></html>
`;
  const base64 = Buffer.from(html, 'utf8').toString('base64');
  return ok({ fileName: fileName(read.facts.book, 'record.html'), mediaType: 'text/html', base64 });
}

/** Plain, dark on white, and it prints. */
const style = `
body{max-width:52rem;margin:2rem auto;padding:0 1rem;font:16px/1.45 Georgia,serif;color:#1d1b18;background:#fff}
header,.soft,figcaption,th{color:#6d675e}h1{line-height:1.2}h2{margin:1.6rem 0 .4rem;font-size:1.15rem}
table{width:100%;border-collapse:collapse;margin:.4rem 0}td,th{padding:.25rem .5rem .25rem 0;border-bottom:1px solid #c9c3b8;text-align:left;vertical-align:top;font-weight:400}
.right{text-align:right}.caution{border-left:3px solid #1d1b18;padding-left:.7rem}
.pictures{display:flex;flex-wrap:wrap;gap:1rem;align-items:flex-start}figure{margin:0;flex:1 1 18rem;max-width:25.5rem}
figure div{position:relative}figure img,figure svg{display:block;width:100%;height:auto}figure svg{position:absolute;top:0;left:0}
figcaption{font-size:.85rem}@media print{body{margin:0}section{break-inside:auto}figure{break-inside:avoid}}
`;

function partHtml(part: RecordPart, pictures: ReadonlyMap<string, RecordPicture>): string {
  switch (part.kind) {
    case 'words':
      return `<p>${escaped(part.words)}</p>`;
    case 'missing':
      return `<p class="soft">${escaped(part.words)}</p>`;
    case 'caution':
      return `<p class="caution">Caution: ${escaped(part.words)}</p>`;
    case 'table': {
      const classOf = (at: number) => (part.columns[at]?.align === 'right' ? ' class="right"' : '');
      const named = part.columns.some(({ head }) => head !== '');
      const head = part.columns.map((column, at) => `<th scope="col"${classOf(at)}>${escaped(column.head)}</th>`);
      const rows = part.rows.map(
        (row) => `<tr>${row.map((words, at) => `<td${classOf(at)}>${escaped(words)}</td>`).join('')}</tr>`,
      );
      return `<table>${named ? `<thead><tr>${head.join('')}</tr></thead>` : ''}<tbody>${rows.join('')}</tbody></table>`;
    }
    case 'photographs': {
      const shown = part.photographs.map(({ id, words }) => {
        const picture = pictures.get(id);
        return picture === undefined
          ? `<p class="soft">A photograph can no longer be read and is left out.</p>`
          : figure(picture, words);
      });
      return `<div class="pictures">${shown.join('')}</div>`;
    }
  }
}

function figure(picture: RecordPicture, told: string): string {
  const { photograph, jpeg, widthMm } = picture;
  const { widthPx, heightPx, marks } = photograph;
  const words = escaped(pictureWords(picture, told));
  const high = Math.max(widthPx, heightPx) / 90;
  const bar =
    widthMm === null
      ? ''
      : `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${widthPx} ${heightPx}"><rect x="${high}" y="${heightPx - high * 2}" width="${(barMm(widthMm) * widthPx) / widthMm}" height="${high}" fill="#1d1b18" stroke="#fff"/></svg>`;
  const over = marks.length === 0 ? '' : marksAsSvg(marks, photograph);
  const source = `data:image/jpeg;base64,${jpeg.toString('base64')}`;
  return `<figure><div><img alt="${words}" src="${source}" />${over}${bar}</div><figcaption>${words}</figcaption></figure>`;
}

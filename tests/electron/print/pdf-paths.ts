/**
 * Reads lines back out of a PDF as a printer would place them: page by page, every path in millimetres from the upper left corner of the
 * paper, all transformations applied (ISO 32000-1, 8.3 and 8.5). Knows only what documents of ours hold: plain objects, deflated streams.
 */
import { inflateSync } from 'node:zlib';

type Point = Readonly<{ x: number; y: number }>;
type Matrix = readonly [number, number, number, number, number, number];
export type PdfPage = Readonly<{ widthMm: number; heightMm: number; paths: readonly (readonly Point[])[] }>;

const mmPerPoint = 25.4 / 72;

export function readPdfPages(bytes: Uint8Array): readonly PdfPage[] {
  const text = Buffer.from(bytes).toString('latin1');
  const objects = new Map<string, string>();
  for (const [, number, body] of text.matchAll(/(\d+) 0 obj\s([\s\S]*?)\sendobj/g))
    objects.set(number ?? '', body ?? '');
  const kids = [...objects.values()].find((body) => /\/Type \/Pages\b/.test(body));
  const order = [...(/\/Kids \[([^\]]*)\]/.exec(kids ?? '')?.[1] ?? '').matchAll(/(\d+) 0 R/g)].map(
    ([, number]) => number,
  );
  return order.map((number) => {
    const page = objects.get(number ?? '') ?? '';
    const box = (/\/MediaBox \[([^\]]*)\]/.exec(page)?.[1] ?? '').trim().split(/\s+/).map(Number);
    const [left = 0, bottom = 0, right = 0, top = 0] = box;
    const content = objects.get(/\/Contents (\d+) 0 R/.exec(page)?.[1] ?? '') ?? '';
    const toMm = ({ x, y }: Point): Point => ({ x: (x - left) * mmPerPoint, y: (top - y) * mmPerPoint });
    return {
      widthMm: (right - left) * mmPerPoint,
      heightMm: (top - bottom) * mmPerPoint,
      paths: pathsOf(streamOf(content)).map((path) => path.map(toMm)),
    };
  });
}

function streamOf(body: string): string {
  const start = /stream\r?\n/.exec(body);
  if (start === null) throw new Error('a page without content');
  const end = body.lastIndexOf('endstream');
  const raw = Buffer.from(body.slice(start.index + start[0].length, end), 'latin1');
  return /\/FlateDecode/.test(body.slice(0, start.index))
    ? inflateSync(raw).toString('latin1')
    : raw.toString('latin1');
}

/** Every subpath that is painted; those that only clip are not. */
function pathsOf(content: string): readonly (readonly Point[])[] {
  const paths: Point[][] = [];
  let pending: Point[][] = [];
  let matrix: Matrix = [1, 0, 0, 1, 0, 0];
  const saved: Matrix[] = [];
  let numbers: number[] = [];
  const at = (x = 0, y = 0): Point => ({
    x: matrix[0] * x + matrix[2] * y + matrix[4],
    y: matrix[1] * x + matrix[3] * y + matrix[5],
  });
  for (const token of content.replaceAll(/\((?:\\.|[^\\)])*\)|<[0-9a-fA-F]*>/g, ' ').split(/[\s[\]]+/)) {
    if (/^[-+]?(\d+\.?\d*|\.\d+)$/.test(token)) {
      numbers.push(Number(token));
      continue;
    }
    const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0] = numbers;
    if (token === 'q') saved.push(matrix);
    else if (token === 'Q') matrix = saved.pop() ?? matrix;
    else if (token === 'cm') {
      const [m0, m1, m2, m3, m4, m5] = matrix;
      matrix = [
        a * m0 + b * m2,
        a * m1 + b * m3,
        c * m0 + d * m2,
        c * m1 + d * m3,
        e * m0 + f * m2 + m4,
        e * m1 + f * m3 + m5,
      ];
    } else if (token === 'm') pending.push([at(a, b)]);
    else if (token === 'l') pending.at(-1)?.push(at(a, b));
    else if (token === 'c') pending.at(-1)?.push(at(e, f));
    else if (token === 're') pending.push([at(a, b), at(a + c, b), at(a + c, b + d), at(a, b + d)]);
    else if (token === 'n') pending = [];
    else if (/^(S|s|f|F|f\*|B|B\*|b|b\*)$/.test(token)) {
      paths.push(...pending);
      pending = [];
    }
    numbers = [];
  }
  return paths;
}

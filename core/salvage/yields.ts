/**
 * What a wreck is likely to yield, worked out from its size and binding: a starting point to be corrected with a ruler, because what is
 * worn or stained is cut away. Sizes are the boards' and leaves' own; turn-ins are lost. Common practice, no source.
 */
import type { Book } from '../book/book.ts';
import type { Grain } from '../cutting/stock.ts';
import { measuresOf } from '../treatment/measures.ts';
import type { PieceKind } from './piece.ts';

export type Yield = Readonly<{
  what: string;
  kind: PieceKind;
  heightMm: number;
  widthMm: number;
  grain: Grain | null;
}>;

/** What rubs off along every edge when cloth is lifted. */
const edgeMm = 3;

export function likelyYields(book: Book): readonly Yield[] {
  const { boardHeight, boardWidth, back, joint, blockHeight, blockWidth } = measuresOf(book);
  const yields: Yield[] = [];
  const put = (what: string, kind: PieceKind, height: number, width: number) => {
    const [heightMm, widthMm] = [Math.floor(height), Math.floor(width)];
    if (heightMm >= 30 && widthMm >= 10) yields.push({ what, kind, heightMm, widthMm, grain: 'height' });
  };
  const side = [boardHeight - 2 * edgeMm, boardWidth - 2 * edgeMm] as const;
  const spine = [boardHeight - 2 * edgeMm, back + 2 * joint - 2 * edgeMm] as const;
  switch (book.binding) {
    case 'cloth case':
    case null:
      put('upper board cloth', 'book cloth', ...side);
      put('lower board cloth', 'book cloth', ...side);
      put('spine cloth', 'book cloth', ...spine);
      break;
    case 'quarter cloth':
    case 'half cloth':
      put('spine cloth', 'book cloth', spine[0], spine[1] + boardWidth / 4);
      break;
    case 'full leather':
      put('upper board leather', 'leather', ...side);
      put('lower board leather', 'leather', ...side);
      break;
    case 'quarter leather':
    case 'half leather':
      put('spine leather', 'leather', spine[0], spine[1] + boardWidth / 4);
      break;
    default:
      break;
  }
  put('front free endpaper', 'endpaper', blockHeight - edgeMm, blockWidth - edgeMm);
  put('back free endpaper', 'endpaper', blockHeight - edgeMm, blockWidth - edgeMm);
  return yields;
}

/** Books as they would stand: spines to one scale in the order of the list, each in its cloth's colour and grain. */
import type { KeyboardEvent } from 'react';
import { memo } from 'react';
import type { Binding, GrainPattern } from '../../core/book/book.ts';
import { labOfCovering } from '../../core/salvage/colour-words.ts';
import type { Lab } from '../../core/salvage/piece.ts';
import { GrainPatterns, grainFill } from './grains.tsx';
import { inCss } from './lab.ts';
import './spines.css';

export type Spine = Readonly<{
  id: string;
  title: string;
  /** Everything said of it to those who listen. */
  name: string;
  binding: Binding | null;
  colour: string;
  pattern: GrainPattern | null;
  heightMm: number | null;
  thicknessMm: number | null;
  warned: boolean;
}>;

type Props = Readonly<{
  spines: readonly Spine[];
  current: string | null;
  width: number;
  label: string;
  onOpen: (id: string) => void;
}>;

/** Room for the tallest book, above it for a mark, below it for the shelf. */
const tallest = 132;
const above = 22;
const below = 12;
const mostPxPerMm = 0.62;
const gap = 1;
/** An octavo of usual thickness stands in, dashed, for a book nobody has measured. Common practice, no source. */
const unmeasured = { heightMm: 200, thicknessMm: 28 };

export function SpineBand({ spines, current, width, label, onOpen }: Props) {
  const heights = spines.map((spine) => spine.heightMm ?? unmeasured.heightMm);
  const scale = Math.min(mostPxPerMm, tallest / Math.max(100, ...heights));
  const base = above + tallest;
  const placed: { spine: Spine; x: number; width: number; height: number }[] = [];
  let x = 2;
  for (const spine of spines) {
    const thick = Math.max(5, (spine.thicknessMm ?? unmeasured.thicknessMm) * scale);
    if (x + thick > width - 2) break;
    placed.push({ spine, x, width: thick, height: (spine.heightMm ?? unmeasured.heightMm) * scale });
    x += thick + gap;
  }
  const first = placed[0]?.spine.id;
  const stop = placed.some(({ spine }) => spine.id === current) ? current : first;

  function onKey(event: KeyboardEvent<SVGElement>, at: number): void {
    const step = event.key === 'ArrowRight' ? 1 : event.key === 'ArrowLeft' ? -1 : 0;
    if (event.key === 'Enter' || event.key === ' ') onOpen(placed[at]?.spine.id ?? '');
    else if (step === 0) return;
    else {
      const next = placed[at + step];
      if (next !== undefined) document.getElementById(`spine-${next.spine.id}`)?.focus();
    }
    event.preventDefault();
  }

  return (
    // biome-ignore lint/a11y/useSemanticElements: a drawing of several buttons is no set of fields
    <svg className="spines" width={width} height={base + below} role="group" aria-label={label}>
      <defs>
        <GrainPatterns />
      </defs>
      <path className="spines-shelf" d={`M0 ${base + 0.5}H${width}`} />
      <Ruler scale={scale} x={width - 12} y={base} />
      {placed.map((one, at) => (
        // biome-ignore lint/a11y/useSemanticElements: a spine is drawn, and a button cannot stand inside a drawing
        <g
          key={one.spine.id}
          id={`spine-${one.spine.id}`}
          className={one.spine.id === current ? 'spine spine-current' : 'spine'}
          transform={`translate(${one.x} ${base - one.height})`}
          role="button"
          tabIndex={one.spine.id === stop ? 0 : -1}
          aria-label={one.spine.name}
          aria-pressed={one.spine.id === current}
          onClick={() => onOpen(one.spine.id)}
          onKeyDown={(event) => onKey(event, at)}
        >
          <title>{one.spine.name}</title>
          <SpineFace spine={one.spine} width={one.width} height={one.height} />
        </g>
      ))}
    </svg>
  );
}

type FaceProps = Readonly<{ spine: Spine; width: number; height: number }>;

const SpineFace = memo(function SpineFace({ spine, width, height }: FaceProps) {
  const cloth = labOfCovering(spine.colour, spine.binding);
  const measured = spine.heightMm !== null && spine.thicknessMm !== null;
  const leather = spine.binding?.endsWith('leather') ?? false;
  const sewn = spine.binding === 'unbound' || spine.binding === 'paper wrappers';
  return (
    <>
      <rect
        className={measured ? 'spine-cloth' : 'spine-cloth spine-unmeasured'}
        width={width}
        height={height}
        rx={sewn ? 0 : 1.5}
        fill={inCss(cloth)}
      />
      {!leather && <rect width={width} height={height} fill={grainFill(spine.pattern)} />}
      {leather && <path className="spine-bands" d={bandsOf(width, height)} />}
      {spine.binding === 'unbound' && (
        <path
          className="spine-bands"
          d={`M${width * 0.3} ${height * 0.2}h${width * 0.4}M${width * 0.3} ${height * 0.5}h${width * 0.4}M${width * 0.3} ${height * 0.8}h${width * 0.4}`}
        />
      )}
      <rect className="spine-round" width={width} height={height} rx={sewn ? 0 : 1.5} />
      <Lettering title={spine.title} width={width} height={height} cloth={cloth} />
      {spine.warned && <path className="spine-warned" d={`M${width / 2} -14l5 9h-10ZM${width / 2} -11v3`} />}
    </>
  );
});

/** Raised bands, seen where they bend over the joints so that the lettering stays clear. */
function bandsOf(width: number, height: number): string {
  const end = width * 0.2;
  return [0.16, 0.34, 0.52, 0.7, 0.86]
    .map((part) => `M0 ${part * height}h${end}M${width - end} ${part * height}h${end}`)
    .join('');
}

type LetteringProps = Readonly<{ title: string; width: number; height: number; cloth: Lab }>;

/** Reads from the head down. A spine too thin for letters has none, as in life; its name is said and listed. */
function Lettering({ title, width, height, cloth }: LetteringProps) {
  if (width < 11) return null;
  const usual = Math.min(12, width * 0.68);
  const { words, size } = lettered(title, height - 14, usual);
  if (size < leastLetters) return null;
  return (
    <text
      className={cloth[0] < darkBelow ? 'spine-title spine-gilt' : 'spine-title spine-ink'}
      transform={`translate(${width / 2 - size * 0.32} 7) rotate(90)`}
      fontSize={size}
    >
      {words}
    </text>
  );
}

/** L* under which gilt stands out better than ink. Common practice, no source. */
const darkBelow = 56;
/** Smaller cannot be read. Common practice, no source. */
const leastLetters = 7;
/** A letter of the serif is about so wide, as a share of its size. */
const letterWidth = 0.52;

/** As many whole words as there is room for, without an article where that helps, as a binder would letter it. */
function lettered(title: string, roomPx: number, usual: number): Readonly<{ words: string; size: number }> {
  const whole = title.replace(/\s+/g, ' ').trim();
  const bare = whole.replace(/^(the|an?) /i, '');
  const room = Math.floor(roomPx / (usual * letterWidth));
  for (const words of [whole, bare]) {
    if (words.length <= room) return { words, size: usual };
    const end = words.slice(0, room + 1).lastIndexOf(' ');
    if (end > 0 && words.slice(0, end).includes(' ')) return { words: tidy(words.slice(0, end)), size: usual };
  }
  const first = tidy(bare.split(' ')[0] ?? '');
  return { words: first, size: Math.min(usual, roomPx / (first.length * letterWidth)) };
}

function tidy(words: string): string {
  return words.replace(/[\s,:;.–-]+$/, '').replace(/ (of|the|and|in|on|at|to|a|for|with|from)$/i, '');
}

/** A hand's breadth to measure by. */
function Ruler({ scale, x, y }: Readonly<{ scale: number; x: number; y: number }>) {
  const length = 100 * scale;
  return (
    <g className="spines-ruler">
      <path d={`M${x - length - 1} ${y + 7}h${length}M${x - length - 1} ${y + 4}v6M${x - 1} ${y + 4}v6`} />
      <text x={x - length - 6} y={y + 11} textAnchor="end">
        100 mm
      </text>
    </g>
  );
}

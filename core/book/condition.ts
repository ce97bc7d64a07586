/**
 * Reads a condition as people write it in a list — “joints split, spine missing; foxed” — into survey findings, by phrases. Every word of
 * the text is kept: a clause that became a finding stands in its note, and what was not understood is given back as `rest`.
 *
 * Which word means which damage, how bad a bare word is taken to be, and the part a bare damage belongs to: common practice, no source.
 */
import type { Damage, Finding, Part, Severity } from './book.ts';

export type Condition = Readonly<{ findings: readonly Finding[]; rest: string }>;

/** Damage with no word of degree is taken as marked, and as severe where the part is gone or off. */
export function readCondition(text: string): Condition {
  const found: Finding[] = [];
  const rest: string[] = [];
  for (const sentence of text.slice(0, longestRead).split(/[;\n]+|\.(?=\s+\p{Lu}|\s*$)/u)) {
    readSentence(sentence, found, rest);
  }
  if (text.length > longestRead) rest.push(text.slice(longestRead).trim());
  return { findings: merged(found), rest: rest.filter((words) => words !== '').join('; ') };
}

/** Longer conditions are kept in words from here on. */
const longestRead = 4000;

/** `instead` is the part meant with some damages: covers that are off are boards, sections that are missing are leaves. */
type Target = Readonly<{ part: Part; slighter?: boolean; instead?: Readonly<Partial<Record<Damage, Part>>> }>;
type Token =
  | Readonly<{ kind: 'part'; target: Target }>
  | Readonly<{ kind: 'damage'; damage: Damage }>
  | Readonly<{ kind: 'degree'; severity: Severity }>
  | Readonly<{ kind: 'count'; count: number; side?: boolean }>
  | Readonly<{ kind: 'not' }>;

type Segment = { targets: (Target & Readonly<{ count: number | null }>)[]; damages: [Damage, Severity | null][] };

function readSentence(sentence: string, found: Finding[], rest: string[]): void {
  let above: Segment['targets'] = [];
  let waiting: Segment['targets'] = [];
  let waitingWords: string[] = [];
  for (const clause of sentence.split(/,(?!\d)/)) {
    const words = clause.trim();
    if (words === '') continue;
    const tokens = tokensOf(words);
    if (tokens.some(({ kind }) => kind === 'not')) {
      rest.push(...waitingWords, words);
      waiting = [];
      waitingWords = [];
      continue;
    }
    const segments = segmentsOf(tokens);
    const first = segments[0];
    if (first === undefined) {
      rest.push(words);
      continue;
    }
    // “spine, corners and joints rubbed”: parts without a damage wait for the clause that has one.
    if (segments.every((segment) => segment.damages.length === 0)) {
      waiting.push(...segments.flatMap((segment) => segment.targets));
      waitingWords.push(words);
      continue;
    }
    const note = [...waitingWords, words].join(', ');
    first.targets.unshift(...waiting);
    waiting = [];
    waitingWords = [];
    for (const segment of segments) {
      for (const [damage, severity] of segment.damages) {
        const own = ownPart[damage];
        // “boards rubbed, soiled” speaks of the boards still; “…, foxed” of the leaves.
        const targets =
          segment.targets.length > 0
            ? segment.targets
            : above.length > 0 && !own.always
              ? above
              : [{ part: own.part, count: null }];
        for (const target of targets) found.push(findingOf(target, damage, severity, note));
      }
      if (segment.damages.length === 0 && segment.targets.length > 0) rest.push(words);
    }
    const last = segments.findLast((segment) => segment.targets.length > 0 && segment.damages.length > 0);
    if (last) above = last.targets;
  }
  rest.push(...waitingWords);
}

function findingOf(
  target: Segment['targets'][number],
  damage: Damage,
  severity: Severity | null,
  note: string,
): Finding {
  const usual = usualSeverity[damage] ?? 2;
  const bare = target.slighter ? ((usual - 1) as Severity) : usual;
  return {
    part: target.instead?.[damage] ?? target.part,
    damage,
    severity: severity ?? bare,
    count: target.count,
    note,
  };
}

/** Parts and damages in the order written: a new segment begins where a part follows a damage that already has its part, or the reverse. */
function segmentsOf(tokens: readonly Token[]): readonly Segment[] {
  const segments: Segment[] = [];
  let segment: Segment = { targets: [], damages: [] };
  let order: 'part first' | 'damage first' | null = null;
  let severity: Severity | null = null;
  let count: number | null = null;
  let last: 'part' | 'damage' | null = null;
  const close = () => {
    if (segment.targets.length + segment.damages.length > 0) segments.push(segment);
    segment = { targets: [], damages: [] };
    order = null;
    last = null;
  };
  for (const token of tokens) {
    // “front and rear joints” are two.
    if (token.kind === 'count') count = token.side ? (count ?? 0) + 1 : token.count;
    if (token.kind === 'degree') {
      // A degree after the damage it belongs to: “spine torn badly”.
      severity = token.severity;
      const damage = segment.damages.at(-1);
      if (last === 'damage' && damage && damage[1] === null && tokens.at(-1) === token) damage[1] = severity;
    }
    if (token.kind === 'part') {
      if (last === 'damage' && order === 'part first') {
        close();
        severity = null;
      }
      order ??= 'part first';
      segment.targets.push({ ...token.target, count });
      count = null;
      last = 'part';
    }
    if (token.kind === 'damage') {
      if (last === 'part' && order === 'damage first') close();
      order ??= 'damage first';
      segment.damages.push([token.damage, severity]);
      last = 'damage';
    }
  }
  close();
  return segments;
}

function tokensOf(words: string): readonly Token[] {
  const tokens: Token[] = [];
  let rest = words
    .toLowerCase()
    .replace(/[’‘`]/g, "'")
    // Lengths are not counts: “3 cm of the spine missing”.
    .replace(/\b\d+([.,/]\d+)?\s*(mm|cm|in|inch(es)?)\b\.?/g, ' ');
  while (rest !== '') {
    const figures = /^\d{1,4}(?![\p{L}\p{N}])/u.exec(rest);
    const hit = figures ? undefined : entries.find(({ pattern }) => pattern.test(rest));
    if (figures) {
      if (Number(figures[0]) > 0) tokens.push({ kind: 'count', count: Number(figures[0]) });
      rest = rest.slice(figures[0].length);
    } else if (hit) {
      tokens.push(...hit.tokens);
      rest = rest.replace(hit.pattern, '');
    } else {
      rest = rest.replace(/^(?:[\p{L}\p{N}'-]+|.)/su, '');
    }
  }
  return tokens;
}

const slighter = true;
const partWords: readonly (readonly [string, Target])[] = [
  ['spine linings?|linings? (?:of|on) (?:the )?spine|linings?|mull', { part: 'spine lining' }],
  [
    '(?:spine|back) ?-?(?:ends?|tips?|caps?)|head ?-?caps?|(?:head|tail|foot|top|bottom)(?: (?:and|&|or) (?:head|tail|foot|top|bottom))? of (?:the )?(?:spine|back(?:strip)?)|(?:head|foot|tail) and (?:head|foot|tail)',
    { part: 'spine', slighter },
  ],
  ['spine label|title label|lettering ?-?pieces?|labels?', { part: 'label' }],
  ['spines?|back ?-?strips?|backs?(?! (?:board|joint|hinge|cover))', { part: 'spine' }],
  ['text ?-?blocks?|book ?-?blocks?|contents|interior|internally', { part: 'text block' }],
  ['(?:inner|inside) (?:joints?|hinges?)|hinges?', { part: 'hinges' }],
  ['(?:outer )?joints?', { part: 'joints' }],
  ['head ?-?bands?|tail ?-?bands?', { part: 'headbands' }],
  ['sewing|stitching|threads?|cords?|tapes?(?= (?:broken|gone|worn))', { part: 'sewing' }],
  [
    'sections?|gatherings?|signatures?|quires?',
    {
      part: 'sewing',
      instead: {
        missing: 'leaves',
        torn: 'leaves',
        dirty: 'leaves',
        stained: 'leaves',
        foxed: 'leaves',
        cockled: 'leaves',
      },
    },
  ],
  [
    "free end ?-?papers?|end ?-?papers?|fly ?-?leaf|fly ?-?leaves|f\\.?f?\\.?e\\.?p\\.?|e\\.?p\\.?'?s|paste ?-?downs?|end ?-?leaves",
    { part: 'endpapers' },
  ],
  ['plates?|frontis(?:piece)?s?\\.?|maps?|engravings?|illustrations?|illus\\.?', { part: 'plates' }],
  ['title ?-?pages?|half ?-?titles?|leaves|leaf|pages?|pp?\\.|ll?\\.|margins?|paper', { part: 'leaves' }],
  ['fore-?edges?|top edges?|edges? of (?:the )?block|edges', { part: 'edges' }],
  ['(?:board )?corners?|tips', { part: 'corners' }],
  ['(?:board )?edges? of (?:the )?boards?', { part: 'covering', slighter }],
  ['boards?', { part: 'boards' }],
  [
    '(?:upper|lower|front|rear|back) covers?|covers?',
    { part: 'covering', instead: { detached: 'boards', loose: 'boards', missing: 'boards' } },
  ],
  ['clasps?|catches', { part: 'clasps' }],
  [
    'covering|cloth|leather|calf|sheep(?:skin)?|roan|morocco|bindings?|case|wrappers?|extremities',
    { part: 'covering' },
  ],
];

const damageWords: readonly (readonly [string, Damage])[] = [
  ['red[ -]?rot(?:ted)?|powder(?:y|ing)', 'red rot'],
  ['mould[ys]?|mouldy|mold[ys]?|mildew(?:ed)?', 'mould'],
  [
    'insects?(?:[ -]?(?:damage|eaten))?|book ?-?worms?|worm ?-?(?:ed|holes?|ing|eaten|tracks?)|silver ?-?fish|beetles?',
    'insects',
  ],
  [
    '(?:glue|adhesive|paste) (?:has )?(?:failed|gone|perished|dry)|failed (?:glue|adhesive)|(?:come |coming )?unstuck|lifting|lifted',
    'failed adhesive',
  ],
  [
    '(?:old |amateur |crude |clumsy |previous )*(?:repair(?:s|ed)?|mend(?:s|ed)?|sello ?-?tape[ds]?|taped|re-?backed|re-?glued|tape)',
    'old repair',
  ],
  [
    '(?:damp|water|ink|oil|tide) ?-?(?:stain(?:s|ed|ing)?|marks?|lines?|spots?)|stain(?:s|ed|ing)?|blot(?:s|ted)',
    'stained',
  ],
  ['browned|browning|toned|toning|yellowed|darkened|discolou?red', 'stained'],
  ['fox(?:ed|ing)|spott(?:ed|ing)|spots', 'foxed'],
  ['faded|fading|sunned|bleached|dulled', 'faded'],
  ['brittle|friable|crumbling|embrittled', 'brittle'],
  ['cockl(?:ed|ing)|warped|warping|bowed|wavy|buckled', 'cockled'],
  ['detached|off|separated|parted|hanging(?: by (?:a )?threads?)?|disbound', 'detached'],
  ['missing|lack(?:s|ing)|want(?:s|ing)|lost|loss(?:es)?|gone|absent|perished', 'missing'],
  ['split(?:s|ting)?|crack(?:s|ed|ing)?', 'split'],
  ['starting|started', 'split'],
  ['torn|tears?|ripped|rips?|nicks?|nicked', 'torn'],
  ['broken|snapped|crushed', 'broken'],
  ['fray(?:ed|ing)|ragged', 'frayed'],
  ['worn|wear|rubbed|rubbing|bumped|bumping|scuffed|scuffs?|scraped|abraded|chipped|chips?|chipping', 'worn'],
  ['loose(?:ned|ning)?|slack|shaken|sprung|weak|tender|wobbly|coming (?:loose|away)', 'loose'],
  ['dirty|dirt|soiled|soiling|grubby|grimy|dusty?|dust-?(?:soiled|marked|y)|thumbed|marked|marks|handled', 'dirty'],
];

const degreeWords: readonly (readonly [string, Severity])[] = [
  [
    'slight(?:ly)?|lightly|light|a (?:little|bit|few)|minor|small|faint(?:ly)?|mild(?:ly)?|trace(?:s)?|somewhat|tiny',
    1,
  ],
  ['moderate(?:ly)?|rather|fairly|part(?:ly|ial|ially)?(?: of)?', 2],
  [
    'bad(?:ly)?|severe(?:ly)?|heav(?:y|ily)|very|complete(?:ly)?|entire(?:ly)?|much|extensive(?:ly)?|wholly|large|totally',
    3,
  ],
];

const countWords: readonly (readonly [string, number])[] = [
  ['one|a single', 1],
  ['two|both|a pair of', 2],
  ['three', 3],
  ['four|all(?: four)?(?= corners)', 4],
  ['five', 5],
  ['six', 6],
  ['seven', 7],
  ['eight', 8],
  ['nine', 9],
  ['ten', 10],
];

type Entry = Readonly<{ pattern: RegExp; tokens: readonly Token[] }>;

function atStart(words: string): RegExp {
  return new RegExp(`^(?:${words})(?![\\p{L}\\p{N}])`, 'u');
}

const negations = 'no|not|without|free (?:of|from)|never';
const spared = 'loss|fox|stain|tear|wear|worn|torn|crack|split|mould|mark|worm|repair|damage|missing|loose|faded|dirty';
const entries: readonly Entry[] = [
  { pattern: new RegExp(`^(?:${negations}) (?:any )?(?:signs? of )?(?=${spared})`, 'u'), tokens: [{ kind: 'not' }] },
  { pattern: /^no (?=\p{L})/u, tokens: [{ kind: 'damage', damage: 'missing' }] },
  ...partWords.map(([words, target]): Entry => ({ pattern: atStart(words), tokens: [{ kind: 'part', target }] })),
  ...damageWords.map(
    ([words, damage]): Entry => ({
      pattern: atStart(words),
      tokens:
        words === 'starting|started'
          ? [
              { kind: 'degree', severity: 1 },
              { kind: 'damage', damage },
            ]
          : [{ kind: 'damage', damage }],
    }),
  ),
  ...degreeWords.map(
    ([words, severity]): Entry => ({ pattern: atStart(words), tokens: [{ kind: 'degree', severity }] }),
  ),
  {
    pattern: atStart('front|upper|rear|lower|back(?= (?:board|joint|hinge|cover))'),
    tokens: [{ kind: 'count', count: 1, side: true }],
  },
  ...countWords.map(([words, count]): Entry => ({ pattern: atStart(words), tokens: [{ kind: 'count', count }] })),
];

const usualSeverity: Readonly<Partial<Record<Damage, Severity>>> = { missing: 3, detached: 3, broken: 3 };

/** The part meant where only a damage is written; `always` even straight after another part. */
const ownPart: Readonly<Record<Damage, Readonly<{ part: Part; always: boolean }>>> = {
  dirty: { part: 'covering', always: false },
  loose: { part: 'text block', always: false },
  detached: { part: 'boards', always: false },
  torn: { part: 'leaves', always: false },
  split: { part: 'joints', always: false },
  worn: { part: 'covering', always: false },
  frayed: { part: 'covering', always: false },
  broken: { part: 'text block', always: false },
  missing: { part: 'leaves', always: false },
  faded: { part: 'covering', always: false },
  stained: { part: 'leaves', always: false },
  foxed: { part: 'leaves', always: true },
  brittle: { part: 'leaves', always: false },
  cockled: { part: 'boards', always: false },
  'failed adhesive': { part: 'covering', always: false },
  'old repair': { part: 'leaves', always: false },
  'red rot': { part: 'covering', always: false },
  mould: { part: 'covering', always: false },
  insects: { part: 'leaves', always: true },
};

/** One finding for each part and damage: the worse degree, the counts together, both phrases. */
function merged(findings: readonly Finding[]): readonly Finding[] {
  const kept = new Map<string, Finding>();
  for (const finding of findings) {
    const key = `${finding.part}|${finding.damage}`;
    const other = kept.get(key);
    if (other === undefined) {
      kept.set(key, finding);
      continue;
    }
    kept.set(key, {
      ...other,
      severity: Math.max(other.severity, finding.severity) as Severity,
      count:
        other.count === null || finding.count === null ? (other.count ?? finding.count) : other.count + finding.count,
      note: other.note === finding.note ? other.note : `${other.note}; ${finding.note}`,
    });
  }
  return [...kept.values()];
}

/**
 * Which damage calls for which operation, row by row: the least that will do for each degree. A row with no operation says why the damage
 * is left. Rows marked with a source follow a published procedure; the others are common practice, no source.
 */
import type { Binding, Damage, Finding, Part } from '../book/book.ts';

/** Bindings that are repaired alike. */
export type Family = 'cloth' | 'paper' | 'leather' | 'wrapper' | 'vellum' | 'unbound';

export function familyOf(binding: Binding | null): Family {
  return binding === null ? 'cloth' : families[binding];
}

const families: Readonly<Record<Binding, Family>> = {
  'cloth case': 'cloth',
  'quarter cloth': 'cloth',
  'half cloth': 'cloth',
  'quarter leather': 'leather',
  'half leather': 'leather',
  'full leather': 'leather',
  'paper boards': 'paper',
  'paper wrappers': 'wrapper',
  vellum: 'vellum',
  unbound: 'unbound',
};

type Rule = Readonly<{
  parts: readonly Part[];
  damages: readonly Damage[];
  severity: readonly [number, number];
  families: readonly Family[];
  /** Ids; what they in turn require is added by the proposal. */
  operations: readonly string[];
  /** How many there are where nobody counted, by severity. */
  counts?: readonly [number, number, number];
  remark?: string;
  /** Only where the back is opened for another reason. */
  onlyWithOpenBack?: boolean;
  /** Only up to this many; beyond it the rule with `above` applies. */
  upTo?: number;
  above?: number;
}>;

const broken: readonly Damage[] = ['split', 'torn', 'broken', 'brittle'];
const lifting: readonly Damage[] = ['worn', 'frayed'];
const cased: readonly Family[] = ['cloth', 'paper'];
const anyFamily: readonly Family[] = ['cloth', 'paper', 'leather', 'wrapper', 'vellum', 'unbound'];
const boarded: readonly Family[] = ['cloth', 'paper', 'leather'];
const all: readonly [number, number] = [1, 3];
const outside: readonly Part[] = ['boards', 'spine', 'covering', 'corners', 'joints', 'edges', 'label'];
const structure: readonly Part[] = ['boards', 'joints', 'hinges', 'spine', 'covering', 'corners'];

const rules: readonly Rule[] = [
  // Making safe and clean.
  ...rows(outside, ['dirty'], anyFamily, [[all, ['surface clean']]]),
  ...rows(['leaves', 'plates', 'endpapers', 'text block', 'hinges'], ['dirty'], anyFamily, [
    [[1, 1], ['surface clean']],
  ]),
  ...rows(['leaves', 'text block'], ['dirty'], anyFamily, [[[2, 3], ['clean leaves']]]),
  ...rows(['plates', 'endpapers', 'hinges'], ['dirty'], anyFamily, [[[2, 3], ['surface clean']]]),
  {
    parts: outside,
    damages: ['stained'],
    severity: all,
    families: anyFamily,
    operations: ['surface clean'],
    remark: 'Stains in a covering stay: what would lift them would lift the colour too.',
  },
  left(outside, ['faded'], 'Fading cannot be undone; keep the book from light.'),
  left(
    ['leaves', 'plates', 'endpapers', 'text block', 'edges'],
    ['foxed', 'stained', 'faded'],
    'Foxing and stains in paper are left: washing and bleaching belong to a conservator.',
  ),

  // Joints and hinges of a case.
  ...rows(['joints', 'hinges'], ['loose', 'failed adhesive'], cased, [
    [[1, 2], ['tighten hinges']],
    [[3, 3], ['recase']],
  ]),
  ...rows(
    ['joints'],
    lifting,
    boarded,
    [
      [[1, 1], ['set down covering']],
      [[2, 2], ['tissue joint']],
    ],
    [1, 1, 2],
  ),
  ...rows(['joints'], lifting, ['cloth'], [[[3, 3], ['rejoint']]], [1, 1, 2]),
  ...rows(
    ['joints'],
    broken,
    ['cloth'],
    [
      [[1, 1], ['tissue joint']],
      [[2, 2], ['rejoint']],
      [[3, 3], ['reback in cloth']],
    ],
    [1, 1, 2],
  ),
  ...rows(['joints'], lifting, ['paper', 'leather'], [[[3, 3], ['tissue joint']]], [1, 2, 2]),
  ...rows(
    ['joints'],
    broken,
    ['paper'],
    [
      [[1, 2], ['tissue joint']],
      [[3, 3], ['reback in paper']],
    ],
    [1, 1, 2],
  ),
  ...rows(['joints'], ['detached', 'missing'], ['cloth'], [[all, ['reback in cloth']]]),
  ...rows(['joints'], ['detached', 'missing'], ['paper'], [[all, ['reback in paper']]]),
  ...rows(['hinges'], [...broken, ...lifting], cased, [
    [[1, 1], ['mend hinge']],
    [
      [2, 2],
      ['tighten hinges', 'mend hinge'],
    ],
    [[3, 3], ['recase']],
  ]),
  ...rows(['hinges'], ['detached', 'missing'], cased, [[all, ['recase']]]),

  // Joints and hinges of a book whose boards are laced on.
  ...rows(['joints'], ['loose', 'failed adhesive'], ['leather'], [[all, ['tissue joint']]], [1, 1, 2]),
  ...rows(
    ['joints'],
    broken,
    ['leather'],
    [
      [[1, 2], ['tissue joint']],
      [
        [3, 3],
        ['board reattachment', 'tissue joint'],
      ],
    ],
    [1, 1, 2],
  ),
  ...rows(['joints'], ['detached'], ['leather'], [[all, ['board reattachment', 'tissue joint']]], [1, 1, 2]),
  ...rows(['joints'], ['missing'], ['leather'], [[all, ['reback in leather']]]),
  ...rows(
    ['hinges'],
    ['loose', 'failed adhesive', ...broken, ...lifting],
    ['leather'],
    [
      [[1, 2], ['mend hinge']],
      [[3, 3], ['board reattachment']],
    ],
    [1, 1, 2],
  ),
  ...rows(['hinges'], ['detached', 'missing'], ['leather'], [[all, ['board reattachment']]], [1, 1, 2]),

  // Boards.
  ...rows(['boards'], ['loose', 'failed adhesive'], cased, [
    [[1, 2], ['tighten hinges']],
    [[3, 3], ['recase']],
  ]),
  ...rows(['boards'], ['detached'], ['cloth'], [[all, ['reback in cloth']]]),
  ...rows(['boards'], ['detached'], ['paper'], [[all, ['reback in paper']]]),
  ...rows(
    ['boards'],
    ['loose', 'failed adhesive'],
    ['leather'],
    [
      [[1, 2], ['mend hinge']],
      [[3, 3], ['board reattachment']],
    ],
    [1, 1, 2],
  ),
  ...rows(['boards'], ['detached'], ['leather'], [[all, ['board reattachment', 'tissue joint']]], [1, 1, 2]),
  ...rows(['boards'], broken, boarded, [[all, ['repair boards']]], [1, 1, 2]),
  ...rows(['boards'], lifting, boarded, [[all, ['set down covering']]]),
  ...rows(['boards'], ['cockled'], [...boarded, 'vellum'], [[all, ['press']]]),
  ...rows(['boards'], ['missing'], cased, [[all, ['make case']]]),
  {
    parts: ['boards', 'covering'],
    damages: ['missing'],
    severity: [2, 3],
    families: ['leather'],
    operations: ['phase box'],
    remark: 'A leather book without boards or covering wants rebinding: boxed here, and a binder asked.',
  },

  // Spine, corners, covering.
  ...rows(['spine'], [...broken, ...lifting, 'loose', 'failed adhesive', 'old repair'], boarded, [
    [[1, 1], ['set down covering']],
  ]),
  ...rows(
    ['spine'],
    [...broken, ...lifting, 'loose', 'failed adhesive', 'old repair'],
    ['cloth'],
    [[[2, 3], ['reback in cloth']]],
  ),
  ...rows(
    ['spine'],
    [...broken, ...lifting, 'loose', 'failed adhesive', 'old repair'],
    ['paper'],
    [[[2, 3], ['reback in paper']]],
  ),
  ...rows(
    ['spine'],
    [...broken, ...lifting, 'loose', 'failed adhesive', 'old repair'],
    ['leather'],
    [[[2, 3], ['reback in leather']]],
  ),
  // Cloth that will not lift without breaking is left on its board, and the new cloth goes over (Indiana University Libraries, outside method).
  ...rows(['spine', 'joints'], ['brittle'], ['cloth'], [[[2, 3], ['reback over cloth']]]),
  ...rows(['spine'], ['detached', 'missing'], ['cloth'], [[all, ['reback in cloth']]]),
  ...rows(['spine'], ['detached', 'missing'], ['paper'], [[all, ['reback in paper']]]),
  ...rows(['spine'], ['detached', 'missing'], ['leather'], [[all, ['reback in leather']]]),
  ...rows(['spine'], ['missing'], boarded, [[all, ['new label']]]),
  ...rows(['corners'], lifting, boarded, [[[1, 1], ['set down covering']]]),
  ...rows(['corners'], lifting, boarded, [[[2, 3], ['corner repair']]], [2, 2, 4]),
  ...rows(
    ['corners'],
    [...broken, 'loose', 'missing', 'detached', 'failed adhesive'],
    boarded,
    [[all, ['corner repair']]],
    [1, 2, 4],
  ),
  ...rows(['covering'], [...broken, ...lifting, 'loose', 'failed adhesive', 'detached', 'cockled'], boarded, [
    [all, ['set down covering']],
  ]),
  ...rows(['covering'], ['missing'], cased, [
    [
      [1, 2],
      ['set down covering', 'polyester jacket'],
    ],
    [[3, 3], ['make case']],
  ]),
  ...rows(['covering'], ['missing'], ['leather'], [[[1, 1], ['set down covering']]]),
  ...rows(['covering', 'spine', 'boards', 'joints', 'corners', 'label'], ['red rot'], boarded, [
    [all, ['consolidate red rot', 'polyester jacket']],
  ]),
  ...rows(
    [...structure],
    [...broken, ...lifting, 'loose', 'detached', 'failed adhesive', 'missing', 'old repair'],
    ['wrapper'],
    [[all, ['repair wrapper']]],
  ),
  {
    parts: structure,
    damages: [...broken, ...lifting, 'loose', 'detached', 'failed adhesive', 'missing', 'cockled'],
    severity: all,
    families: ['vellum'],
    operations: ['phase box'],
    remark: 'Vellum moves with every change of damp: its structure is for a conservator; boxed until then.',
  },
  ...rows(['label'], ['loose', 'detached', 'failed adhesive', ...broken, ...lifting], anyFamily, [
    [all, ['set down label']],
  ]),
  ...rows(['label'], ['missing'], boarded, [[all, ['new label']]]),
  {
    parts: ['headbands'],
    damages: ['loose', 'detached', 'missing', 'failed adhesive', ...broken, ...lifting],
    severity: all,
    families: boarded,
    operations: ['headbands'],
    onlyWithOpenBack: true,
    remark: 'Headbands are left: the back would have to be opened for them alone.',
  },

  // Sewing, linings and block.
  {
    parts: ['sewing'],
    damages: ['loose', ...broken, ...lifting],
    severity: [1, 1],
    families: boarded,
    operations: ['reinforce sewing'],
    onlyWithOpenBack: true,
    remark: 'Slightly slack sewing is left while the back is not opened.',
  },
  ...rows(['sewing'], ['loose', 'failed adhesive', ...lifting], boarded, [
    [
      [2, 2],
      ['reinforce sewing', 'reline'],
    ],
  ]),
  ...rows(['sewing'], broken, boarded, [
    [
      [2, 2],
      ['reinforce sewing', 'reattach section', 'reline'],
    ],
  ]),
  ...rows(['sewing'], ['loose', 'failed adhesive', ...lifting, ...broken], anyFamily, [[[3, 3], ['resew']]]),
  ...rows(['sewing'], ['detached', 'missing'], anyFamily, [[all, ['resew']]]),
  ...rows(
    ['sewing'],
    ['loose', 'failed adhesive', ...lifting, ...broken],
    ['wrapper', 'unbound', 'vellum'],
    [[[1, 2], ['reattach section']]],
  ),
  {
    parts: ['spine lining'],
    damages: ['loose', 'failed adhesive', 'detached', 'missing', 'cockled', 'old repair', ...broken, ...lifting],
    severity: [1, 1],
    families: boarded,
    operations: ['reline'],
    onlyWithOpenBack: true,
    remark: 'Slightly failed linings are left while the back is not opened.',
  },
  ...rows(
    ['spine lining'],
    ['loose', 'failed adhesive', 'detached', 'missing', 'cockled', 'old repair', ...broken, ...lifting],
    boarded,
    [[[2, 3], ['reline']]],
  ),
  // Block sewn and fit, case good, attachment broken: recase (Indiana University Libraries).
  ...rows(['text block'], ['loose', 'failed adhesive'], cased, [
    [[1, 1], ['tighten hinges']],
    [[2, 3], ['recase']],
  ]),
  ...rows(['text block'], ['detached'], cased, [[all, ['recase']]]),
  ...rows(
    ['text block'],
    ['loose', 'failed adhesive', 'detached'],
    ['leather'],
    [
      [[1, 1], ['mend hinge']],
      [
        [2, 3],
        ['reline', 'board reattachment'],
      ],
    ],
    [1, 1, 2],
  ),
  ...rows(['text block'], ['loose', 'failed adhesive', 'detached'], ['wrapper'], [[all, ['repair wrapper']]]),
  ...rows(['text block'], ['split', 'torn', 'broken'], anyFamily, [[[1, 2], ['reattach section']]]),
  ...rows(['text block'], ['split', 'torn', 'broken'], anyFamily, [[[3, 3], ['resew']]]),
  ...rows(['text block'], ['cockled'], anyFamily, [[all, ['press']]]),

  // Leaves, plates, endpapers.
  ...rows(['leaves'], ['torn', 'split', 'broken', 'frayed', 'worn'], anyFamily, [[all, ['mend tears']]], [1, 3, 8]),
  {
    parts: ['leaves'],
    damages: ['loose', 'detached', 'failed adhesive'],
    severity: all,
    families: anyFamily,
    operations: ['tip in'],
    counts: [1, 3, 8],
    upTo: 10,
  },
  {
    parts: ['leaves'],
    damages: ['loose', 'detached', 'failed adhesive'],
    severity: all,
    families: anyFamily,
    operations: ['resew'],
    counts: [1, 3, 8],
    above: 10,
    remark: 'More than ten loose leaves are not tipped in: the block is taken down, guarded and sewn again.',
  },
  {
    parts: ['leaves'],
    damages: ['missing'],
    severity: all,
    families: anyFamily,
    operations: ['facsimile leaf', 'tip in'],
    counts: [1, 5, 9],
    upTo: 4,
  },
  {
    parts: ['leaves', 'plates', 'text block'],
    damages: ['missing'],
    severity: all,
    families: anyFamily,
    operations: [],
    counts: [1, 5, 9],
    remark: 'Leaves or plates are missing: note which in the record before anything else.',
  },
  ...rows(['leaves', 'plates', 'endpapers'], ['cockled'], anyFamily, [[[1, 1], ['press']]]),
  ...rows(['leaves', 'plates', 'endpapers'], ['cockled'], anyFamily, [[[2, 3], ['flatten leaves']]], [4, 10, 40]),
  ...rows(
    ['leaves', 'plates'],
    ['old repair'],
    anyFamily,
    [
      [
        [2, 3],
        ['remove old repair', 'mend tears'],
      ],
    ],
    [1, 2, 5],
  ),
  {
    parts: ['leaves', 'text block', 'plates'],
    damages: ['brittle'],
    severity: all,
    families: anyFamily,
    operations: ['phase box'],
    remark: 'Brittle paper breaks beside every mend: no tipping in, folding or sewing; a box and gentle hands.',
  },
  ...rows(['plates'], ['loose', 'detached', 'failed adhesive'], anyFamily, [[all, ['hinge in a plate']]], [1, 2, 4]),
  ...rows(['plates'], ['torn', 'split', 'broken', 'frayed', 'worn'], anyFamily, [[all, ['mend tears']]], [1, 2, 4]),
  ...rows(
    ['endpapers'],
    ['torn', 'split', 'broken', 'frayed', 'worn'],
    anyFamily,
    [[[1, 2], ['mend tears']]],
    [1, 2, 2],
  ),
  ...rows(['endpapers'], ['torn', 'split', 'broken', 'frayed', 'worn', 'brittle'], boarded, [
    [[3, 3], ['new endpapers']],
  ]),
  ...rows(['endpapers'], ['missing'], boarded, [[all, ['new endpapers']]]),
  ...rows(['endpapers'], ['loose', 'detached'], anyFamily, [[all, ['tip in']]], [1, 1, 2]),
  ...rows(['endpapers'], ['failed adhesive'], cased, [[all, ['tighten hinges']]]),
  left(
    ['clasps'],
    ['loose', 'detached', 'broken', 'missing', 'worn', 'split'],
    'Clasps: keep every piece in the envelope; metalwork goes to someone who does it.',
  ),

  // Mould and insects wherever they are.
  ...rows(
    [
      ...outside,
      'hinges',
      'leaves',
      'plates',
      'endpapers',
      'text block',
      'spine lining',
      'sewing',
      'headbands',
      'clasps',
    ],
    ['mould'],
    anyFamily,
    [[all, ['isolate for mould', 'clean off mould']]],
  ),
  ...rows(
    [
      ...outside,
      'hinges',
      'leaves',
      'plates',
      'endpapers',
      'text block',
      'spine lining',
      'sewing',
      'headbands',
      'clasps',
    ],
    ['insects'],
    anyFamily,
    [[all, ['isolate for insects', 'surface clean']]],
  ),
];

/** Rules that a finding meets in a book of this family. */
export function rulesFor(finding: Finding, family: Family): readonly Rule[] {
  return index.get(key(finding.part, finding.damage, finding.severity, family)) ?? none;
}

/** How many there are: as counted, or what the severity usually means. */
export function countOf(rule: Rule, finding: Finding): number {
  if (finding.count !== null && finding.count > 0) return Math.min(5000, Math.round(finding.count));
  return rule.counts?.[finding.severity - 1] ?? 1;
}

const none: readonly Rule[] = [];
const index: ReadonlyMap<string, readonly Rule[]> = indexed();

function indexed(): ReadonlyMap<string, readonly Rule[]> {
  const map = new Map<string, Rule[]>();
  for (const rule of rules)
    for (const part of rule.parts)
      for (const damage of rule.damages)
        for (const family of rule.families)
          for (let severity = rule.severity[0]; severity <= rule.severity[1]; severity++) {
            const at = key(part, damage, severity, family);
            const list = map.get(at);
            if (list) list.push(rule);
            else map.set(at, [rule]);
          }
  return map;
}

function key(part: Part, damage: Damage, severity: number, family: Family): string {
  return `${part}|${damage}|${severity}|${family}`;
}

function rows(
  parts: readonly Part[],
  damages: readonly Damage[],
  families: readonly Family[],
  degrees: readonly (readonly [readonly [number, number], readonly string[]])[],
  counts?: readonly [number, number, number],
): readonly Rule[] {
  return degrees.map(([severity, operations]) => ({
    parts,
    damages,
    severity,
    families,
    operations,
    ...(counts ? { counts } : {}),
  }));
}

function left(parts: readonly Part[], damages: readonly Damage[], remark: string): Rule {
  return { parts, damages, severity: all, families: anyFamily, operations: [], remark };
}

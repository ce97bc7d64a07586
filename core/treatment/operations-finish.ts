/** The last hour of a book: colour, labels, cleaning, and what it goes home in. */
import type { Operation } from './operation.ts';
import { amount, bladeCaution, gloves, piece, plain, shearCaution, starch } from './operations-basic.ts';

const coverDone = [
  'rejoint',
  'reback in cloth',
  'reback over cloth',
  'reback in paper',
  'reback in leather',
  'board reattachment',
  'corner repair',
  'make case',
];
const allButLast = [...coverDone, 'recase', 'lay down spine', 'tissue joint', 'tighten hinges', 'mend hinge', 'tip in'];

export const finishOperations: readonly Operation[] = [
  {
    ...plain,
    id: 'tone',
    name: 'Tone what is new',
    level: 'improver',
    minutes: { low: 10, likely: 20, high: 40 },
    wait: { minutes: 60, held: 'air', what: 'colour drying' },
    needs: [amount('toning colour', 'ml', 2, [], '2 mL')],
    after: coverDone,
    keeps: 'the old cloth untouched: only new material is toned',
  },
  {
    ...plain,
    id: 'set down label',
    name: 'Set down a lifting label',
    level: 'newcomer',
    minutes: { low: 4, likely: 6, high: 12 },
    wait: { minutes: 60, held: 'weights', what: 'label drying' },
    needs: [starch({ mm: 40 }, { mm: 30 })],
    after: [...coverDone, 'lay down spine', 'tone', 'surface clean', 'consolidate red rot'],
    keeps: 'the label',
  },
  {
    ...plain,
    id: 'new label',
    name: 'Print and attach a new label',
    level: 'newcomer',
    minutes: { low: 10, likely: 18, high: 35 },
    wait: { minutes: 60, held: 'weights', what: 'label drying' },
    needs: [
      piece('label paper', 'label', { mm: 45 }, { back: 0.9 }, '45 mm high, nine tenths of the back'),
      starch({ mm: 45 }, { back: 0.9 }),
    ],
    after: [...coverDone, 'lay down spine', 'tone', 'surface clean'],
  },
  {
    ...plain,
    id: 'final clean',
    name: 'Final clean and check',
    level: 'newcomer',
    minutes: { low: 5, likely: 8, high: 12 },
    needs: [amount('eraser crumbs', 'g', 2, [], '2 g')],
    after: [...allButLast, 'tone', 'new label', 'set down label', 'reattach section', 'hinge in a plate', 'press'],
  },
  {
    ...plain,
    id: 'polyester jacket',
    name: 'Fold a polyester jacket',
    level: 'newcomer',
    minutes: { low: 10, likely: 14, high: 22 },
    grows: { by: 'boardHeight', from: 200, fixedShare: 0.7 },
    needs: [
      piece(
        'polyester film',
        'jacket',
        { boardHeight: 1, mm: 2 },
        { caseWidth: 1, boardWidth: 0.8, board: 2 },
        'round the case and both fore-edges, two fifths of a board folded in at each side',
        { grain: 'any' },
      ),
    ],
    cautions: [bladeCaution],
    after: [...allButLast, 'final clean', 'consolidate red rot', 'repair wrapper'],
    keeps: 'the covering as it is',
  },
  {
    ...plain,
    id: 'phase box',
    name: 'Make a box of folded board',
    level: 'improver',
    minutes: { low: 20, likely: 35, high: 60 },
    grows: { by: 'boardHeight', from: 200, fixedShare: 0.7 },
    tools: ['board shear'],
    needs: [
      piece(
        'box board',
        'long flap',
        { boardHeight: 3, blockThickness: 2, board: 4 },
        { boardWidth: 1, mm: 4 },
        'three heights and two thicknesses by the width and 4 mm',
        { grain: 'any' },
      ),
      piece(
        'box board',
        'cross flap',
        { boardHeight: 1, mm: 4 },
        { boardWidth: 3, blockThickness: 2, board: 4 },
        'the height and 4 mm by three widths and two thicknesses',
        { grain: 'any' },
      ),
    ],
    cautions: [shearCaution],
    after: [...allButLast, 'final clean', 'polyester jacket', 'isolate for mould', 'clean off mould', 'surface clean'],
    keeps: 'the book as it is',
  },
  {
    ...plain,
    id: 'bag and label',
    name: 'Bag, label and set apart',
    level: 'newcomer',
    minutes: { low: 3, likely: 5, high: 8 },
    needs: [gloves],
    cautions: [
      {
        danger: 'pigment',
        sentence:
          'Gloves on, on a surface that wipes clean; into a sealed polyethylene bag with a tag; no eating, hands washed. Not lent, not given to a learner.',
      },
    ],
    source:
      'Poison Book Project, Winterthur Museum and University of Delaware (gist from memory); minutes common practice, no source',
    keeps: 'everything',
  },
];

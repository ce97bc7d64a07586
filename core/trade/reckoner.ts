import { compareCopy, type Gathering, listGatherings, parseCollation, readStatement } from '../book/collation.ts';
import { printCollation } from '../book/collation-notation.ts';
import { checkPlates, partsIssued } from '../book/plates.ts';
import { ok, refuse } from '../result.ts';
import {
  adhesiveForArea,
  batchFromWater,
  batchOf,
  dilute,
  mixByParts,
  publishedPressTimes,
  recipes,
  reversibility,
  startingCoverage,
  strengthLeft,
} from './adhesive.ts';
import { type Calculation, calculation, choice, count, type Figure, length, number, text } from './calculation.ts';
import { quote } from './quotation.ts';
import { coverCalculations } from './reckonings-covers.ts';
import { makingCalculations } from './reckonings-making.ts';
import { paperCalculations } from './reckonings-paper.ts';
import { surveyCalculations } from './reckonings-survey.ts';

/** Every calculation of the Reckoner, in the order it offers them. */

const adhesiveCalculations: readonly Calculation[] = [
  calculation({
    id: 'batch',
    title: 'Batch of paste or methylcellulose',
    group: 'Adhesives',
    about: 'Dry stuff and water after the Library of Congress 2015, Harvard 1995 and V&A recipes.',
    fields: {
      recipe: choice('Recipe', Object.keys(recipes) as (keyof typeof recipes)[], 'wheat paste'),
      given: choice('Given', ['water, mL', 'finished, g'], 'water, mL'),
      amount: number('How much', '200'),
    },
    reckon({ recipe, given, amount }) {
      const batch = given === 'water, mL' ? batchFromWater(recipe, amount) : batchOf(recipe, amount);
      if (!batch.ok) return refuse(batch.refusal.sentence, 'amount');
      const { dryG, waterMl, recipe: full, working, cautions } = batch.value;
      return ok({
        figures: [
          { label: 'Dry', value: dryG, unit: 'g' },
          { label: 'Water', value: waterMl, unit: 'mL' },
          ...full.steps.map((step, place) => ({ label: `Step ${place + 1}`, text: step })),
          { label: 'Undone by', text: full.undoneBy },
        ],
        working,
        remarks: [full.keeping, ...cautions],
      });
    },
  }),
  calculation({
    id: 'dilute',
    title: 'Thinning',
    group: 'Adhesives',
    about: 'Stock and water for a weaker solution; strength times volume stays, volumes taken to add.',
    fields: {
      stock: number('Strength of the stock', '5', '%'),
      strength: number('Strength wanted', '2', '%'),
      volume: number('Volume wanted', '100', 'mL'),
    },
    reckon({ stock, strength, volume }) {
      const mixed = dilute(stock, strength, volume);
      if (!mixed.ok) return mixed;
      const { stockMl, waterMl, working } = mixed.value;
      return ok({
        figures: [
          { label: 'Stock', value: stockMl, unit: 'mL' },
          { label: 'Water', value: waterMl, unit: 'mL' },
        ],
        working,
      });
    },
  }),
  calculation({
    id: 'thinned',
    title: 'Water added',
    group: 'Adhesives',
    about: 'What is left of the strength when water is stirred in; volumes taken to add.',
    fields: {
      strength: number('Strength', '14.25', '%'),
      water: number('Parts of water to one', '1', '', 'an eighth is 1/8'),
    },
    reckon({ strength, water }) {
      const left = strengthLeft(water);
      if (!left.ok) return left;
      if (!(strength > 0 && strength <= 100))
        return refuse('A strength is more than nothing and at most 100 per cent.', 'strength');
      return ok({
        figures: [
          { label: 'Strength left', value: strength * left.value, unit: '%' },
          { label: 'Share of the former', value: 100 * left.value, unit: '%' },
        ],
      });
    },
  }),
  calculation({
    id: 'mix',
    title: 'Mix of two adhesives',
    group: 'Adhesives',
    about: 'Weights for a mix by parts; mix only what the day needs (J. C. Thompson, 1997).',
    fields: {
      first: number('Parts of the first', '3'),
      second: number('Parts of the second', '1'),
      total: number('Altogether', '200', 'g'),
    },
    reckon({ first, second, total }) {
      const mixed = mixByParts({ first, second }, total);
      if (!mixed.ok) return refuse(mixed.refusal.sentence, mixed.refusal.field === 'total' ? 'total' : 'first');
      return ok({
        figures: [
          { label: 'First', value: mixed.value.first, unit: 'g' },
          { label: 'Second', value: mixed.value.second, unit: 'g' },
        ],
        remarks: ['A mix is as hard to undo as its harder part.'],
      });
    },
  }),
  calculation({
    id: 'coverage',
    title: 'Adhesive for an area',
    group: 'Adhesives',
    about: 'Wet adhesive for a surface. No published coverage was found: start here, then use what your bench uses up.',
    fields: {
      adhesive: choice('Adhesive', Object.keys(startingCoverage) as (keyof typeof startingCoverage)[], 'paste'),
      height: length('High', '230 mm'),
      width: length('Wide', '330 mm'),
      count: count('How many', '1'),
      lost: number('Lost in brush and pot', '25', '%'),
    },
    reckon({ adhesive, height, width, count: pieces, lost }) {
      const needed = adhesiveForArea(height * width * pieces, startingCoverage[adhesive], lost / 100);
      if (!needed.ok) return refuse(needed.refusal.sentence, needed.refusal.field === 'lost' ? 'lost' : 'height');
      const known = reversibility[adhesive];
      return ok({
        figures: [
          { label: 'Adhesive', value: needed.value.grams, unit: 'g' },
          ...(known === undefined ? [] : [{ label: 'Undone by', text: known.undoneBy }]),
        ],
        working: needed.value.working,
      });
    },
  }),
  calculation({
    id: 'press-times',
    title: 'Pressing and drying',
    group: 'Adhesives',
    about: 'What books say of pressing and drying, with who says it; most say only till dry.',
    fields: {
      job: choice(
        'Job',
        publishedPressTimes.map((one) => one.job),
        'tipped leaf under weight',
      ),
    },
    reckon({ job }) {
      const found = publishedPressTimes.filter((one) => one.job === job);
      const figures = found.flatMap(({ minutes: [least, most], source }): Figure[] => [
        { label: 'At least', value: least, unit: 'min' },
        most === undefined ? { label: 'At most', text: 'till dry' } : { label: 'At most', value: most, unit: 'min' },
        { label: 'Source', text: source },
      ]);
      return ok({ figures });
    },
  }),
];

const collationCalculations: readonly Calculation[] = [
  calculation({
    id: 'collation',
    title: 'Collation',
    group: 'Collation',
    about:
      'Leaves, pages and sheets of a formula in the notation of Bowers and Gaskell, held against its paging and against your copy.',
    fields: {
      statement: text('Formula and paging', '8°: A4 B-O8; pp. [8] 1-205 [3]', 'paging after a semicolon'),
      copy: text('Your copy', '', 'the same for the copy in hand, without the format'),
      letters: choice('Letters', ['23, without J, U and W', '26'], '23, without J, U and W'),
    },
    reckon({ statement, copy, letters }) {
      const alphabet = letters === '26' ? 26 : 23;
      const read = readStatement(statement, alphabet);
      if (!read.ok) return refuse(read.refusal.sentence, 'statement');
      const { totals, collation, disagreements } = read.value;
      const figures: Figure[] = [
        { label: 'Leaves', value: totals.leaves, unit: '' },
        { label: 'Pages', value: totals.pages, unit: '' },
        { label: 'Gatherings', value: totals.gatherings, unit: '' },
        ...(totals.sheets === undefined ? [] : [{ label: 'Sheets', value: totals.sheets, unit: '' as const }]),
        { label: 'Formula', text: printCollation(collation) },
        { label: 'Made up of', text: gatheringsInWords(listGatherings(collation)) },
      ];
      if (copy.trim() === '') return ok({ figures, remarks: [...disagreements, ...totals.remarks] });
      const inHand = parseCollation(copy, alphabet);
      if (!inHand.ok) return refuse(inHand.refusal.sentence, 'copy');
      const { missing, extra } = compareCopy(collation, inHand.value);
      figures.push(
        { label: 'Missing', text: missing.join(', ') || 'nothing' },
        { label: 'Besides', text: extra.join(', ') || 'nothing' },
      );
      return ok({ figures, remarks: [...disagreements, ...totals.remarks] });
    },
  }),
  calculation({
    id: 'plates',
    title: 'Plates',
    group: 'Collation',
    about: 'Which plates of the list a copy lacks or has twice.',
    fields: {
      called: text('Called for', 'frontispiece, 1-12, map'),
      found: text('In the copy', 'frontispiece, 1-8, 10-12'),
    },
    reckon({ called, found }) {
      const checked = checkPlates(called, found);
      if (!checked.ok) return refuse(checked.refusal.sentence, 'called');
      const { missing, doubled, unlisted } = checked.value;
      return ok({
        figures: [
          { label: 'Missing', text: missing.join(', ') || 'none' },
          { label: 'Twice', text: doubled.join(', ') || 'none' },
          { label: 'Not in the list', text: unlisted.join(', ') || 'none' },
        ],
      });
    },
  }),
  calculation({
    id: 'parts',
    title: 'Issued in numbers',
    group: 'Collation',
    about:
      'How many numbers a book came out in and how many plates they brought; 32 pages and two plates were usual, no source.',
    fields: {
      pages: count('Pages', '624'),
      number: count('Pages to a number', '32'),
      plates: count('Plates to a number', '2'),
    },
    reckon({ pages, number: each, plates }) {
      const parts = partsIssued(pages, each, plates);
      if (!parts.ok) return parts;
      return ok({
        figures: [
          { label: 'Numbers', value: parts.value.numbers, unit: '' },
          { label: 'Pages of the last', value: parts.value.lastPages, unit: '' },
          { label: 'Plates', value: parts.value.plates, unit: '' },
        ],
      });
    },
  }),
];

const moneyCalculations: readonly Calculation[] = [
  calculation({
    id: 'quotation',
    title: 'Quotation',
    group: 'Money',
    about: 'Minutes at a rate, materials and overhead, as a range rounded no finer than anyone can know it.',
    fields: {
      least: number('Least time', '90', 'min'),
      likely: number('Likely time', '120', 'min'),
      most: number('Most time', '180', 'min'),
      rate: number('Rate an hour', '30'),
      materials: number('Materials, least', '4'),
      'materials most': number('Materials, most', '8'),
      overhead: number('Overhead', '20', '%'),
    },
    reckon(values) {
      const offer = quote({
        minutes: { least: values.least, likely: values.likely, most: values.most },
        ratePerHourMinor: Math.round(values.rate * 100),
        materialsMinor: { least: Math.round(values.materials * 100), most: Math.round(values['materials most'] * 100) },
        overheadShare: values.overhead / 100,
      });
      if (!offer.ok) return offer.refusal.field === 'minutes' ? refuse(offer.refusal.sentence, 'likely') : offer;
      const { fromMinor, likelyMinor, toMinor, stepMinor, working } = offer.value;
      return ok({
        figures: [
          { label: 'From', text: money(fromMinor) },
          { label: 'Likely', text: money(likelyMinor) },
          { label: 'To', text: money(toMinor) },
        ],
        working: working.map(({ label, formula, minor }) => ({
          label,
          formula,
          value: minor / 100,
          unit: '' as const,
        })),
        remarks: [`Rounded to ${money(stepMinor)}.`],
      });
    },
  }),
];

export const calculations: readonly Calculation[] = [
  ...coverCalculations,
  ...paperCalculations,
  ...makingCalculations,
  ...adhesiveCalculations,
  ...collationCalculations,
  ...surveyCalculations,
  ...moneyCalculations,
];

/** "A of 4, B to O of 8": neighbours of as many leaves together. */
function gatheringsInWords(gatherings: readonly Gathering[]): string {
  const runs: { first: string; last: string; leaves: number }[] = [];
  for (const { name, leaves } of gatherings) {
    const run = runs.at(-1);
    if (run !== undefined && run.leaves === leaves.length) run.last = name;
    else runs.push({ first: name, last: name, leaves: leaves.length });
  }
  const shown = runs
    .slice(0, mostRuns)
    .map(({ first, last, leaves }) => `${first}${first === last ? '' : ` to ${last}`} of ${leaves}`);
  return [...shown, ...(runs.length > mostRuns ? [`and ${runs.length - mostRuns} more runs`] : [])].join(', ');
}

/** A book made of so many different runs is rather looked up in its formula. */
const mostRuns = 60;

function money(minor: number): string {
  return (minor / 100).toFixed(2);
}

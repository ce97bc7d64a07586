import { compareCopy, type Gathering, listGatherings, parseCollation, readStatement } from '../book/collation.ts';
import { printCollation } from '../book/collation-notation.ts';
import { checkPlates, partsIssued } from '../book/plates.ts';
import { ok, refuse } from '../result.ts';
import { type Calculation, calculation, choice, count, type Figure, number, text } from './calculation.ts';
import { quote } from './quotation.ts';
import { adhesiveCalculations } from './reckonings-adhesives.ts';
import { coverCalculations } from './reckonings-covers.ts';
import { makingCalculations } from './reckonings-making.ts';
import { paperCalculations } from './reckonings-paper.ts';
import { surveyCalculations } from './reckonings-survey.ts';

/** Every calculation of the Reckoner, in the order it offers them. */

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

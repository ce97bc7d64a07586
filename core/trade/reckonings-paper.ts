import { readFormat } from '../book/format-names.ts';
import {
  divisionsOf,
  foldedLeaf,
  formatByHeight,
  grainAfterFolding,
  isoSize,
  recogniseFormat,
  sheetSize,
  traditions,
  trimmedLeaf,
} from '../book/formats.ts';
import { ok, refuse } from '../result.ts';
import { leavesFromThickness, textBlockThickness } from './back.ts';
import {
  basisWeightFromGsm,
  boardByNumber,
  boardForBook,
  caliperFromBulk,
  dampGrowth,
  greyboardThickness,
  gsmFromBasisWeight,
  type PaperCategory,
  paperOrBoard,
  sheetMass,
} from './board.ts';
import {
  type Calculation,
  calculation,
  choice,
  count,
  type Figure,
  length,
  number,
  optionalCount,
  text,
} from './calculation.ts';
import { drawSheet } from './drawing-sheets.ts';

/** Calculations on formats, paper and board. */

const inMm = (label: string, value: number): Figure => ({ label, value, unit: 'mm' });
const categories: readonly PaperCategory[] = ['bond', 'text', 'cover', 'index', 'bristol', 'tag'];

export const paperCalculations: readonly Calculation[] = [
  calculation({
    id: 'format',
    title: 'Format to size',
    group: 'Paper and board',
    about:
      'The leaf of a named sheet folded, whole and with its edges cut; British sheets after Cockerell 1901, American 1854, French 1902, the German Kanzlei sheet.',
    fields: {
      format: text('Format', 'crown 8vo', 'such as demy 8vo, royal 4to, in-12 raisin'),
      tradition: choice('Tradition', traditions, 'british'),
      trim: length('Trim', '3.2 mm', '3.2 mm (1/8 in) at head, tail and fore-edge'),
    },
    reckon({ format, tradition, trim }) {
      const read = readFormat(format);
      if (!read.ok) return read;
      if (read.value.sheet === undefined)
        return refuse('Name the sheet too, such as crown or royal; a fold alone has no size.', 'format');
      const sheet = sheetSize(read.value.sheet, tradition);
      if (!sheet.ok) return refuse(sheet.refusal.sentence, 'tradition');
      const whole = foldedLeaf(sheet.value, read.value.fold);
      const divided = divisionsOf(read.value.fold);
      const cut = trimmedLeaf(whole, trim);
      if (!cut.ok) return cut;
      return ok({
        figures: [
          inMm('Leaf, high', whole.heightMm),
          inMm('Leaf, wide', whole.widthMm),
          inMm('Cut, high', cut.value.heightMm),
          inMm('Cut, wide', cut.value.widthMm),
          { label: 'Grain, if long in the sheet', text: grainAfterFolding(read.value.fold, 'long') },
          { label: 'Chain lines', text: grainAfterFolding(read.value.fold, 'short') },
        ],
        working: [
          {
            label: 'Sheet, long',
            formula: 'as the tradition has it',
            value: sheet.value.longMm,
            unit: 'mm',
            source: sheet.value.source,
          },
          {
            label: 'Sheet, short',
            formula: 'as the tradition has it',
            value: sheet.value.shortMm,
            unit: 'mm',
            source: sheet.value.source,
          },
        ],
        drawing: drawSheet(sheet.value, divided.long, divided.short),
      });
    },
  }),
  calculation({
    id: 'recognise',
    title: 'Size to format',
    group: 'Paper and board',
    about:
      'Formats within five per cent of what was measured; size alone proves no format. By height alone after the scale of the American Library Association.',
    fields: {
      height: length('Height', '190 mm'),
      width: length('Width', '127 mm'),
      measured: choice('Measured', ['boards', 'trimmed leaf', 'untrimmed leaf'], 'boards'),
    },
    reckon({ height, width, measured }) {
      const found = recogniseFormat({ heightMm: height, widthMm: width }, measured, traditions);
      if (!found.ok) return found;
      const byHeight = formatByHeight(height);
      if (!byHeight.ok) return byHeight;
      return ok({
        figures: [
          ...found.value.slice(0, 6).map(({ fold, sheet, tradition, off }) => ({
            label: `${sheet} ${fold}, ${tradition}`,
            text: `within ${(100 * off).toFixed(1)} per cent`,
          })),
          { label: 'By height alone', text: byHeight.value.name },
        ],
        remarks: found.value.length === 0 ? ['No folded sheet known here is like this size.'] : [],
      });
    },
  }),
  calculation({
    id: 'iso-size',
    title: 'A, B and C sizes',
    group: 'Paper and board',
    about: 'Trimmed sizes of ISO 216 and ISO 269.',
    fields: { size: text('Size', 'A4', 'A0 to C10'), grammage: number('Weight of the paper', '80', 'g/m²') },
    reckon({ size, grammage }) {
      const read = isoSize(size);
      if (!read.ok) return read;
      const mass = sheetMass(grammage, read.value.shortMm, read.value.longMm);
      if (!mass.ok) return refuse(mass.refusal.sentence, 'grammage');
      return ok({
        figures: [
          inMm('Short side', read.value.shortMm),
          inMm('Long side', read.value.longMm),
          { label: 'One sheet weighs', value: mass.value, unit: 'g' },
        ],
      });
    },
  }),
  calculation({
    id: 'basis-weight',
    title: 'Weight of paper',
    group: 'Paper and board',
    about: 'American basis weight in grams a square metre and back: pounds of 500 sheets of the category’s basic size.',
    fields: {
      given: choice('Given in', ['lb', 'g/m²'], 'lb'),
      weight: number('Weight', '60'),
      category: choice('Category', categories, 'text'),
    },
    reckon({ given, weight, category }) {
      const answer = given === 'lb' ? gsmFromBasisWeight(weight, category) : basisWeightFromGsm(weight, category);
      if (!answer.ok) return refuse(answer.refusal.sentence, 'weight');
      return ok({
        figures: [
          given === 'lb'
            ? { label: 'Weight', value: answer.value, unit: 'g/m²' }
            : { label: 'Weight', text: `${answer.value.toFixed(1)} lb ${category}` },
        ],
      });
    },
  }),
  calculation({
    id: 'block-thickness',
    title: 'Thickness of a block',
    group: 'Paper and board',
    about: 'Leaves times caliper, the caliper from weight and bulk (ISO 534); a nipped pile, without swell.',
    fields: {
      pages: count('Pages', '320'),
      grammage: number('Weight of the paper', '80', 'g/m²'),
      bulk: number('Bulk', '1.25', 'cm³/g', '0.9 coated to 1.8 bulky'),
    },
    reckon({ pages, grammage, bulk }) {
      const caliper = caliperFromBulk(grammage, bulk);
      if (!caliper.ok) return caliper;
      const block = textBlockThickness(Math.ceil(pages / 2), caliper.value);
      if (!block.ok) return refuse(block.refusal.sentence, 'pages');
      return ok({
        figures: [inMm('Block', block.value.thicknessMm), inMm('One leaf', caliper.value)],
        working: [
          { label: 'One leaf', formula: 'weight × bulk ÷ 1000', value: caliper.value, unit: 'mm', source: 'ISO 534' },
          ...block.value.working,
        ],
      });
    },
  }),
  calculation({
    id: 'leaves',
    title: 'Leaves of an unpaged block',
    group: 'Paper and board',
    about: 'How many leaves a block has by its thickness, give or take a tenth in the caliper.',
    fields: {
      thickness: length('Thickness', '16 mm', 'nipped'),
      caliper: length('One leaf', '0.1 mm', 'ten leaves measured and divided'),
    },
    reckon({ thickness, caliper }) {
      const leaves = leavesFromThickness(thickness, caliper);
      if (!leaves.ok) return leaves;
      const { leaves: likely, from, to } = leaves.value;
      return ok({
        figures: [
          { label: 'Leaves', value: likely, unit: '' },
          { label: 'Between', text: `${from} and ${to}` },
        ],
      });
    },
  }),
  calculation({
    id: 'greyboard',
    title: 'Greyboard by weight',
    group: 'Paper and board',
    about:
      'Thickness from g/m² by a seller’s formula, good from 600 to 1700 g/m² only; paper or board after Roberts & Etherington 1982.',
    fields: { grammage: number('Weight', '1290', 'g/m²') },
    reckon({ grammage }) {
      const thick = greyboardThickness(grammage);
      if (!thick.ok) return thick;
      return ok({ figures: [inMm('Thickness', thick.value), { label: 'Called', text: paperOrBoard(thick.value) }] });
    },
  }),
  calculation({
    id: 'board',
    title: 'Board for a book',
    group: 'Paper and board',
    about:
      'Which board suits the size, common practice without a source; and what an old board number weighed (Bailey 1916).',
    fields: {
      height: length('Height', '190 mm'),
      thickness: length('Thickness', '30 mm'),
      number: optionalCount('Old board number', 'sheets of 20 × 30 in to a bundle of 50 lb'),
    },
    reckon({ height, thickness, number: old }) {
      if (!(height > 0 && thickness > 0))
        return refuse('A book needs a height and a thickness.', height > 0 ? 'thickness' : 'height');
      const chosen = boardForBook({ heightMm: height, widthMm: height, thicknessMm: thickness });
      const figures: Figure[] = [
        inMm('Board', chosen.thicknessMm),
        { label: 'Sold as', text: `.${String(chosen.thou).padStart(3, '0')} in` },
      ];
      if (old === undefined) return ok({ figures, remarks: chosen.remarks });
      const numbered = boardByNumber(old);
      if (!numbered.ok) return numbered;
      const { gsm, thicknessMm, working } = numbered.value;
      return ok({
        figures: [
          ...figures,
          { label: `No. ${old}`, value: gsm, unit: 'g/m²' },
          inMm(`No. ${old}, about`, thicknessMm),
        ],
        working,
        remarks: chosen.remarks,
      });
    },
  }),
  calculation({
    id: 'damp-growth',
    title: 'Growth of damp paper',
    group: 'Paper and board',
    about: 'How far uncoated paper may grow when pasted; figures of one trade page that states no humidity.',
    fields: {
      length: length('Length', '210 mm'),
      direction: choice('Measured', ['across the grain', 'along the grain'], 'across the grain'),
    },
    reckon(values) {
      const growth = dampGrowth(values.length, values.direction);
      return growth.ok
        ? ok({ figures: [inMm('At least', growth.value.fromMm), inMm('At most', growth.value.toMm)] })
        : growth;
    },
  }),
];
